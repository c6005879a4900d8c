"""The record of what was printed: one table of comma-separated values that only grows.

It is written whole or not at all: the old lines and the new ones go into a new file, which then takes
the old one's name. Two processes that add at the same time wait for each other.
"""

import csv
import io
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.files.record.entry import COLUMNS, Entry, entry_of
from labkit.files.writing.part import parts_of

_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
"""Stands at the start, so that a spreadsheet reads what follows as UTF-8."""


def read_record(file: Path) -> tuple[Entry, ...]:
    """All entries, oldest first; none where there is no record yet.

    LabError for a file that is no record, or has a line that cannot be read: its number, and what to do.
    """
    return _entries(_text(file), file)


def add_to_record(file: Path, entries: Sequence[Entry]) -> None:
    """Put ``entries`` at the end of the record, all of them or none; it is begun where there is none.

    LabError where the record is damaged or cannot be written; it is then as it was.
    """
    try:
        with _alone(file):
            before = _text(file)
            _entries(before, file)
            _replace(
                file, (before or _MARK + _lines([COLUMNS])) + _lines(e.cells() for e in entries)
            )
    except OSError as error:
        why = system_reason(error)
        raise LabError(
            f"the record {file} cannot be written ({why}): close it in other programs, make sure its "
            "folder is there and is yours to write in, and add the job again."
        ) from None


def _text(file: Path) -> str:
    try:
        text = file.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError:
        raise _no_record(file) from None
    except OSError as error:
        why = system_reason(error)
        raise LabError(f"the record {file} cannot be read ({why}): ask its owner.") from None
    return text if not text or text.endswith("\n") else f"{text}\r\n"


def _entries(text: str, file: Path) -> tuple[Entry, ...]:
    if not text:
        return ()
    rows = csv.DictReader(io.StringIO(text.removeprefix(_MARK), newline=""), restkey="more")
    if tuple(rows.fieldnames or ()) != COLUMNS:
        raise _no_record(file)
    try:
        return tuple(entry_of(row, rows.line_num) for row in rows)
    except csv.Error:
        raise LabError(
            f"the record {file} cannot be read from line {rows.line_num} on: mend or delete that line."
        ) from None
    except LabError as refusal:
        raise LabError(f"the record {file}: {refusal}") from None


def _no_record(file: Path) -> LabError:
    return LabError(
        f"{file} is no record of prints: its first line must be {','.join(COLUMNS)}. Give another name, or "
        "save it with commas between its cells."
    )


def _lines(rows) -> str:
    made = io.StringIO(newline="")
    csv.writer(made).writerows(rows)
    return made.getvalue()


def _replace(file: Path, text: str) -> None:
    with parts_of(file) as (part,):
        with part.open("w", encoding="utf-8", newline="") as opened:
            opened.write(text)
            opened.flush()
            os.fsync(opened.fileno())
        os.replace(part, file)


@contextmanager
def _alone(file: Path) -> Iterator[None]:
    """Wait until no other process writes to the record; a process that dies lets go by itself."""
    with file.with_name(f".{file.name}.lock").open("a+b") as lock:
        _hold(lock.fileno())
        yield


if os.name == "nt":
    import msvcrt

    def _hold(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_LOCK, 1)
else:
    import fcntl

    def _hold(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX)
