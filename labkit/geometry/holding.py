"""Which sheet holds a print, and what is left of it; what a roll gives, and what a frame hides."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import MM_PER_INCH, ZERO, Length, decimal
from labkit.geometry.paper import Sheet
from labkit.geometry.size import Size


def excess(size: Size, sheet: Sheet, edges: Edges, border: Length = ZERO) -> Size:
    """How much too wide and too high a print is for the centre of ``sheet`` as it lies; none where it
    fits.

    On each side it leaves ``border``, or what the printer does not reach (``edges``) where that is more.
    """
    across = max(edges.left, edges.right, border) * 2
    down = max(edges.top, edges.bottom, border) * 2
    return max(ZERO, size[0] + across - sheet.width), max(ZERO, size[1] + down - sheet.height)


def ways_it_holds(
    size: Size, sheet: Sheet, edges_of: Callable[[Sheet], Edges], border: Length = ZERO
) -> tuple[Sheet, ...]:
    """``sheet`` as it can lie to hold the print in its centre: upright, on its side, both, or not at all.

    The way the print itself lies comes first. ``edges_of`` gives the printer's edges of a sheet as it
    lies.
    """
    turns = sorted({sheet, sheet.turned()}, key=lambda each: each.is_turned != (size[0] > size[1]))
    return tuple(each for each in turns if not any(excess(size, each, edges_of(each), border)))


def smallest_holding(
    size: Size,
    sheets: Iterable[Sheet],
    edges_of: Callable[[Sheet], Edges],
    border: Length = ZERO,
) -> Sheet | None:
    """The sheet of least area that holds the print in its centre, as it lies; None if none does."""
    holding = (
        each for sheet in sheets for each in ways_it_holds(size, sheet, edges_of, border)[:1]
    )
    return min(holding, key=lambda sheet: area(sheet.width, sheet.height), default=None)


def area(width: Length, height: Length) -> Fraction:
    """Square millimetres, exact.

    >>> from labkit.geometry.paper import find_sheet
    >>> a4 = find_sheet("A4")
    >>> area(a4.width, a4.height)
    Fraction(62370, 1)
    """
    return width.mm * height.mm


def area_text(square_mm: Fraction, first: str = "in", *, metric: str = "cm²") -> str:
    """An area in square inches, and in "cm²" or "m²"; the one of ``first`` ("in" or "mm") in front.

    To three figures at least, and to whole units where those are more.

    >>> area_text(Fraction(62370)), area_text(Fraction(62370), "mm", metric="m²")
    ('96.7 sq in (624 cm²)', '0.0624 m² (96.7 sq in)')
    """
    inch = f"{_figures(square_mm / MM_PER_INCH**2)} sq in"
    other = f"{_figures(square_mm / {'cm²': 100, 'm²': 1_000_000}[metric])} {metric}"
    return f"{other} ({inch})" if first == "mm" else f"{inch} ({other})"


def _figures(value: Fraction) -> str:
    return decimal(value, max(0, 2 - floor(log10(value)))) if value else "0"


@dataclass(frozen=True, slots=True)
class RollCut:
    """What a print takes of a roll ``width`` wide, whose length is free; of its ``size`` the first lies
    across the roll, the second along it.

    The printer does not reach ``edges.left`` and ``edges.right`` of the width. ``edges.top`` and
    ``edges.bottom`` it leaves white before and after the print.
    """

    size: Size
    width: Length
    edges: Edges

    @property
    def usable(self) -> Length:
        """What can be printed of the roll's width."""
        return self.width - self.edges.left - self.edges.right

    @property
    def fits(self) -> bool:
        """Whether the print is no wider than that."""
        return self.size[0] <= self.usable

    @property
    def length(self) -> Length:
        """The piece that is cut off."""
        return self.size[1] + self.edges.top + self.edges.bottom

    @property
    def wasted(self) -> Fraction:
        """What of the piece is not printed, in square millimetres."""
        return area(self.width, self.length) - area(*self.size)

    @property
    def share(self) -> Fraction:
        """The same as a share of the piece."""
        return self.wasted / area(self.width, self.length)


def sight_size(size: Size, lip: Length) -> Size:
    """What is seen of a print in a frame of its own ``size``, whose ``lip`` lies over its four edges.

    LabError for a lip below zero, or one that leaves nothing to see.

    >>> sight_size((Length(Fraction(8)), Length(Fraction(10))), Length(Fraction(1, 4)))
    (Length('7 1/2 in'), Length('9 1/2 in'))
    """
    if lip < ZERO or lip * 2 >= min(size):
        wide, high = (side.both() for side in size)
        raise LabError(
            f"a lip of {lip} leaves nothing to see of {wide} by {high}: give one from nothing to less "
            "than half the shorter side."
        )
    return size[0] - lip * 2, size[1] - lip * 2
