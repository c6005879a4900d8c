"""Pixels per inch: what a size gives, what an eye, a press and a scan ask for, a print room's floor."""

import math
from dataclasses import dataclass
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, decimal

ARC_MINUTE = math.radians(1 / 60)
"""The gap of the smallest ring that an eye of acuity 1.0 resolves (ISO 8596, clauses 3 and 4)."""
LEAST_PPI, MOST_PPI = 2, 20_000
"""A resolution outside these means nothing where a file states it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class FloorRow:
    """One row of a room's floor: prints up to a long side need so many ppi, seen from a distance.

    Rows stand from short to long. ``up_to`` is None in the last, which takes every longer print.
    """

    up_to: Length | None
    ppi: int
    distance: Length


def ppi_at(pixels: int, size: Length) -> Fraction:
    """Pixels per inch when ``pixels`` are spread over ``size``; exact. LabError for no size."""
    if size <= ZERO:
        raise LabError(f"{pixels} pixels cannot be spread over {size}: give a size above zero.")
    return Fraction(pixels) / size.inches


def ppi_for_eye(distance: Length, acuity: float = 1.0) -> float:
    """The ppi at which one pixel spans one arc-minute over acuity, seen from ``distance``.

    Acuity 1.0 is 20/20 or 6/6, and 0.5 is 20/40. LabError for no distance or no acuity.

    >>> round(ppi_for_eye(Length(Fraction(24))), 1)
    143.2
    """
    if distance <= ZERO or acuity <= 0:
        raise LabError(
            f"an eye of acuity {acuity:g} at {distance} sees nothing: give both above zero."
        )
    return acuity / (float(distance.inches) * math.tan(ARC_MINUTE))


def distance_for_eye(ppi: Fraction | float, acuity: float = 1.0) -> Length:
    """From how far one pixel at ``ppi`` spans one arc-minute over acuity; farther off it is lost.

    The same rule as :func:`ppi_for_eye`, the other way round. LabError for no ppi or no acuity.

    >>> distance_for_eye(300).inch_text()
    '11.459 in'
    """
    if ppi <= 0 or acuity <= 0:
        raise LabError(
            f"{ppi_text(ppi)} and an acuity of {acuity:g} give no distance: give both above zero."
        )
    return Length(Fraction(acuity / (float(ppi) * math.tan(ARC_MINUTE))))


def ppi_for_screen(lpi: int, pixels_a_line: Fraction | int = 2) -> Fraction:
    """The ppi a picture needs for a press whose halftone screen has ``lpi`` lines per inch.

    Two pixels a line, 150 lpi and so 300 ppi: common practice; 1.5 and 1.4 are used as well.
    """
    return lpi * Fraction(pixels_a_line)


def scan_ppi(print_ppi: int, original: Length, printed: Length) -> Fraction:
    """The ppi to scan at: the print's, times how often the print is as large as the original.

    LabError for an original or a print of no size.

    >>> int(scan_ppi(300, Length(Fraction(4)), Length(Fraction(12))))
    900
    """
    if min(original, printed) <= ZERO:
        raise LabError(
            f"an original {original} wide cannot be scanned for a print {printed} wide: "
            "give two sizes above zero."
        )
    return print_ppi * (printed / original)


def rgb_bytes(pixels: tuple[int, int]) -> int:
    """What 8-bit RGB takes before it is packed: three bytes a pixel."""
    return pixels[0] * pixels[1] * 3


def floor_for(long_side: Length, table: tuple[FloorRow, ...]) -> FloorRow:
    """The row that holds for a print whose longer side is ``long_side``: the first that reaches it."""
    return next(row for row in table if row.up_to is None or long_side <= row.up_to)


def largest_at_floor(
    pixels: Fraction | int, table: tuple[FloorRow, ...], at_most: Length | None = None
) -> Length:
    """The longest print that ``pixels`` along the long side can make without falling below the floor.

    ``at_most`` looks only among prints no longer than that: whoever asked for one size is not helped
    by a larger one, though the floor is lower where a print is seen from farther away.
    """
    longest = start = ZERO
    for row in table:
        ends = (end for end in (row.up_to, at_most) if end is not None)
        size = min([Length(Fraction(pixels) / row.ppi), *ends])
        if size > start:
            longest = size
        start = row.up_to
    return longest


def ppi_text(ppi: Fraction | float) -> str:
    """A resolution for people, to a tenth: ``300 ppi``, ``266.7 ppi``."""
    return f"{decimal(Fraction(ppi), 1)} ppi"
