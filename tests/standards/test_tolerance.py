"""How far ISO-trimmed paper may be off: ISO 216, quoted second-hand by four sources; that exactly
150 and 600 mm take the smaller figure is from memory."""

from fractions import Fraction

import pytest

from labkit.geometry.length import Length, millimetres
from labkit.geometry.paper import find_sheet
from labkit.geometry.stock import iso_tolerance


@pytest.mark.parametrize(
    ("side", "allowed"),
    [(37, "1.5"), (150, "1.5"), (151, 2), (210, 2), (600, 2), (601, 3), (1189, 3)],
)
def test_tolerance_by_the_length_of_the_side(side, allowed):
    assert iso_tolerance(millimetres(side)).mm == Fraction(allowed)


def test_half_a_pixel_is_a_47th_of_what_the_cutter_of_a4_is_allowed():
    half = Length(Fraction(1, 600))  # at 300 ppi
    assert float(half.mm) == pytest.approx(0.042, abs=0.0005)
    a4 = find_sheet("A4")
    for side in (a4.width, a4.height):
        assert round(iso_tolerance(side) / half) == 47


def test_jis_b_is_three_per_cent_larger_than_iso_b():
    # √(1.5 / √2) = 1.0299: JIS B0 is 1.5 m², ISO B0 √2 m². Rounding to millimetres moves the fourth digit.
    for number in range(6):
        ours, theirs = find_sheet(f"JIS B{number}"), find_sheet(f"B{number}")
        assert float(ours.height / theirs.height) == pytest.approx((1.5 / 2**0.5) ** 0.5, abs=0.004)
