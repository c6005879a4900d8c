"""Pixels, a printer's dots and a press's lines, each drawn over the other, as SVG."""

from fractions import Fraction
from math import ceil, pi, sqrt

from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.style import INK, MUTED, OKABE_ITO, PAPER
from labkit.geometry.length import Length

_LEFT, _TOP, _SIZE = 16, 44, 400
"""The square that is magnified."""
_ORDER = (
    (0, 32, 8, 40, 2, 34, 10, 42), (48, 16, 56, 24, 50, 18, 58, 26),
    (12, 44, 4, 36, 14, 46, 6, 38), (60, 28, 52, 20, 62, 30, 54, 22),
    (3, 35, 11, 43, 1, 33, 9, 41), (51, 19, 59, 27, 49, 17, 57, 25),
    (15, 47, 7, 39, 13, 45, 5, 37), (63, 31, 55, 23, 61, 29, 53, 21),
)  # fmt: skip
"""In which order dots are inked as a tone darkens, so that they stay spread (Bayer, 1973)."""
_GRID = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="1.75"'
_NOTE = _LEFT + _SIZE + 18

DOTS_WINDOW = Length(Fraction(1, 100))
"""The side of the square of paper on which dots are shown."""
SCREEN_WINDOW = Length(Fraction(1, 30))
"""The side of the square of paper on which a press's screen is shown."""


def dots_a_pixel(dpi: int, ppi: int) -> Fraction:
    """How many of a printer's dots lie along one side of a pixel."""
    return Fraction(dpi, ppi)


def tones(dpi: int, ppi: int) -> int:
    """How many tones a pixel can show with one ink whose dots are there or not: the whole dots in it,
    and none at all; 2 where a pixel is no larger than a dot."""
    return max(1, int(dots_a_pixel(dpi, ppi)) ** 2) + 1


def draw_dots(dpi: int, ppi: int, dark: int, *, units: str, prefix: str) -> str:
    """A square of paper magnified: a printer's dots, ``dark`` per cent of them inked, under the grid of
    a picture's pixels."""
    across = int(DOTS_WINDOW.inches * dpi)
    side = _SIZE / across
    inked = "".join(
        f"M{_LEFT + x * side:.2f} {_TOP + (y + 0.5) * side:.2f}a{side / 2:.2f} {side / 2:.2f} 0 1 0 "
        f"{side:.2f} 0a{side / 2:.2f} {side / 2:.2f} 0 1 0 {-side:.2f} 0"
        for y in range(across)
        for x in range(across)
        if _ORDER[y % 8][x % 8] < dark * 64 / 100
    )
    each = float(dots_a_pixel(dpi, ppi))
    words = (
        f"{_called(DOTS_WINDOW, units)} of paper, magnified: {across} × {across} dots of a {dpi} dpi "
        f"printer, {dark}% of them inked, under the pixels of a {ppi} ppi picture. "
        f"A pixel is {each:.3g} dots wide: {tones(dpi, ppi)} tones."
    )
    notes = (
        text(_NOTE, 70, f"{each:.3g} dots", big=True),
        text(_NOTE, 87, "along one pixel"),
        text(_NOTE, 124, f"{tones(dpi, ppi)} tones", big=True),
        text(_NOTE, 141, "of one ink in one pixel"),
        _sample(180, f'<circle cx="9" cy="7" r="6" fill="{INK}"/>', "a dot of ink"),
        _sample(206, f'<rect width="18" height="14" {_GRID}/>', "a pixel"),
    )
    title = f"{dpi} dpi printer, {ppi} ppi picture"
    ink = f'<path id="{prefix}-ink" d="{inked}" fill="{INK}"/>'
    return _magnified(prefix, title, words, ink, ppi, DOTS_WINDOW, units, notes)


def draw_screen(lpi: int, ppi: Fraction, *, units: str, prefix: str) -> str:
    """A square of paper magnified: the halftone dots of a press, from light on the left to dark on the
    right, under the grid of a picture's pixels."""
    lines = float(SCREEN_WINDOW.inches * lpi)
    cell = _SIZE / lines
    ink = "".join(
        f'<circle cx="{_LEFT + (x + 0.5) * cell:.2f}" cy="{_TOP + (y + 0.5) * cell:.2f}" '
        f'r="{cell * sqrt((0.1 + 0.6 * (x + 0.5) / lines) / pi):.2f}"/>'
        for y in range(ceil(lines))
        for x in range(ceil(lines))
    )
    words = (
        f"{_called(SCREEN_WINDOW, units)} of paper, magnified: a press's screen of {lpi} lines per inch "
        f"under the pixels of a {float(ppi):g} ppi picture, {float(ppi / lpi):g} to a line."
    )
    notes = (
        text(_NOTE, 70, f"{float(ppi / lpi):g} pixels", big=True),
        text(_NOTE, 87, "to a line of the screen"),
        _sample(126, f'<circle cx="9" cy="7" r="6" fill="{INK}"/>', "a halftone dot"),
        _sample(152, f'<rect width="18" height="14" {_GRID}/>', "a pixel"),
    )
    title = f"{lpi} lines per inch, {float(ppi):g} ppi"
    ink = f'<g id="{prefix}-ink" fill="{INK}">{ink}</g>'
    return _magnified(prefix, title, words, ink, ppi, SCREEN_WINDOW, units, notes)


def _magnified(prefix, title, words, ink, ppi, window: Length, units, notes) -> str:
    """The square with its ink, the pixels' grid over it, and notes beside it."""
    step = _SIZE / float(window.inches * Fraction(ppi))
    square = f'x="{_LEFT}" y="{_TOP}" width="{_SIZE}" height="{_SIZE}"'
    stops = [step * at for at in range(1, ceil(_SIZE / step))]
    grid = "".join(
        f"M{_LEFT + at:.2f} {_TOP}v{_SIZE}M{_LEFT} {_TOP + at:.2f}h{_SIZE}" for at in stops
    )
    under = _TOP + _SIZE + 20
    return "".join(
        (
            open_canvas(prefix, under + 14, title, words),
            f'<clipPath id="{prefix}-square"><rect {square}/></clipPath>'
            f'<rect {square} fill="{PAPER}" stroke="{MUTED}"/>'
            f'<g clip-path="url(#{prefix}-square)">{ink}'
            f'<path id="{prefix}-pixels" d="{grid}" {_GRID}/></g>',
            text(_LEFT, under, f"{_called(window, units)} of paper, magnified"),
            *notes,
            "</svg>",
        )
    )


def _sample(top: int, sample: str, words: str) -> str:
    return f'<g transform="translate({_NOTE} {top})">{sample}</g>' + text(
        _NOTE + 26, top + 11, words
    )


def _called(side: Length, units: str) -> str:
    """A tiny square by its side."""
    inch, metric = f"1/{side.inches.denominator} in", f"{float(side.mm):.2f} mm"
    return f"{metric} ({inch})" if units == "mm" else f"{inch} ({metric})"
