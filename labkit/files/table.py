"""A table that somebody made in a spreadsheet and saved with commas or semicolons between its cells."""

import csv
from collections.abc import Iterator
from pathlib import Path

from labkit.errors import LabError, system_reason

Row = tuple[int, dict[str, str]]
"""The line it stands on, and its cells by the names of their columns."""


def read_table(file: Path) -> tuple[list[str], Iterator[Row]]:
    """The names of its columns in small letters, and its rows; empty ones are passed over, and what a row
    lacks is "".

    FileNotFoundError where there is none, LabError for one that cannot be read.
    """
    try:
        text = file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise
    except (OSError, UnicodeDecodeError) as error:
        why = system_reason(error) if isinstance(error, OSError) else "not UTF-8"
        raise LabError(f"{file} cannot be read ({why}): save it as a CSV file in UTF-8.") from None
    lines = text.splitlines(keepends=True)
    sign = ";" if lines and ";" in lines[0] else ","
    reader = csv.reader(lines, delimiter=sign)
    head = [name.strip().casefold() for name in next(reader, [])]
    return head, _rows(reader, head)


def _rows(reader, head: list[str]) -> Iterator[Row]:
    for cells in reader:
        if any(cell.strip() for cell in cells):
            filled = [*cells, *[""] * len(head)]
            yield (
                reader.line_num,
                {name: cell.strip() for name, cell in zip(head, filled, strict=False)},
            )
