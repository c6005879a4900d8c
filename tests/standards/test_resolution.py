"""What an eye asks for, and what pixels give: against tables and worked examples in print."""

import math
from fractions import Fraction

import pytest

from labkit.drawing.beside import CARD
from labkit.drawing.dots import dots_a_pixel
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize
from labkit.geometry.resolution import (
    ARC_MINUTE,
    distance_for_eye,
    ppi_at,
    ppi_for_eye,
    ppi_for_screen,
    rgb_bytes,
)


def test_an_arc_minute():
    """The gap that an eye of acuity 1.0 sees: ISO 8596, clauses 3 and 4."""
    assert pytest.approx(2.90888e-4, abs=5e-10) == ARC_MINUTE


@pytest.mark.parametrize(
    ("distance", "ppi"),
    [
        ("20cm", 436.6), ("25cm", 349.3), ("30cm", 291.1), ("40cm", 218.3), ("50cm", 174.6),
        ("60cm", 145.5), ("100cm", 87.3), ("150cm", 58.2), ("200cm", 43.7), ("300cm", 29.1),
    ],
)  # fmt: skip
def test_ppi_by_distance(distance, ppi):
    """ppi = 1 / (d · tan 1′). Arithmetic, worked outside this project."""
    assert ppi_for_eye(length(distance)) == pytest.approx(ppi, abs=0.05)


@pytest.mark.parametrize(
    ("centimetres", "printed"),
    [(20, 436), (30, 291), (40, 218), (50, 175), (100, 87), (300, 29), (500, 18), (1000, 9)],
)
def test_ppi_by_distance_as_a_published_table_has_it(centimetres, printed):
    """Table at moin.meidokon.net, in whole numbers that are cut here and rounded up there."""
    assert abs(ppi_for_eye(length(f"{centimetres}cm")) - printed) < 1


@pytest.mark.parametrize(
    ("distance", "printed", "within"), [("11.46in", 300, 0.15), ("24in", 143, 0.5)]
)
def test_ppi_by_distance_in_inches(distance, printed, within):
    """pixelcraft.photo.blog, “visual perception”: 11.46 in for 300 ppi, 143 ppi at 24 in."""
    assert ppi_for_eye(length(distance)) == pytest.approx(printed, abs=within)


def test_the_constants_in_print():
    """3438 over inches (pixelcraft.photo.blog, “visual perception”), 8732 over centimetres
    (moin.meidokon.net)."""
    assert ppi_for_eye(inches(1)) == pytest.approx(3437.75, abs=0.005)
    assert ppi_for_eye(length("1cm")) == pytest.approx(8731.88, abs=0.005)


def test_a_textbook_eye():
    """NCERT Exemplar Physics XII (wave optics; the answer seen at second hand): an eye that resolves
    5.8e-4 rad needs 300 dpi at 14.5 cm, worked with a rounded pitch; ±0.2 cm."""
    acuity = math.tan(ARC_MINUTE) / 5.8e-4
    assert ppi_for_eye(length("14.3cm"), acuity) > 300 > ppi_for_eye(length("14.7cm"), acuity)


@pytest.mark.parametrize(("acuity", "times"), [(2.0, 2), (0.5, 0.5)])
def test_ppi_follows_acuity(acuity, times):
    """20/10 sees twice, 20/40 half as fine: acuity is one over the gap in arc-minutes (ISO 8596, 4)."""
    usual = ppi_for_eye(length("30cm"))
    assert ppi_for_eye(length("30cm"), acuity) == pytest.approx(times * usual)


def test_a_worked_enlargement():
    """US patent 6904180, background: 500 × 750 pixels at 4 × 6 in on a 250 dpi device are enlarged
    twice."""
    needed = 250 / ppi_at(500, inches(4))
    assert needed == 2
    layout = lay_out((500, 750), find_sheet("8x10in"), width=inches(4), height=inches(6))
    raster = rasterize(layout, (500, 750), working_ppi=300, resample=250)
    assert (raster.picture.width, raster.picture.height) == (1000, 1500)
    assert raster.own_ppi == 125


@pytest.mark.parametrize(
    ("per_metre", "ppi"), [(11811, 299.9994), (2835, 72.009), (10000, 254), (23622, 599.9988)]
)
def test_pixels_per_metre(per_metre, ppi):
    """PNG 1.2 §4.2.4.2: an inch is 0.0254 m, so 11811 a metre are 299.9994 ppi; 10000 are 254 exactly."""
    found = ppi_at(per_metre, length("100cm"))
    assert found == Fraction(per_metre * 254, 10000)
    assert float(found) == pytest.approx(ppi, abs=5e-5)


def test_where_three_hundred_is_enough():
    """pixelcraft.photo.blog, “visual perception”: 300 ppi at 11.46 in."""
    assert float(distance_for_eye(300)) == pytest.approx(11.46, abs=0.005)


def test_where_three_hundred_comes_from():
    """“Industry standard of 300ppi and 150lpi” (book 9780132907224, ch. “Imagery and graphics”; two
    pixels to a line is common practice)."""
    assert ppi_for_screen(150) == 300


def test_a_large_sheet_unpacked():
    """A0 at 300 ppi, 9933 × 14043 pixels: 418.5 MB of 8-bit RGB. Arithmetic, worked outside this
    project."""
    assert rgb_bytes((9933, 14043)) / 1e6 == pytest.approx(418.5, abs=0.05)


def test_a_bank_card():
    """ISO/IEC 7810, ID-1: 85.60 × 53.98 mm (from memory)."""
    assert [float(side.mm) for side in (CARD.width, CARD.height)] == [85.60, 53.98]


@pytest.mark.parametrize("ppi", [144, 160, 180, 240, 288, 360])
def test_even_divisors_of_a_printers_grid(ppi):
    """mail-archive.com, pdml msg145592: these divide 1440; 320 divides 2880 and not 1440."""
    assert dots_a_pixel(1440, ppi).denominator == 1
    assert dots_a_pixel(2880, 320) == 9
    assert dots_a_pixel(1440, 320).denominator == 2
