"""Look over files, or all files of folders: what is found, why it matters, what the student should do."""

import json
import time
from pathlib import Path

from labkit.commands.check_told import as_csv, as_table, facts
from labkit.commands.output import progress_bar, refuse_ending, refuse_taken, write_page
from labkit.errors import LabError
from labkit.files.folder.hand_ins import hand_ins
from labkit.files.folder.run import check_all
from labkit.files.folder.tally import tally
from labkit.home import home
from labkit.room.rules import load_room

DESCRIPTION = (
    "Look over files, or all files of folders: what is found, why it matters, and what the student "
    "should do. Each gets a verdict: fine (print it), look (a person must decide) or stop (it cannot be "
    "printed as handed in). Exit code 1 if anything is stop."
)


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
            refuse_ending(outputs[-1], ending)
            refuse_taken(outputs[-1], replace_it=options.replace)
    files = list(hand_ins([Path(path).expanduser() for path in options.paths], outputs))
    if not files:
        raise LabError("there is no file to check in what was given: name files, or a folder.")
    checked = check_all(
        files, room, thumbnails=bool(options.report), progress=progress_bar(len(files))
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
        write_page(Path(options.report), report(checked, room, totals, today), options.replace)
    if options.csv:
        write_page(Path(options.csv), as_csv(checked), options.replace)
    return 1 if any(each.verdict == "stop" for each in checked) else 0
