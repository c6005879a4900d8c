"""Sheets in pixels: exact sizes rounded to the nearest pixel, a half upwards.

Our own arithmetic, but for those that name a source.
"""

import papersizes_guide
import pytest

from labkit.geometry.length import inches, millimetres
from labkit.geometry.paper import find_sheet

# Arithmetic: millimetres / 25.4 × ppi. The fractions are those of the exact size at 300 ppi.
A_SERIES = [
    ("A4", (2480.31, 3507.87), (2480, 3508), (2976, 4209)),
    ("A3", (3507.87, 4960.63), (3508, 4961), (4209, 5953)),
    ("A2", (4960.63, 7015.75), (4961, 7016), (5953, 8419)),
    ("A1", (7015.75, 9933.07), (7016, 9933), (8419, 11920)),
    ("A0", (9933.07, 14043.31), (9933, 14043), (11920, 16852)),
]


def pixels(name: str, ppi: int) -> tuple[int, int]:
    sheet = find_sheet(name)
    return sheet.width.pixels(ppi), sheet.height.pixels(ppi)


@pytest.mark.parametrize(("name", "exact", "at_300", "at_360"), A_SERIES)
def test_a_series_by_our_own_arithmetic(name, exact, at_300, at_360):
    sheet = find_sheet(name)
    sides = [float(side.inches * 300) for side in (sheet.width, sheet.height)]
    assert sides == pytest.approx(exact, abs=0.005)
    assert pixels(name, 300) == at_300
    assert pixels(name, 360) == at_360


def test_a4_as_papersizes_guide_says_of_itself():
    """papersizes-guide 1.0.3, module docstring: ``a4.pixels(300)`` is ``(2480, 3508)``."""
    assert "(2480, 3508)" in papersizes_guide.__doc__
    assert pixels("A4", 300) == (2480, 3508) == papersizes_guide.get("A4").pixels(300)


@pytest.mark.parametrize("ppi", [72, 150, 240, 300, 360, 600, 720])
@pytest.mark.parametrize("series", ["A", "B", "RA", "SRA"])
def test_metric_series_as_papersizes_guide_counts_them(series, ppi):
    """It rounds a half to even; at these resolutions none of these sizes is on a half."""
    for number in range(5):
        name = f"{series}{number}"
        assert pixels(name, ppi) == papersizes_guide.get(name).pixels(ppi)


def test_a_photo_size():
    """3.5 × 5 in is 1050 × 1500 at 300 ppi: table in Wikipedia, “Photo print sizes”."""
    assert pixels("3.5x5in", 300) == (1050, 1500)


def test_a0_in_bytes():
    """8 bits, three channels: 418.5 MB. Arithmetic."""
    wide, high = pixels("A0", 300)
    assert wide * high * 3 == pytest.approx(418.5e6, abs=0.05e6)


def test_rounding_is_far_inside_the_tolerance_of_cut_paper():
    """ISO 216 allows ±2 mm from 150 to 600 mm (studiofrog.cz, “Formáty papíru”): about 47 times half
    a pixel at 300 ppi."""
    half_a_pixel = inches(1) / 600
    assert millimetres(2) / half_a_pixel == pytest.approx(47, abs=0.5)
    for side in (find_sheet("A4").width, find_sheet("A4").height):
        assert abs(inches(side.pixels(300)) / 300 - side) <= half_a_pixel
