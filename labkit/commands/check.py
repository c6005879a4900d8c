"""Look over files, or all files of folders: what is found, why it matters, what the student should do."""

import json
import sys
import time
from collections.abc import Callable
from pathlib import Path

from labkit.commands.check_told import COLUMNS, as_csv, as_table, facts
from labkit.errors import LabError, system_reason
from labkit.files.folder.hand_ins import hand_ins, is_our_page
from labkit.files.folder.run import check_all
from labkit.files.folder.tally import tally
from labkit.files.writing.part import parts_of
from labkit.home import home
from labkit.room.rules import load_room

DESCRIPTION = (
    "Look over files, or all files of folders: what is found, why it matters, and what the student "
    "should do. Each gets a verdict: fine (print it), look (a person must decide) or stop (it cannot be "
    "printed as handed in). Exit code 1 if anything is stop."
)
_HEAD = ",".join(COLUMNS).encode()


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="a file, or a folder of files")
    parser.add_argument("--full", action="store_true", help="tell what is fine as well")
    parser.add_argument(
        "--paper",
        metavar="NAME",
        help="what the totals are reckoned for; the first kept in each size if not given",
    )
    parser.add_argument("--report", metavar="FILE.html", help="write a page to work from")
    parser.add_argument("--csv", metavar="FILE.csv", help="write a row for each finding")
    parser.add_argument("--json", action="store_true", help="the findings as JSON instead of words")
    parser.add_argument("--replace", action="store_true", help="replace a report of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Check all that is asked for, tell it, and give the exit code: 1 if anything is ``stop``."""
    room = load_room(options.room) if options.room else home().room()
    room.paper(options.paper)
    outputs = []
    for given, ending in ((options.report, ".html"), (options.csv, ".csv")):
        if given:
            outputs.append(Path(given))
            _refuse_ending(outputs[-1], ending)
            _refuse_taken(outputs[-1], replace_it=options.replace)
    files = list(hand_ins([Path(path).expanduser() for path in options.paths], outputs))
    if not files:
        raise LabError("there is no file to check in what was given: name files, or a folder.")
    checked = check_all(
        files, room, thumbnails=bool(options.report), progress=_progress(len(files))
    )
    totals = tally(checked, room, options.paper)
    if options.json:
        told = json.dumps([facts(each) for each in checked], ensure_ascii=False, indent=1)
        # bytes of a name that are no text stand as JSON's own escapes
        print(told.encode("utf-8", "backslashreplace").decode())
    else:
        print(as_table(checked, totals, room, in_full=options.full))
    if options.report:
        from labkit.drawing.pages.report import report

        today = time.strftime("%Y-%m-%d")
        _write(Path(options.report), report(checked, room, totals, today), options.replace)
    if options.csv:
        _write(Path(options.csv), as_csv(checked), options.replace)
    return 1 if any(each.verdict == "stop" for each in checked) else 0


def _is_written_by_us(file: Path) -> bool:
    try:
        with file.open("rb") as opened:
            return is_our_page(file) or opened.read(len(_HEAD)) == _HEAD
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
    try:
        with parts_of(file) as (part,):
            part.write_text(text, encoding="utf-8", errors="backslashreplace", newline="")
            _refuse_taken(file, replace_it=replace_it)
            part.replace(file)
    except OSError as error:
        told = f"{file} cannot be written ({system_reason(error)}): choose another folder."
        raise LabError(told) from None
