"""Which sheet a print needs, and what is left of it; how much of a roll it takes."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet

Size = tuple[Length, Length]


def holding(
    size: Size, sheet: Sheet, edges_of: Callable[[Sheet], Edges], border: Length = ZERO
) -> Sheet | None:
    """``sheet`` as it must lie to hold a print of ``size`` in its centre; None if it does not.

    The sheet lies the way the print does where both ways hold it. ``edges_of`` gives the printer's
    unprintable edges for a sheet as it lies; the border on each side is at least these and ``border``.
    """
    ways = sorted((sheet, sheet.turned()), key=lambda way: way.is_turned != (size[0] > size[1]))
    for lying in ways:
        edges = edges_of(lying)
        across = (lying.width - size[0]) / 2
        down = (lying.height - size[1]) / 2
        if across >= max(edges.left, edges.right, border) and down >= max(
            edges.top, edges.bottom, border
        ):
            return lying
    return None


def smallest(
    size: Size,
    sheets: Iterable[Sheet],
    edges_of: Callable[[Sheet], Edges],
    border: Length = ZERO,
) -> Sheet | None:
    """The sheet of least area that holds the print, as it must lie; None if none does."""
    fitting = (holding(size, sheet, edges_of, border) for sheet in sheets)
    return min(
        filter(None, fitting), key=lambda sheet: area(sheet.width, sheet.height), default=None
    )


def area(width: Length, height: Length) -> Fraction:
    """Square millimetres, exact.

    >>> from labkit.geometry.paper import find_sheet
    >>> a4 = find_sheet("A4")
    >>> area(a4.width, a4.height)
    Fraction(62370, 1)
    """
    return width.mm * height.mm


@dataclass(frozen=True, slots=True)
class RollRun:
    """A print on a roll: the usable width, the length of paper it takes, the share it leaves blank."""

    usable: Length
    length: Length
    blank: Fraction
    fits: bool


def on_roll(size: Size, roll_width: Length, edges: Edges) -> RollRun:
    """A print of ``size`` (across the roll, along it) on a roll; its length is free.

    The printer does not reach ``edges.left`` and ``edges.right`` of the roll's width, and feeds
    ``edges.top`` and ``edges.bottom`` before and after the print.
    """
    usable = roll_width - edges.left - edges.right
    run = size[1] + edges.top + edges.bottom
    printed = area(*size) / area(roll_width, run)
    return RollRun(usable, run, 1 - printed, size[0] <= usable)


def sight_size(opening: Size, lip: Length) -> Size:
    """What is seen of a picture that fills a frame's opening, when a lip covers its edges."""
    return opening[0] - lip * 2, opening[1] - lip * 2


def iso_tolerance(side: Length) -> Length:
    """How far a side of an ISO-trimmed sheet may be off: 1.5 mm to 150 mm, 2 mm to 600 mm, else 3 mm.

    ISO 216, the clause on tolerances, quoted second-hand; that exactly 150 and 600 mm take the
    smaller figure is from memory.
    """
    millimetres = Fraction(3, 2) if side.mm <= 150 else 2 if side.mm <= 600 else 3
    return Length(Fraction(millimetres) / Fraction("25.4"))
