"""The command line: the same computation as the lessons, for the day's work."""

import argparse
import os
import signal
import sys
from pathlib import Path

from labkit.errors import LabError

EPILOG = (
    "Lengths have a unit: 12in, 12 1/2 in, 30cm, 300mm. Every refusal says what to do about it."
)

MAKING = ("labkit.making", "labkit.files.tiff", "imagecodecs")
SERVER = (
    "--ServerApp.kernel_websocket_connection_class=labkit.server.PromptConnection",
    "--ServerApp.tornado_settings={'websocket_max_message_size': 536870912}",
)
"""Sliders that answer at once, and pictures of up to 512 MiB where the server itself drops any message
above 10 MiB without a word."""


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit code is 0 when all is well, 1 for a finding, 2 for a refusal."""
    asked = _parser().parse_args(arguments)
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # so that it tidies up, too
    try:
        code = asked.run(asked)
        sys.stdout.flush()
        return code
    except LabError as refusal:
        print(f"labkit: {refusal}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("labkit: stopped; nothing was left behind.", file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 2
    except OSError as error:
        what = "what is told here" if error.filename is None else str(error.filename)
        reason = error.strerror or type(error).__name__
        print(f"labkit: {what} cannot be read or written ({reason}).", file=sys.stderr)
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115  what is left would be tried again
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m labkit", description=__doc__, epilog=EPILOG)
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _add_prepare(commands)
    _add_check(commands)
    papers = commands.add_parser("papers", help="list sheet sizes, and what the room has in stock")
    papers.add_argument("--room", metavar="FILE", help="the rules of another print room")
    papers.set_defaults(run=_papers)
    _add_room(commands)
    lessons = commands.add_parser(
        "lessons",
        help="open the lessons in JupyterLab",
        epilog="What follows -- goes to JupyterLab: python -m labkit lessons -- --port 8889",
    )
    lessons.add_argument(
        "--cases", metavar="FOLDER", help="hand-ins of your own for the practice counter"
    )
    lessons.add_argument("rest", nargs="*", metavar="-- …", help="options for JupyterLab")
    lessons.set_defaults(run=_lessons)
    return parser


def _add_prepare(commands) -> None:
    prepare = commands.add_parser(
        "prepare",
        help="make a print file and its job ticket from a picture",
        description="Make a print file, exactly the size of its sheet, and a job ticket from each picture.",
        epilog=EPILOG,
    )
    prepare.add_argument(
        "files", nargs="+", metavar="PICTURE", help="a picture, or several for a series"
    )
    sheet = prepare.add_argument_group("sheet")
    sheet.add_argument(
        "--sheet", required=True, metavar="SIZE", help="A3, letter, 13x19in, 329x483mm …"
    )
    sheet.add_argument("--turn", action="store_true", help="lay the sheet on its side")
    size = prepare.add_argument_group("size of the picture (none: 100 %, as the file states)")
    size.add_argument("--width", metavar="LENGTH")
    size.add_argument("--height", metavar="LENGTH")
    size.add_argument("--fit", action="store_true", help="as large as the border allows")
    size.add_argument(
        "--fill",
        action="store_true",
        help="cover all inside the border, or a box of --width by --height, cropped",
    )
    size.add_argument(
        "--border", metavar="LENGTH", help="for fit and fill; the room's own if not given"
    )
    size.add_argument(
        "--crop-at", metavar="X,Y", help="what stays when cropped, as fractions: 0.5,0.3"
    )
    place = prepare.add_argument_group("place")
    place.add_argument(
        "--at", default="centre", metavar="PLACE", help="centre, optical or even-three"
    )
    place.add_argument("--left", metavar="LENGTH", help="left border, together with --top")
    place.add_argument("--top", metavar="LENGTH", help="top border, together with --left")
    place.add_argument("--trim", metavar="SIZE", help="print to the edge of this finished size")
    place.add_argument(
        "--bleed", metavar="LENGTH", help="what the cut takes; the room's own if not given"
    )
    place.add_argument(
        "--whole",
        action="store_true",
        help="the file is a finished sheet: every pixel stays where it is, only its form is mended",
    )
    pixels = prepare.add_argument_group("pixels")
    pixels.add_argument(
        "--resample", type=int, metavar="PPI", help="make new pixels at this resolution"
    )
    pixels.add_argument(
        "--keep-pixels", action="store_true", help="keep every pixel, whatever the ppi"
    )
    pixels.add_argument(
        "--strict", action="store_true", help="exit 1 if a print falls below the floor"
    )
    job = prepare.add_argument_group("job")
    job.add_argument("--owner", metavar="NAME", help="whose it is (or from the file's name)")
    job.add_argument("--title", metavar="WORDS", help="what it is (or from the file's name)")
    job.add_argument("--copies", type=int, default=1, metavar="N")
    job.add_argument(
        "--paper", metavar="NAME", help="one of the room's papers; its first if not given"
    )
    job.add_argument("--course", default="", metavar="TEXT")
    job.add_argument("--due", default="", metavar="DATE")
    output = prepare.add_argument_group("output")
    output.add_argument(
        "--out", metavar="FOLDER", help="where to; the reader's own folder if not given"
    )
    output.add_argument("--replace", action="store_true", help="replace files of the same name")
    output.add_argument("--room", metavar="FILE", help="the rules of another print room")
    output.add_argument("--json", action="store_true", help="the facts as JSON instead of words")
    prepare.set_defaults(run=_prepare)


def _add_check(commands) -> None:
    check = commands.add_parser(
        "check",
        help="look over what is handed in",
        description="Look over files, or all files of folders: what is found, why it matters, and what "
        "the student should do. Each gets a verdict: fine (print it), look (a person must decide) or "
        "stop (it cannot be printed as handed in). Exit code 1 if anything is stop.",
    )
    check.add_argument("paths", nargs="+", metavar="PATH", help="a file, or a folder of files")
    check.add_argument("--full", action="store_true", help="tell what is fine as well")
    check.add_argument("--paper", metavar="NAME", help="what the totals are reckoned for")
    check.add_argument("--report", metavar="FILE.html", help="write a page to work from")
    check.add_argument("--csv", metavar="FILE.csv", help="write a row for each finding")
    check.add_argument("--json", action="store_true", help="the findings as JSON instead of words")
    check.add_argument("--replace", action="store_true", help="replace a report of the same name")
    check.add_argument("--room", metavar="FILE", help="the rules of another print room")
    check.set_defaults(run=_check)


def _add_room(commands) -> None:
    room = commands.add_parser("room", help="begin or check a print room's own rules")
    actions = room.add_subparsers(required=True, metavar="ACTION")
    for action, run, told in (
        ("new", _room_new, "write a commented file of rules to edit"),
        ("check", _room_check, "explain each mistake in such a file, with its line"),
    ):
        added = actions.add_parser(action, help=told)
        added.add_argument("file", metavar="FILE")
        added.set_defaults(run=run)


def _prepare(asked) -> int:
    from labkit.files.guarded import Guarded

    with Guarded(
        *MAKING
    ) as child:  # its imports run while this process reads the room and the picture
        from labkit.prepare import prepare

        return prepare(asked, child)


def _check(asked) -> int:
    from labkit.counter import check_paths

    return check_paths(asked)


def _papers(asked) -> int:
    from labkit.geometry.paper import catalogue
    from labkit.home import home
    from labkit.room import load_room

    room = load_room(asked.room) if asked.room else home().room()
    stocked = [(sheet, "") for sheet in room.sheets]
    known = [(sheet, sheet.standard) for sheet in catalogue()]
    for heading, rows in ((f"In stock at {room.name}", stocked), ("Sheet sizes by name", known)):
        print(f"{heading}:")
        for sheet, standard in rows:
            named = "" if sheet.name == sheet.size else sheet.name
            inch, metric = (sheet.in_unit(unit) for unit in ("in", "mm"))
            print(f"  {named or sheet.size:12} {inch:22} {metric:20} {standard}".rstrip())
        print()
    print("Rolls in stock:")
    for roll in room.rolls:
        print(f"  {roll.width.both():24} wide, {roll.length.both('mm')} long")
    print("\nPapers:")
    for paper in room.papers:
        print(f"  {paper.name}: {paper.surface}, {paper.weight_gsm} g/m²")
    return 0


def _room_new(asked) -> int:
    from labkit.room import new_room

    new_room(Path(asked.file))
    print(f"{asked.file}: edit it, then run `python -m labkit room check {asked.file}`.")
    return 0


def _room_check(asked) -> int:
    from labkit.room import check_room

    mistakes = check_room(Path(asked.file))
    for mistake in mistakes:
        print(f"{asked.file}: {mistake}")
    if not mistakes:
        print(f"{asked.file}: nothing to mend.")
    return 1 if mistakes else 0


def _lessons(asked) -> int:
    import subprocess
    from importlib.util import find_spec

    first = Path(__file__).resolve().parents[1] / "notebooks" / "00-start-here.ipynb"
    if not first.exists():
        raise LabError(
            f"the lessons are not at {first.parent}: run this inside a clone of the project."
        )
    if find_spec("jupyterlab") is None:
        raise LabError("JupyterLab is not installed: run `pip install -r requirements.txt` first.")
    from labkit.home import VARIABLE, home

    print(f"Your own files go to {home().folder} (set {VARIABLE} to choose another folder).")
    environment = dict(os.environ)
    if asked.cases:
        from labkit.teaching.counter import CASES
        from labkit.teaching.faults import read_cases

        read_cases(Path(asked.cases))  # told here of what is wrong with it, and not in a lesson
        environment[CASES] = str(Path(asked.cases).resolve())
    server = subprocess.Popen(
        [sys.executable, "-m", "jupyterlab", str(first), *SERVER, *asked.rest], env=environment
    )
    try:
        return server.wait()
    except KeyboardInterrupt:
        server.terminate()  # not killed: it ends its kernels first
        return server.wait()


if __name__ == "__main__":
    sys.exit(main())
