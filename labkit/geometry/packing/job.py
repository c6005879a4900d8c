"""A job in whole numbers: what the search works on."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing.stock import Cutter, Piece, Roll, Sheets

ENDLESS = 1 << 50
"""The height of a roll whose length is free."""


@dataclass(frozen=True, slots=True)
class Job:
    """Pieces and stock in whole units of ``unit``.

    Every item is one piece of paper to be cut out. ``ways`` gives its width and height as it may lie,
    with the gap added to both, as it is to ``width`` and ``height`` of the stock: so items that touch
    lie a gap apart. A ``roll`` is cut off where the layout ends. ``units`` are the items that stay
    together, in order; those of which ``whole`` is true are not divided between sheets. ``margins`` are
    left, top, right and bottom. ``parted``: the printer cuts off the rows of the roll.
    """

    unit: Length
    pieces: tuple[Piece, ...]
    piece_of: list[int]
    copy_of: list[int]
    ways: list[tuple[tuple[int, int], ...]]
    units: list[tuple[int, ...]]
    unit_of: list[int]
    whole: list[bool]
    width: int
    height: int
    roll: bool
    parted: bool
    gap: int
    margins: tuple[int, int, int, int]
    cutter: Cutter
    longest: int
    hold: int
    least: int
    stack: int

    @property
    def limited(self) -> bool:
        """Whether the cutter can make some cuts and others not."""
        return self.longest < ENDLESS or self.hold > 0 or self.least > 0

    @property
    def one_length(self) -> bool:
        """Whether the stock has no end."""
        return self.height >= ENDLESS

    def length(self, units: int) -> Length:
        """So many units as a length."""
        return self.unit * units

    def area(self, items: Sequence[int]) -> int:
        """Of these items, gaps included."""
        return sum(width * height for width, height in (self.ways[item][0] for item in items))

    def bound(self) -> int:
        """What any layout takes at least along the stock, sheet after sheet, a gap included.

        Its area over the width; its highest piece; or all those of which no two lie side by side.
        """
        lowest = [min(height for _, height in ways) for ways in self.ways]
        alone = [
            low
            for low, ways in zip(lowest, self.ways, strict=True)
            if 2 * min(width for width, _ in ways) > self.width
        ]
        area = self.area(range(len(self.ways)))
        return max(-(-area // self.width), max(lowest), sum(alone))


def in_whole_numbers(
    pieces: Sequence[Piece], stock: Roll | Sheets, gap: Length, cutter: Cutter
) -> Job:
    """The job with all lengths scaled to whole numbers, its pieces counted out one by one."""
    margins = tuple(size for _, size in stock.margins.items())
    sides = [side for piece in pieces for side in (piece.width, piece.height)]
    limits = [cutter.longest, cutter.hold, cutter.least, stock.height]
    unit = _unit([*sides, stock.width, gap, *margins, *(each for each in limits if each)])

    def count(size: Length | None, otherwise: int = 0) -> int:
        return otherwise if size is None else int(size / unit)

    ways, piece_of, copy_of, groups = [], [], [], {}
    for index, piece in enumerate(pieces):
        key = index if piece.group is None else piece.group
        for copy in range(piece.copies):
            groups.setdefault(key, []).append(len(ways))
            ways.append(tuple((count(w + gap), count(h + gap)) for w, h in piece.ways()))
            piece_of.append(index)
            copy_of.append(copy + 1)
    units = [tuple(items) for items in groups.values()]
    unit_of = [0] * len(ways)
    for number, items in enumerate(units):
        for item in items:
            unit_of[item] = number
    return Job(
        unit, tuple(pieces), piece_of, copy_of, ways, units, unit_of,
        [len({piece_of[item] for item in items}) > 1 for items in units],
        count(stock.width + gap),
        ENDLESS if stock.height is None else count(stock.height + gap),
        isinstance(stock, Roll), isinstance(stock, Roll) and stock.parted,
        count(gap), tuple(count(size) for size in margins),
        cutter, count(cutter.longest, ENDLESS), count(cutter.hold), count(cutter.least), cutter.stack,
    )  # fmt: skip


def _unit(sizes: Sequence[Length]) -> Length:
    """The longest length of which all these are whole numbers of fractions of an inch."""
    return Length(Fraction(1, lcm(*(size.inches.denominator for size in sizes if size > ZERO))))
