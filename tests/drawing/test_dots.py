import re
from fractions import Fraction
from math import pi

import pytest

from labkit.drawing.dots import (
    DOTS_WINDOW,
    SCREEN_WINDOW,
    dots_a_pixel,
    draw_dots,
    draw_screen,
    tones,
)
from tests.drawing.drawn import Drawn


def dots(dpi=2400, ppi=300, dark=50, units="in"):
    return Drawn(draw_dots(dpi, ppi, dark, units=units, prefix="dots"), "dots")


def screen(lpi=150, ppi=Fraction(300), units="in"):
    return Drawn(draw_screen(lpi, ppi, units=units, prefix="screen"), "screen")


def inked(drawn) -> int:
    return drawn.by_id["ink"].get("d").count("M")


def lines_down(drawn) -> list[float]:
    """Where the grid's lines stand, across the drawing."""
    return [float(at) for at in re.findall(r"M([\d.]+) 44v400", drawn.by_id["pixels"].get("d"))]


@pytest.mark.parametrize(
    ("dpi", "ppi", "along", "steps"),
    [
        (2400, 300, 8, 65),
        (1200, 300, 4, 17),
        (600, 300, 2, 5),
        (2400, 2400, 1, 2),
        (600, 2400, Fraction(1, 4), 2),
        (2400, 250, Fraction(48, 5), 82),  # 9.6 dots along it: 9 × 9 whole ones
    ],
)
def test_dots_and_tones_of_a_pixel(dpi, ppi, along, steps):
    """n dots can be inked in n + 1 ways that look different: none, one, … all."""
    assert dots_a_pixel(dpi, ppi) == along
    assert tones(dpi, ppi) == steps


@pytest.mark.parametrize(("dpi", "across"), [(600, 6), (1200, 12), (2400, 24)])
def test_the_window_holds_so_many_dots(dpi, across):
    """1/100 in."""
    assert DOTS_WINDOW.inches * dpi == across
    assert inked(dots(dpi, 300, 100)) == across**2
    assert inked(dots(dpi, 300, 0)) == 0


@pytest.mark.parametrize("dark", [5, 25, 40, 50, 75, 95])
def test_as_many_are_inked_as_the_tone_asks(dark):
    assert inked(dots(dark=dark)) / 576 == pytest.approx(dark / 100, abs=1 / 64)


@pytest.mark.parametrize(("ppi", "lines"), [(100, 0), (300, 2), (600, 5), (250, 2), (2400, 23)])
def test_the_grid_is_the_pictures_pixels(ppi, lines):
    stops = lines_down(dots(ppi=ppi))
    assert len(stops) == lines
    assert stops == pytest.approx([16 + 400 * 100 / ppi * (n + 1) for n in range(lines)], abs=0.01)


def test_what_is_drawn_is_told():
    made = dots(1200, 300, 25)
    assert made.title == "1200 dpi printer, 300 ppi picture"
    assert "12 × 12 dots of a 1200 dpi printer, 25% of them inked" in made.words
    assert "A pixel is 4 dots wide: 17 tones." in made.words
    assert {"4 dots", "17 tones"} <= set(made.texts)


def test_both_units():
    assert dots().words.startswith("1/100 in (0.25 mm) of paper")
    assert dots(units="mm").words.startswith("0.25 mm (1/100 in) of paper")
    assert screen().words.startswith("1/30 in (0.85 mm) of paper")


@pytest.mark.parametrize(("lpi", "rows"), [(60, 2), (150, 5), (200, 7)])
def test_a_screen_has_its_lines(lpi, rows):
    made = screen(lpi, Fraction(2 * lpi))
    assert len(made.by_id["ink"]) == rows**2  # the last row is cut off where it is not whole
    assert SCREEN_WINDOW.inches * lpi <= rows


def test_halftone_dots_grow_from_light_to_dark():
    made = screen(150)
    radii = [float(dot.get("r")) for dot in made.by_id["ink"]][:5]
    assert radii == sorted(radii)
    cell = 400 / 5
    tones = [pi * radius**2 / cell**2 for radius in radii]
    assert tones == pytest.approx([0.16, 0.28, 0.40, 0.52, 0.64], abs=0.01)
    assert all(radius < cell / 2 for radius in radii)


def test_two_pixels_to_a_line():
    assert len(lines_down(screen(150, Fraction(300)))) == 9
    assert len(lines_down(screen(150, Fraction(225)))) == 7
    assert "2 to a line" in screen().words
    assert "1.5 to a line" in screen(150, Fraction(225)).words


def test_the_same_drawing_every_time():
    assert dots().svg == dots().svg
    assert screen().svg == screen().svg
