"""Lay several finished prints out on a roll or on sheets: the least paper, and cuts in order."""

import sys
import time
from pathlib import Path

from labkit.commands.layout_told import offers_told, told
from labkit.errors import LabError
from labkit.files.gang.gang import gap_for, lay_out_prints
from labkit.files.gang.offers import cheapest, compare_stock
from labkit.files.gang.prints import Print, read_pictures, read_prints
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.home import home
from labkit.job.gang import write_gangs
from labkit.room.laying import Medium, medium_on_roll, medium_on_sheet
from labkit.room.rules import Room, load_room

DESCRIPTION = (
    "Lay several finished prints out on a roll or on sheets, so that straight cuts part them: which "
    "piece lies where, the cuts in order, what the paper costs and who pays which share. Without a roll "
    "or sheet all that is in stock is compared, and the cheapest taken. Prints of "
    "different resolution or profile come into files of their own; no pixel is changed unless --convert "
    "is said."
)
_STAGES = {"2": 2, "3": 3, "any": None}


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="finished print files")
    stock = parser.add_mutually_exclusive_group()
    stock.add_argument("--roll", metavar="WIDTH", help="a roll in stock: 24in")
    stock.add_argument("--sheet", metavar="SIZE", help="sheets: A3, 13x19in")
    parser.add_argument(
        "--contact", metavar="SIZE",
        help="a contact sheet instead: pictures of any kind in cells of this size (5x7in), with captions",
    )  # fmt: skip
    parser.add_argument(
        "--convert",
        action="store_true",
        help="bring prints of another resolution, profile or depth to the room's, and say what was changed",
    )
    parser.add_argument("--paper", metavar="NAME", help="one of the room's papers")
    parser.add_argument(
        "--gap", default="1/4in", metavar="LENGTH", help="at least so much between pieces (1/4in)"
    )
    parser.add_argument(
        "--copies", action="append", default=[], metavar="NAME=3", help="several of one print"
    )
    parser.add_argument(
        "--set", action="append", default=[], dest="sets", metavar="NAME",
        help="prints whose names begin so stay together, in order",
    )  # fmt: skip
    parser.add_argument(
        "--stages", choices=_STAGES, default="2",
        help="how often cuts change their direction: 2 (rows first), 3, or any",
    )  # fmt: skip
    parser.add_argument("--max-length", metavar="LENGTH", help="of a roll in one go: 10ft")
    parser.add_argument(
        "--write", metavar="FOLDER", help="write print files and a page to work from"
    )
    parser.add_argument(
        "--one-file",
        action="store_true",
        help="all rows of a roll in one print file, with one leader and tail",
    )
    parser.add_argument(
        "--job", metavar="NUMBER", help="the job's number (date and time if not given)"
    )
    parser.add_argument("--replace", action="store_true", help="replace files of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Lay out, tell it, and write what is asked for; the exit code is 1 if something is left out."""
    room = load_room(options.room) if options.room else home().room()
    gap = length(options.gap, "the gap")
    longest = length(options.max_length, "the greatest length") if options.max_length else None
    if longest and options.sheet:
        raise LabError("--max-length is for a roll: a sheet has its own length.")
    prints, refused = _read(options, room)
    rules = {
        "gap": gap, "stages": _STAGES[options.stages], "max_length": longest,
        "one_file": options.one_file, "contact": bool(options.contact),
    }  # fmt: skip
    offers = ()
    if options.roll or options.sheet:
        gangs = lay_out_prints(prints, _medium(options, room), room, **rules)
    else:
        offers = compare_stock(prints, room, options.paper, progress=_comparing, **rules)
        gangs = list(cheapest(offers, room).gangs)
    job = options.job or time.strftime("%Y%m%d-%H%M%S")
    written = None
    if options.write:
        count = sum(len(gang.runs) for gang in gangs)
        written = write_gangs(
            gangs, room, job=job, folder=options.write, refused=refused, replace=options.replace,
            progress=lambda done: _progress(done, count),
        )  # fmt: skip
    if offers:
        print(offers_told(offers, cheapest(offers, room), room), end="\n\n")
    print(told(gangs, room, refused, widened=gap_for(gap) if gap_for(gap) > gap else None))
    if written:
        names = "\n".join(f"  {file.name}" for file in (*written.files, written.page))
        print(f"\nWritten into {written.page.parent}:\n{names}")
    left = refused or any(gang.packing.left_out for gang in gangs)
    return 1 if left else 0


def _read(options, room: Room) -> tuple[list[Print], list[str]]:
    files = [Path(file) for file in options.files]
    if not options.contact:
        return read_prints(
            files, room, copies=_copies(options.copies), sets=options.sets, convert=options.convert
        )
    for name in ("copies", "sets", "convert"):
        if getattr(options, name):
            raise LabError(
                f"--{name.replace('sets', 'set')} is for prints to be cut apart, and a contact sheet "
                "shows each picture once: leave one of the two out."
            )
    return read_pictures(files, find_sheet(options.contact).sides, room)


def _medium(options, room: Room) -> Medium:
    if options.roll:
        return medium_on_roll(room, length(options.roll, "the roll"), options.paper)
    return medium_on_sheet(room, options.sheet, options.paper)


def _copies(given: list[str]) -> dict[str, int]:
    wanted = {}
    for each in given:
        name, _, count = each.rpartition("=")
        if not name or not count.strip().isdecimal():
            raise LabError(f"--copies {each} is not understood: write it like --copies Boat=3.")
        wanted[name.strip()] = int(count)
    return wanted


def _comparing(done: int, count: int) -> None:
    if sys.stderr.isatty():
        print(f"comparing  {done} of {count}\r", end="", file=sys.stderr, flush=True)


def _progress(done: int, count: int) -> None:
    if sys.stderr.isatty():
        print(f"writing  {done + 1} of {count}\r", end="", file=sys.stderr, flush=True)
