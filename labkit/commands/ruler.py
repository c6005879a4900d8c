"""Write a ruler sheet to print, and read what was measured of it."""

from datetime import date
from pathlib import Path

from labkit.commands.ruler_told import as_json, told
from labkit.errors import LabError
from labkit.geometry.length import length
from labkit.geometry.measured import EACH_END, Errors, fine_text
from labkit.home import home
from labkit.job.ruler import keep_measured, write_ruler
from labkit.room.measures import MEASURED, errors_of
from labkit.room.rules import Room, load_room
from labkit.room.ruling import Ruling, ruling_on_roll, ruling_on_sheet

DESCRIPTION = (
    "Write a ruler sheet as a print file, with a page that says what to measure; or, with the word read, "
    "say what the measures of some prints mean: scale, offset and skew, and what to set at the printer."
)
EPILOG = (
    "Give each measure once for each print, with its unit: --across 11.71in 11.72in 11.71in. In inches a "
    "bar is read on the side of the inches, in millimetres on the other."
)


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "action", nargs="?", choices=("write", "read"), default="write", help="write if not given"
    )
    stock = parser.add_mutually_exclusive_group(required=True)
    stock.add_argument("--sheet", metavar="SIZE", help="a sheet in stock: A3, 13x19in")
    stock.add_argument("--roll", metavar="WIDTH", help="a metre of a roll in stock: 24in")
    parser.add_argument("--printer", metavar="NAME", help="one of the room's; else the paper's own")
    parser.add_argument("--paper", metavar="NAME", help="one of the room's papers")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")
    made = parser.add_argument_group("to write")
    made.add_argument("--out", metavar="FOLDER", help="where to; your exports if not given")
    made.add_argument("--replace", action="store_true", help="replace files of the same name")
    read = parser.add_argument_group("to read")
    for name in MEASURED:
        read.add_argument(f"--{name}", nargs="+", action="extend", metavar="LENGTH")
    read.add_argument(
        "--each-end", metavar="LENGTH",
        help=f"how far a reading at one end may be off ({fine_text(EACH_END).replace(' ', '')})",
    )  # fmt: skip
    read.add_argument(
        "--keep", action="store_true", help="keep it in the room's file, with today's date"
    )
    read.add_argument("--json", action="store_true", help="the figures as JSON instead of words")


def run(options) -> int:
    """Write the ruler sheet, or read it; the code is 1 where something is to be mended."""
    room = load_room(options.room) if options.room else home().room()
    ruling = _ruling(options, room)
    return (
        _read(options, ruling, room) if options.action == "read" else _write(options, ruling, room)
    )


def _ruling(options, room: Room) -> Ruling:
    if options.roll:
        return ruling_on_roll(
            room, length(options.roll, "the roll"), options.printer, options.paper
        )
    return ruling_on_sheet(room, options.sheet, options.printer, options.paper)


def _write(options, ruling: Ruling, room: Room) -> int:
    given = [name for name in MEASURED if _given(options, name)]
    if given or options.keep or options.json:
        word = f"--{given[0]}" if given else "--keep" if options.keep else "--json"
        raise LabError(f"{word} is for what was measured: say labkit ruler read.")
    out = Path(options.out).expanduser() if options.out else home().exports
    made = write_ruler(ruling, room, out=out, replace_it=options.replace)
    print(f"{made.file.name}\n  for      {ruling}")
    print(f"  print    three, at 100 %\n  measure  {made.page.name}\n  folder   {made.file.parent}")
    return 0


def _read(options, ruling: Ruling, room: Room) -> int:
    errors = errors_of(
        {name: _given(options, name) for name in MEASURED},
        ruling,
        options.each_end,
    )
    causes = ruling.causes(errors, room)
    if not options.json:
        print("\n".join(told(errors, causes, ruling, room.units)))
    kept = _keep(options, ruling, errors) if options.keep else None
    if options.json:
        print(as_json(errors, causes, ruling, kept))
    elif kept:
        print("Kept in {file}, dated {date}; the file as it was is {before}.".format(**kept))
    return 1 if any(each.is_seen for each in errors.found) else 0


def _keep(options, ruling: Ruling, errors: Errors) -> dict[str, str]:
    """Keep it, and say in which file, under which date, and what the file as it was is called."""
    path = Path(options.room).expanduser() if options.room else home().room_file
    kept, before = keep_measured(path, ruling, errors, date.today())
    return {"file": str(path), "date": kept.date.isoformat(), "before": before.name}


def _given(options, name: str) -> list[str]:
    return getattr(options, name.replace("-", "_")) or []
