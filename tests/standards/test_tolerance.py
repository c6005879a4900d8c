"""How far ISO-trimmed paper may be off.

ISO 216 itself was not seen: its figures stand in “Formáty papíru” at studiofrog.cz, and others agree. That
exactly 150 and 600 mm take the smaller figure is from memory.
"""

from fractions import Fraction

import pytest

from labkit.geometry.length import Length, millimetres
from labkit.geometry.paper import find_sheet, iso_tolerance


@pytest.mark.parametrize(
    ("side", "allowed"),
    [(37, "1.5"), (150, "1.5"), (151, 2), (210, 2), (600, 2), (601, 3), (1189, 3)],
)
def test_tolerance_by_the_length_of_the_side(side, allowed):
    """studiofrog.cz, “Formáty papíru”: 1.5 mm up to 150 mm, 2 mm from 150 to 600 mm, 3 mm over 600 mm."""
    assert iso_tolerance(millimetres(side)).mm == Fraction(allowed)


def test_half_a_pixel_is_a_47th_of_what_the_cutter_of_a4_is_allowed():
    """Our own arithmetic with the figures above."""
    half = Length(Fraction(1, 600))  # at 300 ppi
    assert float(half.mm) == pytest.approx(0.042, abs=0.0005)
    a4 = find_sheet("A4")
    for side in (a4.width, a4.height):
        assert round(iso_tolerance(side) / half) == 47
