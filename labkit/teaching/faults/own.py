"""A technician's own files as practice cases, told in a table beside them."""

from collections.abc import Iterator
from pathlib import Path

from labkit.errors import LabError
from labkit.files.checks.size import find_size
from labkit.files.checks.words import listed
from labkit.files.child.opening import open_picture
from labkit.files.table import Row, read_table
from labkit.files.writing.name import read_name
from labkit.geometry.paper import Sheet
from labkit.room.rules import Room, load_room
from labkit.teaching.faults.cases import Case
from labkit.teaching.faults.sorts import ANSWERS

TABLE = "cases.csv"
COLUMNS = ("file", "verdict", "reason")


def read_cases(folder: Path | str, *, room: Room | None = None) -> list[Case]:
    """The cases of ``cases.csv`` in a folder: columns file, verdict (print, ask, send back), reason.

    Commas or semicolons part the columns. LabError for a missing table, column, file or reason, and
    for an unknown verdict, with its line.
    """
    folder, rules = Path(folder).expanduser(), room or load_room()
    found = [_case(folder, line, row, rules) for line, row in _rows(folder / TABLE)]
    if not found:
        raise LabError(
            f"{TABLE} in {folder} names no file: add a line for each, with {listed([*COLUMNS])}."
        )
    return found


def _rows(table: Path) -> Iterator[Row]:
    """Each row with its line; columns by their names in small letters."""
    try:
        head, rows = read_table(table)
    except FileNotFoundError:
        raise LabError(
            f"there is no {TABLE} in {table.parent}: make one with the columns {listed([*COLUMNS])}."
        ) from None
    if missing := [name for name in COLUMNS if name not in head]:
        raise LabError(
            f"{TABLE} has no column {listed(missing)}: its first line names the columns "
            f"{listed([*COLUMNS])}."
        )
    return rows


def _case(folder: Path, line: int, row: dict[str, str], room: Room) -> Case:
    file = folder / row["file"]
    if not row["file"] or not file.is_file():
        named = f"no file “{row['file']}” in {folder}" if row["file"] else "no file named"
        raise LabError(f"{TABLE}, line {line}: there is {named}; look at the spelling.")
    answer = " ".join(row["verdict"].casefold().split())
    if answer not in ANSWERS:
        raise LabError(
            f"{TABLE}, line {line}: “{row['verdict']}” is no verdict; write print, ask or send back."
        )
    if not row["reason"]:
        raise LabError(
            f"{TABLE}, line {line}: the reason is missing; say in a sentence what you would tell the "
            "student."
        )
    told = read_name(room.name_pattern, file.stem) or {"owner": "", "title": ""}
    sheet = _sheet_of(file, room)
    return Case(
        fault=None,
        answer=answer,
        reason=row["reason"],
        name=file.name,
        owner=told["owner"],
        title=told["title"],
        sheet=sheet,
        cost=room.price(None, sheet) if sheet else None,
        level=0,
        own=file,
    )


def _sheet_of(file: Path, room: Room) -> Sheet | None:
    """The sheet that the file says it is; None for one that cannot be opened, which is a case as well."""
    try:
        return find_size(open_picture(file, room), room).sheet
    except LabError:
        return None
