"""The shapes and shares that lesson 03 and its notes state.

Our own arithmetic on the sizes of papers.csv, but for those that name a source.
"""

from fractions import Fraction
from math import sqrt

import papersizes
import pytest

from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import equal_border, fill, ratio_inside, ratio_text, series
from labkit.lessons.aspect_ratio.shapes import CAMERAS, FRAMES, SHAPES, SHEETS, chart_rows

TOLD = {name: ratio for name, ratio, _ in chart_rows()}


def long_to_short(name: str) -> Fraction:
    sheet = find_sheet(name)
    return max(sheet.width, sheet.height) / min(sheet.width, sheet.height)


@pytest.mark.parametrize("name", [*FRAMES, *SHEETS])
def test_sheets_and_frames_stand_at_the_ratio_of_their_own_sides(name):
    """Sides as in papers.csv, whose standards test_papers.py checks."""
    assert long_to_short(name) in TOLD.values()


def test_the_a_series_is_the_root_of_two_to_a_millimetre():
    """ISO 216: √2; A4 by papersizes, 210 × 297 mm."""
    paper = papersizes.A4
    wide, high = sorted(float(side) for side in (paper.width, paper.height))
    assert float(long_to_short("A4")) == pytest.approx(high / wide, abs=1e-3)
    assert float(long_to_short("A3")) == pytest.approx(sqrt(2), abs=1 / 297)


def test_cameras_and_phones():
    """Common practice, no source; 35 mm film is 36 × 24 mm."""
    assert [ratio for _, ratio in CAMERAS] == [1, Fraction(4, 3), Fraction(36, 24), Fraction(16, 9)]


@pytest.mark.parametrize(("told", "ratio"), SHAPES)
def test_every_shape_in_the_menus_is_called_by_its_figures(told, ratio):
    assert told.startswith(ratio_text(ratio))
    if "×" in told:
        wide, high = told.split(", as ")[1].removesuffix(" in").split(" × ")
        assert ratio == Fraction(int(high), int(wide))
    elif "letter" in told or "A3" in told:
        assert ratio == long_to_short(told.split(", as ")[1])


def lost(picture: Fraction, wide: int, high: int) -> float:
    shape = picture.numerator, picture.denominator
    return float(fill(shape, inches(wide), inches(high)).lost)


@pytest.mark.parametrize(
    ("picture", "wide", "high", "told"),
    [
        (Fraction(3, 2), 10, 8, 0.167),  # one sixth
        (Fraction(3, 2), 1, 1, 0.333),
        (Fraction(3, 2), 4, 5, 0.467),
        (Fraction(4, 3), 7, 5, 0.048),
        (Fraction(4, 3), 14, 11, 0.045),
        (Fraction(3, 2), 12, 9, 0.111),
    ],
)
def test_the_shares_that_are_told_as_lost(picture, wide, high, told):
    """Worked by hand: less long than the picture, 1 − shape ÷ picture; longer, 1 − picture ÷ shape."""
    shape = Fraction(wide, high)
    by_hand = 1 - min(shape / picture, picture / shape)
    assert lost(picture, wide, high) == pytest.approx(float(by_hand))
    assert float(by_hand) == pytest.approx(told, abs=5e-4)


def test_half_an_inch_round_3_to_2_on_19_by_13():
    assert equal_border(Fraction(3, 2), inches(19), inches(13)) == length("1/2in")
    assert ratio_inside(inches(19), inches(13), length("1/2in")) == Fraction(18, 12)


def test_areas_at_equal_widths_on_11_by_14_with_an_inch():
    sizes = series([Fraction(3, 2), Fraction(3, 4), Fraction(1)], inches(9), inches(12), "width")
    assert [wide.inches * high.inches for wide, high in sizes] == [54, 108, 81]


def test_the_crop_at_that_puts_the_boat_in_the_middle():
    """Its middle at (0.1911 + 0.48) ÷ 2 of the width, the window 8/15 of it."""
    boat, window = (Fraction("0.1911") + Fraction("0.48")) / 2, Fraction(8, 15)
    crop = fill((4500, 3000), inches(8), inches(10), (Fraction("0.148"), Fraction(1, 2)))
    assert crop.width == window
    assert float(crop.left + window / 2) == pytest.approx(float(boat), abs=3e-4)
