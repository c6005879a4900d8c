"""One line of the record: a job that went through a printer, and what came of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal, InvalidOperation

from labkit.errors import LabError
from labkit.files.record.cell import safe_cell, text_of_cell

RESULTS = ("good", "spoiled")
"""What can come of a print: it was handed out, or it was not and says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """So many ``copies`` of one file, printed on one day on one paper.

    ``job`` is the number on its ticket, ``file`` the name of the print file and ``fingerprint`` that of
    its bytes. ``area_m2`` is the paper used in square metres, ``waste_m2`` what of it was spoiled;
    ``price`` is what all copies cost, None where no price is set. ``profile`` is the paper's profile
    that was used, by its name; ``result`` one of :data:`RESULTS`, ``why`` what went wrong.
    """

    job: str
    date: date
    file: str
    fingerprint: str
    owner: str = ""
    title: str = ""
    course: str = ""
    printer: str = ""
    paper: str = ""
    size: str = ""
    copies: int = 1
    area_m2: Decimal = Decimal(0)
    price: Decimal | None = None
    profile: str = ""
    result: str = "good"
    waste_m2: Decimal = Decimal(0)
    why: str = ""

    def cells(self) -> list[str]:
        """Its cells, in the order of :data:`COLUMNS`."""
        return [safe_cell(_told(getattr(self, name))) for name in COLUMNS]


COLUMNS = tuple(field.name for field in fields(Entry))
"""The columns of the record, and the names of an entry's fields."""


def entry_of(row: Mapping[str, str], line: int) -> Entry:
    """The entry in a row of cells. LabError, naming the line and the column, for one that is none."""
    if missing := [name for name in COLUMNS if row.get(name) is None]:
        raise LabError(
            f"line {line} has no cell for “{missing[0]}”: it was cut short. Copy the line from your last "
            "backup of the record, or delete it."
        )
    told = {name: text_of_cell(row[name]) for name in COLUMNS}
    values = {name: _read(name, text, line) for name, text in told.items()}
    return Entry(**values)


def _told(value) -> str:
    return "" if value is None else str(value)


def _read(name: str, text: str, line: int):
    if name not in _READERS:
        return text
    reader, wanted = _READERS[name]
    try:
        return reader(text)
    except (ValueError, InvalidOperation):
        raise LabError(
            f"line {line}, column “{name}”: “{text}” is no {wanted}. A spreadsheet may have changed it when "
            "it saved the file: type it in again."
        ) from None


def _amount(text: str) -> Decimal:
    amount = Decimal(text)
    if not amount.is_finite() or amount < 0:
        raise ValueError(text)
    return amount


def _price(text: str) -> Decimal | None:
    return _amount(text) if text else None


def _count(text: str) -> int:
    count = int(text)
    if count < 1:
        raise ValueError(text)
    return count


def _result(text: str) -> str:
    if text not in RESULTS:
        raise ValueError(text)
    return text


_READERS: dict[str, tuple[Callable[[str], object], str]] = {
    "date": (date.fromisoformat, "date such as 2031-05-12"),
    "copies": (_count, "number of copies"),
    "area_m2": (_amount, "area in square metres"),
    "waste_m2": (_amount, "area in square metres"),
    "price": (_price, "price such as 4.80"),
    "result": (_result, f"result: it is one of {', '.join(RESULTS)}"),
}
