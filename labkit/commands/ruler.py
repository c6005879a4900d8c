"""Write a ruler sheet to print, and read what was measured of it."""

from datetime import date
from pathlib import Path

from labkit.commands.ruler_told import told
from labkit.errors import LabError
from labkit.geometry.length import length
from labkit.geometry.measured import EACH_END, Errors, Reading, fine_text, offset, scale_error, skew
from labkit.geometry.ruler import Bar, unit_of
from labkit.home import home
from labkit.job.ruler import keep_measured, write_ruler
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
_EDGES = ("left", "left-below", "right", "top", "bottom")


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
    for name in ("across", "along", *_EDGES):
        read.add_argument(f"--{name}", nargs="+", action="extend", metavar="LENGTH")
    read.add_argument(
        "--each-end", metavar="LENGTH",
        help=f"how far a reading at one end may be off ({fine_text(EACH_END).replace(' ', '')})",
    )  # fmt: skip
    read.add_argument(
        "--keep", action="store_true", help="keep it in the room's file, with today's date"
    )


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
    given = [name for name in ("across", "along", *_EDGES) if _given(options, name)]
    if given or options.keep:
        word = f"--{given[0]}" if given else "--keep"
        raise LabError(f"{word} is for what was measured: say labkit ruler read.")
    out = Path(options.out).expanduser() if options.out else home().exports
    made = write_ruler(ruling, room, out=out, replace_it=options.replace)
    print(f"{made.file.name}\n  for      {ruling}")
    print(f"  print    three, at 100 %\n  measure  {made.page.name}\n  folder   {made.file.parent}")
    return 0


def _read(options, ruling: Ruling, room: Room) -> int:
    errors = errors_of(
        {name: _given(options, name) for name in ("across", "along", *_EDGES)},
        ruling,
        options.each_end,
    )
    causes = ruling.causes(errors, room)
    print("\n".join(told(errors, causes, ruling, room.units)))
    if options.keep:
        path = Path(options.room).expanduser() if options.room else home().room_file
        kept, before = keep_measured(path, ruling, errors, date.today())
        print(f"Kept in {path}, dated {kept.date}; the file as it was is {before.name}.")
    return 1 if any(each.is_seen for each in errors.found) else 0


def errors_of(given: dict[str, list[str]], ruling: Ruling, each_end: str | None = None) -> Errors:
    """The errors of what was measured, by the names of the options; LabError for what is missing or does not
    go together."""
    counts = {name: len(values) for name, values in given.items() if values}
    for name in ("across", "along"):
        if name not in counts:
            raise LabError(
                f"--{name} is missing: give it for each print, such as --{name} "
                f"{_like(getattr(ruling.ruler, name))}."
            )
    if len(set(counts.values())) > 1:
        told_counts = ", ".join(f"{count} of --{name}" for name, count in counts.items())
        raise LabError(f"there are {told_counts}: give each measure once for each print.")
    end = EACH_END if each_end is None else length(each_end, "what a reading may be off")
    inset = ruling.ruler.inset
    sides = {
        name: [length(text, f"--{name}") for text in given[name]]
        for name in _EDGES
        if given.get(name)
    }
    for name, sizes in sides.items():
        for size in sizes:
            if abs(size - inset) > inset:
                raise LabError(
                    f"--{name} {size.both()} is far from the {inset.both()} it should be: check the unit."
                )
    return Errors(
        _scale(given["across"], ruling.ruler.across, "across", end),
        _scale(given["along"], ruling.ruler.along, "along", end),
        _offset(sides, "left", "right", end),
        None if ruling.is_roll else _offset(sides, "top", "bottom", end),
        skew(sides["left"], sides["left-below"], ruling.ruler.between, end)
        if "left-below" in sides and "left" in sides
        else None,
    )


def _scale(texts: list[str], bar: Bar, name: str, end):
    return scale_error(
        [Reading(bar.asked(unit_of(text)), length(text, f"--{name}")) for text in texts], end
    )


def _offset(sides, near: str, far: str, end):
    if near in sides and far in sides:
        return offset(sides[near], sides[far], end)
    return None


def _given(options, name: str) -> list[str]:
    return getattr(options, name.replace("-", "_")) or []


def _like(bar: Bar) -> str:
    return bar.in_inches.inch_text().replace(" ", "")
