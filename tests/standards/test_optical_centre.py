"""The place slightly above the centre, against printed rules and worked examples."""

from fractions import Fraction

import pytest

from labkit.geometry.box import Edges
from labkit.geometry.layout import lay_out, place
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import rasterize
from labkit.geometry.trim import cut_for_equal_borders

SHEET = find_sheet("13x19in")


def test_white_is_divided_two_to_three():
    """H. L. Gage, Applied Design for Printers (United Typothetae of America, 1920), Fig. 9–10: two
    parts of white above, three below. 12 × 8 in on 13 × 19 in upright: 4.4 in over, 6.6 in under."""
    layout = lay_out((3600, 2400), SHEET, width=inches(12), at="optical")
    assert layout.borders.top == length("4.4in")
    assert layout.borders.bottom == length("6.6in")
    assert layout.borders.top / layout.borders.bottom == Fraction(2, 3)


def test_a_single_line_by_the_ten_hundredths_rule():
    """US Army subcourse SS0525, p. 1-14: the optical centre of 15 in lies 1.5 in, a tenth of the
    length, above the true centre. For a line of no height the white divides 2 : 3 there too."""
    _, top = place((inches(10), ZERO), sheet_of(inches(12), inches(15)), "optical")
    assert top == inches(Fraction(15, 2)) - length("1.5in")


def test_the_ten_hundredths_rule_does_not_do_for_a_picture():
    """12 × 16 in on 13 × 19 in, lifted by 1.9 in, would stick out 0.4 in; the white divided does not. Our own
    arithmetic."""
    centred = lay_out((3, 4), SHEET, width=inches(12)).borders.top
    assert centred - SHEET.height / 10 == -length("0.4in")
    assert lay_out((3, 4), SHEET, width=inches(12), at="optical").borders.top == length("1.2in")


def test_a_line_lies_near_the_balance_line_of_a4():
    """The balance line b·h / (b + h), after Hallberg (Wikipedia, “Optische Mitte”): 123.0 mm from
    the top of A4, 174.0 from its foot. Ours is 118.8; both are above the middle, 148.5."""
    a4 = find_sheet("A4")
    balance = a4.width.mm * a4.height.mm / (a4.width.mm + a4.height.mm)
    assert float(balance) == pytest.approx(123.018, abs=5e-4)
    _, top = place((a4.width, ZERO), a4, "optical")
    assert top.mm == Fraction("118.8")
    assert top.mm < balance < a4.height.mm / 2
    assert balance - top.mm < a4.height.mm / 50


def test_never_more_white_above_than_below():
    """Duke University, “Balance Around the Optical Center”, and the rules above."""
    for eighths in range(1, 19 * 8):
        height = inches(Fraction(eighths, 8))
        _, top = place((inches(1), height), SHEET, "optical")
        assert ZERO < top < SHEET.height - height - top


# The counter's own check: common practice, no source


def test_a_square_of_12_in_with_three_even_borders():
    """On 13 × 19 in upright: guides at 1/2 and 12 1/2 in, one cut 13 in from the top leaves equal
    borders all round. Common practice, no source."""
    layout = lay_out((3600, 3600), SHEET, width=inches(12), at="even-three")
    half = length("1/2in")
    assert layout.guides == ((half, length("12 1/2in")), (half, length("12 1/2in")))
    assert layout.borders == Edges(half, half, half, length("6 1/2in"))
    cut = cut_for_equal_borders(layout.picture)
    assert cut == inches(13)
    assert cut - layout.picture.bottom == half
    raster = rasterize(layout, (3600, 3600), working_ppi=300)
    assert raster.sheet == (3900, 5700)
    assert raster.picture == PixelBox(150, 150, 3600, 3600)


def test_a_square_of_12_in_centred():
    """3 1/2 in above and below. Common practice, no source."""
    layout = lay_out((3600, 3600), SHEET, width=inches(12), at="centre")
    assert layout.borders == Edges(
        *(length(side) for side in ("1/2in", "3 1/2in", "1/2in", "3 1/2in"))
    )
    raster = rasterize(layout, (3600, 3600), working_ppi=300)
    assert raster.picture == PixelBox(150, 1050, 3600, 3600)


def test_a_square_of_12_in_slightly_above_the_centre():
    """7 in to spare: 2.8 in above, 4.2 in below. Our own arithmetic with Gage's rule."""
    layout = lay_out((3600, 3600), SHEET, width=inches(12), at="optical")
    assert layout.borders.top == length("2.8in")
    assert layout.borders.bottom == length("4.2in")
