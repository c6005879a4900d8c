"""What a run of hand-ins takes: by stock, prints, paper, price and machine time."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labkit.files.checks.findings import Findings
from labkit.geometry.paper import Sheet
from labkit.room.rules import Paper, Room


@dataclass(frozen=True, slots=True)
class TallyRow:
    """One kind of stock: a sheet by its name, or a roll by its width.

    ``area_m2`` is in square metres; ``price`` is None where one of the prints has none; ``minutes`` is
    the time at the printer.
    """

    stock: str
    prints: int
    area_m2: float
    price: Decimal | None
    minutes: float


@dataclass(frozen=True, slots=True)
class Totals:
    """All rows together, on one ``paper``; ``left_out`` files are not printed, or have no known sheet."""

    rows: tuple[TallyRow, ...]
    paper: str
    prints: int
    price: Decimal | None
    minutes: float
    left_out: int


def tally(checked: Sequence[Findings], room: Room, paper: str | Paper | None = None) -> Totals:
    """What one print of each file takes on ``paper`` (the room's first if None).

    Files whose verdict is ``stop``, and those whose sheet is not known, are left out and counted.
    LabError for a paper nobody knows.
    """
    chosen = room.paper(paper)
    by_stock: dict[str, list[Sheet]] = {}
    for found in checked:
        if found.verdict != "stop" and found.layout is not None:
            sheet = found.layout.sheet
            by_stock.setdefault(_stock(sheet, room), []).append(sheet)
    rows = tuple(_row(stock, sheets, chosen, room) for stock, sheets in sorted(by_stock.items()))
    prints = sum(row.prints for row in rows)
    return Totals(
        rows,
        chosen.name,
        prints,
        _sum([row.price for row in rows]),
        sum(row.minutes for row in rows),
        len(checked) - prints,
    )


def _stock(sheet: Sheet, room: Room) -> str:
    """The sheet in stock, or the narrowest roll it comes off."""
    if known := room.find_stock(sheet):
        return known.name
    roll = room.roll_for(sheet)
    return f"{roll.width.inch_text()} roll" if roll else "no stock"


def _row(stock: str, sheets: list[Sheet], paper: Paper, room: Room) -> TallyRow:
    area = sum(float(sheet.width.mm * sheet.height.mm) for sheet in sheets) / 1e6
    price = _sum([room.price(paper, sheet) for sheet in sheets])
    return TallyRow(stock, len(sheets), area, price, sum(map(room.minutes, sheets)))


def _sum(prices: list[Decimal | None]) -> Decimal | None:
    return None if None in prices else sum(prices, Decimal(0))
