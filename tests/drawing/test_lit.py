"""Pictures in their light, and swatches: what is drawn is what was asked for."""

from labkit.drawing.lit import Lit, draw_lit
from labkit.drawing.swatches import draw_swatches
from tests.drawing.drawn import Drawn

TILES = [
    Lit(0, "screen", "100"),
    Lit(3, "wall", "57", 0.57, chosen=True),
    Lit(4, "hall", "20", 0.2),
]


def drawn(tiles=TILES, across=2):
    options = {"across": across, "prefix": "lit", "title": "Light", "words": "Three."}
    return Drawn(draw_lit(tiles, 5, (300, 200), **options), "lit")


def every(found, name):
    return [each for each in found.root.iter() if each.tag.endswith(f"}}{name}")]


def test_each_is_dimmed_as_light_by_its_own_share():
    found = drawn()
    for number, light in enumerate(("1.0000", "0.5700", "0.2000")):
        lamp = found.by_id[f"{number}-light"]
        assert lamp.get("color-interpolation-filters") == "linearRGB"
        assert {each.get("slope") for each in lamp.iter() if each.get("slope")} == {light}


def test_they_stand_in_rows_and_show_their_part_of_the_strip():
    found = drawn()
    tops = [found.box(f"{number}-frame")[1] for number in range(3)]
    assert tops[0] == tops[1] < tops[2]
    windows = [each.get("viewBox") for each in every(found, "svg")][1:]
    assert [float(window.split()[0]) for window in windows] == [0, 600, 800]


def test_only_the_chosen_one_is_outlined_and_every_label_stands_there():
    found = drawn()
    assert found.box("chosen") == found.box("1-frame")
    assert "chosen" not in drawn([TILES[0]]).by_id
    assert {"screen", "wall", "hall", "57"} <= set(found.texts)


def test_swatches_have_the_colour_they_name():
    colours = [("red", (255, 0, 0)), ("grey", (1, 2, 3))]
    found = Drawn(draw_swatches(colours, prefix="s", title="Two", words="Two."), "s")
    assert [each.get("fill") for each in every(found, "rect")][-2:] == ["#ff0000", "#010203"]
    assert "1 2 3" in found.texts
