"""The crop window on the whole picture: where it stands, what is veiled, what is named."""

from fractions import Fraction

import pytest

from labkit.drawing.crop import Lip, draw_crop
from labkit.geometry.length import inches
from labkit.geometry.proportion import WHOLE, Crop, Part, fill
from tests.drawing.drawn import Drawn

WIDE = (4500, 3000)
BOAT = Part("the boat & mast", (Fraction(2, 10), Fraction(3, 10), Fraction(5, 10), Fraction(8, 10)))
UPRIGHT = fill(WIDE, inches(8), inches(10))


def drawn(crop=UPRIGHT, shape=WIDE, **options):
    given = {"prefix": "crop", "title": "Cropped", "words": "A window.", "across": 1} | options
    return Drawn(draw_crop(shape, crop, **given), "crop")


def test_the_whole_picture_keeps_its_shape_and_fits():
    for shape in (WIDE, (3000, 4500), (1000, 1000), (9000, 1000)):
        left, top, wide, high = drawn(WHOLE, shape).box("whole-frame")
        assert wide / high == pytest.approx(shape[0] / shape[1], abs=1e-3)
        assert left >= 16
        assert left + wide <= 640 - 16
        assert left + wide / 2 == pytest.approx(320, abs=0.01)
        assert top + high < drawn(WHOLE, shape).size[1]


def test_the_window_stands_where_the_crop_is():
    """4 : 5 of 3 : 2 is 8/15 of the width and all of the height, from 7/30 on."""
    left, top, wide, high = (made := drawn()).box("whole-frame")
    window = made.box("window")
    assert window == pytest.approx((left + wide * 7 / 30, top, wide * 8 / 15, high), abs=0.02)


def test_it_can_be_dragged_in_the_unit_asked_for():
    made = drawn(across=15)
    scale, origin = (float(made.root.get(f"data-{name}")) for name in ("unit-scale", "origin-x"))
    left, _, wide, _ = made.box("whole-frame")
    assert scale * 15 == pytest.approx(wide, abs=0.01)
    assert origin == pytest.approx(left, abs=0.01)
    held = [each for each in made.root.iter() if each.get("data-drag")]
    assert len(held) == 1
    assert made.by_id["window"] in list(held[0])


def test_what_is_lost_is_a_bar_and_two_figures():
    made = drawn()
    assert made.box("kept")[2] == pytest.approx(608 * 8 / 15, abs=0.01)
    assert made.texts[-2:] == ["53% kept", "47% cropped away"]
    assert drawn(WHOLE).texts[-2:] == ["100% kept", "0% cropped away"]


def test_a_part_that_is_to_stay_is_outlined_and_named():
    made = drawn(keep=BOAT)
    left, top, wide, high = made.box("whole-frame")
    expected = left + wide * 0.2, top + high * 0.3, wide * 0.3, high * 0.5
    assert made.box("keep") == pytest.approx(expected, abs=0.02)
    assert "the boat & mast" in made.texts
    assert "keep" not in drawn().by_id


def test_what_a_lip_covers_is_hatched_inside_the_window():
    made = drawn(lip=Lip(Fraction(1, 50), Fraction(1, 40)))
    _, _, wide, high = made.box("whole-frame")
    outer, inner = made.box("window"), made.box("seen")
    assert inner[0] - outer[0] == pytest.approx(wide / 50, abs=0.02)
    assert inner[1] - outer[1] == pytest.approx(high / 40, abs=0.02)
    assert outer[2] - inner[2] == pytest.approx(wide / 25, abs=0.02)
    assert "seen" not in drawn().by_id


def test_it_waits_for_the_photo():
    made = drawn(Crop(width=Fraction(1, 2)))
    assert made.by_id["whole-photo"].get("href") is None
    assert (made.title, made.words) == ("Cropped", "A window.")


def test_the_same_drawing_every_time():
    assert drawn(keep=BOAT).svg == drawn(keep=BOAT).svg
