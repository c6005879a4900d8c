from labkit.drawing.crops import TILE, draw_crops
from labkit.teaching import samples
from tests.drawing.drawn import Drawn

TILES = [(0, "as it was"), (3, "bicubic"), (6, "what was lost")]


def drawn(tiles=TILES, **options):
    given = {"prefix": "crops", "title": "Crops", "words": "Three crops."} | options
    return Drawn(draw_crops(tiles, 7, **given), "crops")


def windows(made) -> list[list[float]]:
    """The part of the strip each shows: left, top, width, height."""
    inner = [each for each in made.root.iter() if each.tag.endswith("}svg")][1:]
    return [[float(part) for part in each.get("viewBox").split()] for each in inner]


def test_each_shows_its_part_of_the_strip():
    assert TILE == samples.TILE
    assert windows(drawn()) == [[0, 0, 200, 200], [600, 0, 200, 200], [1200, 0, 200, 200]]


def test_closer_is_the_middle_of_it():
    assert windows(drawn(closer=4)) == [[75, 75, 50, 50], [675, 75, 50, 50], [1275, 75, 50, 50]]


def test_each_waits_for_the_photo_in_a_place_of_its_own():
    made = drawn()
    places = [made.by_id[f"{number}-photo"] for number in range(3)]
    assert all(place.get("href") is None for place in places)
    assert all(float(place.get("width")) == 7 * TILE for place in places)


def test_pixels_stay_square():
    assert drawn().svg.count("image-rendering:pixelated") == 3


def test_they_are_labelled_and_told():
    made = drawn()
    assert made.texts[-3:] == ["as it was", "bicubic", "what was lost"]
    assert (made.title, made.words) == ("Crops", "Three crops.")


def test_the_same_drawing_every_time():
    assert drawn().svg == drawn().svg
