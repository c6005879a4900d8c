"""The ``check`` command: hand-ins, files or whole folders, looked over and told in a table."""

import csv
import io
import json
import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from queue import SimpleQueue

from labkit.errors import LabError
from labkit.files.alike import across
from labkit.files.check import check
from labkit.files.findings import GRADES, Findings, tell
from labkit.files.guarded import Guarded
from labkit.files.tally import Totals, tally
from labkit.geometry.resolution import ppi_text
from labkit.home import home
from labkit.room import Room, load_room

LOOKING = ("labkit.files.look", "labkit.files.locate", "labkit.files.decode", "imagecodecs")
"""What a child imports before the first file."""
_WORKERS = min(os.cpu_count() or 1, 4)
_OURS = b'<meta name="generator" content="labkit'
"""Stands near the top of tickets and reports, which lie beside print files and are no hand-ins."""
_WIDEST, _LONGEST = 100, 49
"""How wide a line is told, in characters, and how long a name."""
_COLUMNS = ("file", "verdict", "code", "grade", "found", "expected", "why", "remedy")
_HEAD = ",".join(_COLUMNS).encode()
_PASSED_OVER = (".", "__MACOSX", "~$")
_ABSENT = ".icloud"
"""Stands for a hand-in that is kept elsewhere, and is hidden (from memory)."""
_SYSTEM = ("thumbs.db", "desktop.ini", ".xmp")
"""How names begin and end of what systems and programs leave in a folder without being asked."""


def check_paths(asked) -> int:
    """Check all that is asked for, tell it, and give the exit code: 1 if anything is ``stop``."""
    room = load_room(asked.room) if asked.room else home().room()
    room.paper(asked.paper)
    outputs = []
    for given, ending in ((asked.report, ".html"), (asked.csv, ".csv")):
        if given:
            outputs.append(Path(given))
            _refuse_ending(outputs[-1], ending)
            _refuse_taken(outputs[-1], replace_it=asked.replace)
    files = list(_files([Path(path).expanduser() for path in asked.paths], outputs))
    if not files:
        raise LabError("there is no file to check in what was given: name files, or a folder.")
    checked = check_all(files, room, thumbnails=bool(asked.report), progress=_progress(len(files)))
    totals = tally(checked, room, asked.paper)
    if asked.report:
        from labkit.drawing.report import report

        today = time.strftime("%Y-%m-%d")
        _write(Path(asked.report), report(checked, room, totals, today), asked.replace)
    if asked.csv:
        _write(Path(asked.csv), as_csv(checked), asked.replace)
    if asked.json:
        told = json.dumps([facts(each) for each in checked], ensure_ascii=False, indent=1)
        # bytes of a name that are no text stand as JSON's own escapes
        print(told.encode("utf-8", "backslashreplace").decode())
    else:
        print(as_table(checked, totals, room, in_full=asked.full))
    return 1 if any(each.verdict == "stop" for each in checked) else 0


def check_all(
    files: Sequence[Path],
    room: Room,
    *,
    thumbnails: bool = False,
    progress: Callable[[int], None] = lambda done: None,
) -> list[Findings]:
    """Check many files, several at a time, each in a guarded child; what shows only across files is
    added. In the order of ``files``; ``progress`` is told how many are done."""
    idle: SimpleQueue[Guarded] = SimpleQueue()

    def look_over(file: Path) -> Findings:
        child = idle.get()
        try:
            return check(file, room=room, thumbnail=thumbnails, child=child)
        except Exception as fault:  # one bad file never ends the run
            told = f"the check of it failed ({type(fault).__name__}: {fault})"
            return Findings(file, (tell("unreadable", refusal=told),))
        finally:
            idle.put(child)

    checked = []
    workers = min(_WORKERS, len(files))
    with ExitStack() as stack, ThreadPoolExecutor(workers) as pool:
        for _ in range(workers):
            idle.put(stack.enter_context(Guarded(*LOOKING)))
        for found in pool.map(look_over, files):
            checked.append(found)
            progress(len(checked))
    more = across(checked, room)
    return [replace(each, items=(*each.items, *more.get(each.file, ()))) for each in checked]


def _files(paths: Sequence[Path], outputs: Sequence[Path]) -> Iterator[Path]:
    """Files as they were named, and what lies in folders, each once, in the order of their names.

    Hidden files, what systems and editors leave behind, our own tickets and reports, and what this run
    writes are passed over in a folder.
    """
    seen = {os.path.realpath(output) for output in outputs}
    for path in paths:
        if not path.exists():
            raise LabError(f"there is no file or folder {path}: look at the spelling.")
        real = Path(os.path.realpath(path))
        inside = _in_folder(path, real, {real}) if path.is_dir() else [path]
        for file in inside:
            if (known := os.path.realpath(file)) not in seen:
                seen.add(known)
                yield file


def _in_folder(folder: Path, asked: Path, walked: set[Path]) -> Iterator[Path]:
    """What lies in a folder, and in those inside it, each gone through once: ``walked`` are those that were,
    and ``asked`` is the one that was named."""
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name.casefold())
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabError(f"the folder {folder} cannot be read ({reason}): ask its owner.") from None
    for entry in entries:
        is_absent = entry.name.endswith(_ABSENT)
        if (
            entry.name.startswith(_PASSED_OVER) and not is_absent
        ) or entry.name.casefold().endswith(_SYSTEM):
            continue
        path = Path(entry.path)
        if os.path.isdir(path):
            real = Path(os.path.realpath(path))
            if real not in walked and real not in asked.parents:  # where a link may lead back to
                walked.add(real)
                yield from _in_folder(path, asked, walked)
        elif not _is_ours(path):
            yield path


def _is_ours(file: Path) -> bool:
    if file.suffix.lower() != ".html":
        return False
    try:
        with file.open("rb") as opened:
            return _OURS in opened.read(1024)
    except OSError:
        return False


def _is_written_by_us(file: Path) -> bool:
    try:
        with file.open("rb") as opened:
            return _is_ours(file) or opened.read(len(_HEAD)) == _HEAD
    except OSError:
        return False


def _progress(count: int) -> Callable[[int], None]:
    """A bar on the terminal's error output, where somebody sees it and it takes a while."""
    started = time.monotonic()

    def show(done: int) -> None:
        if not sys.stderr.isatty() or (time.monotonic() - started < 1 and done < count):
            return
        full = 30 * done // count
        end = "\r" if done < count else "\r\033[K"
        bar = f"checking  {'█' * full}{'·' * (30 - full)}  {done} of {count}"
        print(bar if done < count else "", end=end, file=sys.stderr, flush=True)

    return show


def _refuse_ending(file: Path, ending: str) -> None:
    if file.suffix.lower() != ending:
        raise LabError(f"{file} is to be written, and does not end in {ending}: name it so.")


def _refuse_taken(file: Path, *, replace_it: bool) -> None:
    if file.exists() and not replace_it:
        raise LabError(f"{file} is there already: give another name, or say --replace.")
    if file.exists() and not _is_written_by_us(file):
        raise LabError(f"{file} is no report or table of this program's: give another name.")
    if not file.absolute().parent.is_dir():
        raise LabError(f"there is no folder {file.parent} to put {file.name} in: make it first.")


def _write(file: Path, text: str, replace_it: bool) -> None:
    """All of it or nothing."""
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    try:
        part.write_text(text, encoding="utf-8", errors="backslashreplace", newline="")
        _refuse_taken(file, replace_it=replace_it)
        part.replace(file)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LabError(f"{file} cannot be written ({reason}): choose another folder.") from None
    finally:
        part.unlink(missing_ok=True)


def as_table(checked: Sequence[Findings], totals: Totals, room: Room, *, in_full: bool) -> str:
    """One line for each file, then what is to be told of each, then what it all takes."""
    head = ("", "file", "sheet", "ppi", "to note")
    names = _names([each.file for each in checked])
    rows = [head, *(_row(each, name) for each, name in zip(checked, names, strict=True))]
    widths = [max(len(row[column]) for row in rows) for column in range(len(head) - 1)]
    lines = [
        "  ".join([*(cell.ljust(width) for cell, width in zip(row, widths, strict=False)), row[-1]])
        for row in rows
    ]
    told = [_told(each, in_full=in_full) for each in checked]
    counts = ", ".join(
        f"{sum(each.verdict == grade for each in checked)} {grade}" for grade in GRADES
    )
    files = "1 file" if len(checked) == 1 else f"{len(checked)} files"
    return "\n".join([*lines, *filter(None, told), "", f"{files}: {counts}.", *_sums(totals, room)])


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


def _codes(found: Findings) -> list[str]:
    return list(dict.fromkeys(fault.code for fault in found.faults))


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
    yield f"To print on {totals.paper}:"
    for row in totals.rows:
        yield f"  {row.stock:12} {_amounts(row.prints, row.area_m2, row.price, row.minutes, room)}"
    if len(totals.rows) > 1:
        area = sum(row.area_m2 for row in totals.rows)
        amounts = _amounts(totals.prints, area, totals.price, totals.minutes, room)
        yield f"  {'in all':12} {amounts}"
    if totals.left_out:
        yield f"  {totals.left_out} left out."


def _amounts(prints: int, area: float, price, minutes: float, room: Room) -> str:
    cost = "no price set" if price is None else f"{room.currency}{price}"
    each = "1 print" if prints == 1 else f"{prints} prints"
    return f"{each:10} {area:7.2f} m²  {cost:>12}  {minutes:5.0f} min at the printer"


def as_csv(checked: Sequence[Findings]) -> str:
    """One row for each finding, and one for a file without any; a cell never begins like a formula."""
    made = io.StringIO()
    writer = csv.writer(made)
    writer.writerow(_COLUMNS)
    for found in checked:
        start = str(found.file), found.verdict
        for item in found.items:
            row = *start, item.code, item.grade, item.found, item.expected, item.why, item.remedy
            writer.writerow([_plain_cell(cell) for cell in row])
        if not found.items:
            writer.writerow([_plain_cell(cell) for cell in start] + [""] * 6)
    return made.getvalue()


def _plain_cell(text: str) -> str:
    """What a spreadsheet would run as a formula is quoted (OWASP, CSV injection)."""
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r")) else text


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
