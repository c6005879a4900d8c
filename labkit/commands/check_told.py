"""What ``check`` found, told: a table in a terminal, a row for each finding, plain values."""

import csv
import io
import os
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

from labkit.commands.columns import columns
from labkit.files.checks.catalogue import GRADES
from labkit.files.checks.findings import Findings
from labkit.files.folder.tally import TallyRow, Totals
from labkit.files.record.cell import safe_cell
from labkit.geometry.resolution import ppi_text
from labkit.room.rules import Room

_WIDEST, _LONGEST = 100, 49
"""How wide a line is told, in characters, and how long a name."""
COLUMNS = ("file", "verdict", "code", "grade", "found", "expected", "why", "remedy")
"""Those of the table of findings."""


def as_table(checked: Sequence[Findings], totals: Totals, room: Room, *, in_full: bool) -> str:
    """One line for each file, then what is to be told of each, then what it all takes."""
    head = ("", "file", "sheet", "ppi", "to note")
    names = _names([each.file for each in checked])
    rows = [head, *(_row(each, name) for each, name in zip(checked, names, strict=True))]
    told = [_told(each, in_full=in_full) for each in checked]
    counts = ", ".join(
        f"{sum(each.verdict == grade for each in checked)} {grade}" for grade in GRADES
    )
    files = "1 file" if len(checked) == 1 else f"{len(checked)} files"
    return "\n".join(
        [*columns(rows), *filter(None, told), "", f"{files}: {counts}.", *_sums(totals, room)]
    )


def _names(files: Sequence[Path]) -> list[str]:
    """Files by their names, or by their paths from where all of them lie if two have one name; what is
    too long for the table lacks its middle."""
    names = [file.name for file in files]
    if len(set(names)) < len(names):
        try:
            within = os.path.commonpath([file.absolute().parent for file in files])
            names = [os.path.relpath(file.absolute(), within) for file in files]
        except ValueError:  # on several drives
            names = [str(file) for file in files]
    return [_shortened(_printable(name)) for name in names]


def _shortened(name: str) -> str:
    half = (_LONGEST - 1) // 2
    return name if len(name) <= _LONGEST else f"{name[:half]}…{name[-half:]}"


def _row(found: Findings, name: str) -> tuple[str, ...]:
    facts_, layout = found.facts, found.layout
    sheet = layout.sheet.label if layout else ""
    ppi = ppi_text(facts_.ppi[0]).removesuffix(" ppi") if facts_ and facts_.ppi else ""
    return found.verdict, name, sheet, ppi, " ".join(_codes(found))


_WHAT_IT_IS = ("prints-together", "contact-sheet", "ruler-sheet")
"""Findings that say what kind of file it is, and are noted though nothing is wrong."""


def _codes(found: Findings) -> list[str]:
    kinds = [item.code for item in found.items if item.code in _WHAT_IT_IS]
    return list(dict.fromkeys([*kinds, *(fault.code for fault in found.faults)]))


def _printable(text: str) -> str:
    """A name as it can be shown: what would move the cursor is replaced."""
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)


def _told(found: Findings, *, in_full: bool) -> str:
    items = found.items if in_full else found.faults
    if not items:
        return ""
    wide = max(60, min(_WIDEST, shutil.get_terminal_size((_WIDEST, 0)).columns))
    lines = [f"{found.file}: {found.verdict}", *found.lines(wide, in_full=in_full)]
    return "\n" + "\n".join(map(_printable, lines))


def _sums(totals: Totals, room: Room) -> Iterator[str]:
    if not totals.prints:
        return
    yield "To print:"
    rows = [_amounts(row, room) for row in totals.rows]
    if len(rows) > 1:
        minutes = f"{totals.minutes:.0f} min"
        prints = f"{totals.prints} prints"
        rows.append(("in all", "", prints, "", room.money(totals.price), minutes))
    yield from columns(rows, indent="  ", right=(2, 3, 4, 5))
    if totals.left_out:
        yield f"  {totals.left_out} left out."


def _amounts(row: TallyRow, room: Room) -> tuple[str, ...]:
    """Printer, paper and size, prints, what they need, price and time."""
    route = row.route
    short = " (more than is left)" if row.is_enough is False else ""
    return (
        f"{route.printer.name}, {route.path_name}",
        f"{route.paper.name}, {route.stock_name}",
        "1 print" if row.prints == 1 else f"{row.prints} prints",
        row.needed + short,
        room.money(row.price),
        f"{row.minutes:.0f} min",
    )


def as_csv(checked: Sequence[Findings]) -> str:
    """One row for each finding, and one for a file without any; a cell never begins like a formula."""
    made = io.StringIO()
    writer = csv.writer(made)
    writer.writerow(COLUMNS)
    for found in checked:
        start = str(found.file), found.verdict
        for item in found.items:
            row = *start, item.code, item.grade, item.found, item.expected, item.why, item.remedy
            writer.writerow([safe_cell(cell) for cell in row])
        if not found.items:
            writer.writerow([safe_cell(cell) for cell in start] + [""] * 6)
    return made.getvalue()


def facts(found: Findings) -> dict:
    """What was found, as plain values for other programs; lengths in inches."""
    picture, layout = found.facts, found.layout
    borders = layout and {side: float(border) for side, border in layout.borders.items()}
    sheet = layout and {
        "name": layout.sheet.label,
        "width_in": float(layout.sheet.width),
        "height_in": float(layout.sheet.height),
    }
    keys = ("code", "grade", "found", "expected", "why", "remedy", "command")
    return {
        "file": str(found.file),
        "verdict": found.verdict,
        "findings": [{key: getattr(item, key) for key in keys} for item in found.items],
        "pixels": picture and list(picture.pixels),
        "ppi": picture and picture.ppi and [float(each) for each in picture.ppi],
        "sheet": sheet,
        "borders_in": borders,
        "profile": picture and (picture.profile_name or None),
        "mode": picture and picture.mode,
        "depth": picture and picture.depth,
        "orientation": picture and picture.orientation,
        "pages": picture and picture.pages,
    }
