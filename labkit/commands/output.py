"""What a run that looks many files over writes and shows: pages and tables, and how far it is."""

import sys
import time
from collections.abc import Callable
from pathlib import Path

from labkit.commands.check_told import COLUMNS
from labkit.errors import LabError, system_reason
from labkit.files.folder.hand_ins import is_our_page
from labkit.files.writing.part import parts_of

_HEAD = ",".join(COLUMNS).encode()


def progress_bar(count: int) -> Callable[[int], None]:
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


def refuse_ending(file: Path, ending: str) -> None:
    """LabError where a file to be written is not named as what it is."""
    if file.suffix.lower() != ending:
        raise LabError(f"{file} is to be written, and does not end in {ending}: name it so.")


def refuse_taken(file: Path, *, replace_it: bool) -> None:
    """LabError where a file may not be written: it is there already, or is not ours, or has no folder."""
    if file.exists() and not replace_it:
        raise LabError(f"{file} is there already: give another name, or say --replace.")
    if file.exists() and not _is_written_by_us(file):
        raise LabError(f"{file} is no report or table of this program's: give another name.")
    if not file.absolute().parent.is_dir():
        raise LabError(f"there is no folder {file.parent} to put {file.name} in: make it first.")


def write_page(file: Path, text: str, replace_it: bool) -> None:
    """Write all of it or nothing."""
    try:
        with parts_of(file) as (part,):
            part.write_text(text, encoding="utf-8", errors="backslashreplace", newline="")
            refuse_taken(file, replace_it=replace_it)
            part.replace(file)
    except OSError as error:
        told = f"{file} cannot be written ({system_reason(error)}): choose another folder."
        raise LabError(told) from None


def _is_written_by_us(file: Path) -> bool:
    try:
        with file.open("rb") as opened:
            return is_our_page(file) or opened.read(len(_HEAD)) == _HEAD
    except OSError:
        return False
