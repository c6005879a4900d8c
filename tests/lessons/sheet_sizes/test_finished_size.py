"""A print in a frame, a sheet in pixels: what is read off, with figures worked by hand."""

from fractions import Fraction

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.lessons.sheet_sizes.finished_size import frame, rounding
from labkit.teaching.pictures import demo_pictures
from tests.lessons.hands import choose, slide


def test_what_a_lip_hides():
    """A frame for 10 × 8 in, its lip 1/4 in: 9 1/2 × 7 1/2 in, 71.25 of 80 in²."""
    assert frame().readings == {
        "frame, and print": "10 × 8 in (254 × 203.2 mm)",
        "sight size": "9 1/2 × 7 1/2 in (241.3 × 190.5 mm)",
        "covered on each side": "1/4 in (6.4 mm)",
        "covered of the print": "11%",
        "border printed": "1 in (25.4 mm)",
        "border seen": "3/4 in (19.1 mm)",
    }


def test_a_frame_lies_the_way_the_picture_does():
    app = frame(demo_pictures()[1].file)
    assert app.readings["sight size"] == "7 1/2 × 9 1/2 in (190.5 × 241.3 mm)"
    choose(app, "frame", find_sheet("11x14in"))
    slide(app, "lip", length("3/8in"))
    assert app.readings["sight size"] == "10 1/4 × 13 1/4 in (260.4 × 336.6 mm)"


def test_a_border_narrower_than_the_lip_costs_picture():
    app = frame()
    slide(app, "border", length("1/4in"))
    assert app.readings["border seen"] == "0 in (0 mm)"
    slide(app, "border", length("0in"))
    assert app.readings["border seen"] == "none: 1/4 in of picture is covered"
    assert app.sentence.endswith("Of a border of 0 in (0 mm), 0 in (0 mm) is seen.")


def test_rounding_a4():
    """210 ÷ 25.4 × 300 = 2480.31, 297: 3507.87; half a pixel is 25.4 ÷ 600 mm, a 47th of 2 mm;
    8.27 × 300 = 2481."""
    app = rounding()
    assert app.readings == {
        "sheet": "210 × 297 mm (8.27 × 11.69 in)",
        "exactly": "2480.31 × 3507.87 pixels",
        "in whole pixels": "2480 × 3508",
        "its width typed as 8.27 in": "2481 pixels",
        "half a pixel": "0.0017 in (0.042 mm)",
        "the cutter may be off by": "2 mm (0.079 in)",
        "that is, in half pixels": "47",
    }
    # 2480 ÷ 300 in are 209.973 mm
    assert "ends 0.001 in (0.027 mm) short of the edge" in app.sentence


@pytest.mark.parametrize(
    ("sheet", "tolerance"),
    [("A0", "3 mm (0.12 in)"), ("A1", "2 mm (0.079 in)"), ("A6", "1.5 mm (0.059 in)")],
)
def test_the_tolerance_is_that_of_the_width(sheet, tolerance):
    """841, 594 and 105 mm."""
    app = rounding()
    choose(app, "units", "mm")
    choose(app, "sheet", find_sheet(sheet))
    assert app.readings["the cutter may be off by"] == tolerance


def test_a_coarse_file_ends_farther_off():
    app = rounding()
    app.controls["ppi"]._slider.value = 20
    assert app.readings["in whole pixels"] == "165 × 234"  # 165.35 and 233.86
    assert app.readings["that is, in half pixels"] == "3"  # 2 mm in halves of 1.27
    assert app.state.off.inches == Fraction(165, 20) - Fraction(2100, 254)


def test_half_a_pixel_is_a_tenth_of_the_tolerance_at_64_ppi():
    """25.4 ÷ 2 ÷ 64 = 0.198 mm."""
    app = rounding()
    app.controls["ppi"]._slider.value = 64
    assert app.readings["that is, in half pixels"] == "10"


@pytest.mark.parametrize(
    ("make", "change"),
    [
        (frame, lambda app: slide(app, "lip", length("1/2in"))),
        (frame, lambda app: slide(app, "border", length("2in"))),
        (frame, lambda app: choose(app, "frame", find_sheet("16x20in").turned())),
        (rounding, lambda app: setattr(app.controls["ppi"]._slider, "value", 72)),
        (rounding, lambda app: choose(app, "sheet", find_sheet("A3"))),
    ],
)
def test_every_control_changes_sentence_drawing_and_figures(make, change):
    app = make()
    before = app.sentence, app.still, app.readings
    change(app)
    for one, other in zip(before, (app.sentence, app.still, app.readings), strict=True):
        assert one != other


@pytest.mark.parametrize("make", [frame, rounding])
def test_millimetres_come_first_where_asked(make):
    app = make()
    choose(app, "units", "mm")
    assert " mm (" in next(iter(app.readings.values()))
