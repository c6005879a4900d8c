"""What prints take: by printer, paper and size the sheets or metres, price and time at the printer."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labkit.files.checks.findings import Findings
from labkit.geometry.length import ZERO, Length
from labkit.room.printers import Printer
from labkit.room.route import Route, metres_text
from labkit.room.rules import Room
from labkit.room.stock import Paper

Order = tuple[Route, int]
"""How a print goes, and how many are asked for."""


@dataclass(frozen=True, slots=True)
class TallyRow:
    """All prints that go one way: one printer and path, one paper, one kind of stock.

    ``route`` is that of one of them. ``metres`` is what they take off a roll, leader and tail of each
    counted, None for sheets, of which they take ``prints``. ``area_m2`` is in square metres; ``price`` is
    None where one of them has none; ``minutes`` is the time at the printer, a roll put in once.
    """

    route: Route
    prints: int
    metres: Length | None
    area_m2: float
    price: Decimal | None
    minutes: float

    @property
    def needed(self) -> str:
        """The sheets or metres they take."""
        if self.metres is not None:
            return metres_text(self.metres)
        return "1 sheet" if self.prints == 1 else f"{self.prints} sheets"

    @property
    def is_enough(self) -> bool | None:
        """Whether what is left is enough; None where the room does not say how much that is."""
        left = self.route.stock and self.route.stock.left
        if left is None:
            return None
        return (self.prints if self.metres is None else self.metres) <= left


@dataclass(frozen=True, slots=True)
class Totals:
    """All rows together; ``left_out`` files are not printed, or have no known sheet."""

    rows: tuple[TallyRow, ...]
    prints: int
    price: Decimal | None
    minutes: float
    left_out: int = 0


def tally(
    checked: Sequence[Findings],
    room: Room,
    paper: str | Paper | None = None,
    printer: str | Printer | None = None,
) -> Totals:
    """What one print of each file takes, on ``paper`` (None: the first that is kept in its size).

    Files whose verdict is ``stop``, and those whose sheet is not known, are left out and counted.
    LabError for a paper or a printer nobody knows.
    """
    named, by = paper and room.paper(paper), printer and room.printer(printer)
    orders = [
        (room.route(found.layout.sheet, named, by), 1)
        for found in checked
        if found.verdict != "stop" and found.layout is not None
    ]
    return sum_up(orders, left_out=len(checked) - len(orders))


def sum_up(orders: Iterable[Order], *, left_out: int = 0) -> Totals:
    """What so many prints take, each the way it goes: by printer, paper and size."""
    groups: dict[tuple[str, ...], list[Order]] = {}
    for route, copies in orders:
        way = route.printer.name, route.paper.name, route.path, route.stock_name
        groups.setdefault(way, []).append((route, copies))
    rows = tuple(_row(groups[way]) for way in sorted(groups))
    return Totals(
        rows,
        sum(row.prints for row in rows),
        _sum([row.price for row in rows]),
        sum(row.minutes for row in rows),
        left_out,
    )


def _row(orders: list[Order]) -> TallyRow:
    first, prints = orders[0][0], sum(copies for _, copies in orders)
    metres = sum((route.along * copies for route, copies in orders), ZERO)
    return TallyRow(
        first,
        prints,
        metres if first.is_roll else None,
        sum(route.area(copies) for route, copies in orders),
        _sum([route.price(copies) for route, copies in orders]),
        sum(route.printing_minutes(copies) for route, copies in orders)
        + first.loading_minutes(prints),
    )


def _sum(prices: list[Decimal | None]) -> Decimal | None:
    return None if None in prices else sum(prices, Decimal(0))
