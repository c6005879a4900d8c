"""Write the job ticket of a finished file, whoever made it, from what is measured of it."""

import sys
from datetime import date
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.home import home
from labkit.job.ticket import Ticketed, write_ticket
from labkit.room.rules import Room, load_room


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="a finished file, or several")
    parser.add_argument(
        "--page", type=int, metavar="N", help="which page or frame of a file that has several"
    )
    parser.add_argument("--copies", type=int, default=1, metavar="N")
    parser.add_argument(
        "--paper",
        metavar="NAME",
        help="one of the room's papers; the first kept in this size if not given",
    )
    parser.add_argument(
        "--printer", metavar="NAME", help="one of the room's; the paper's own if not given"
    )
    parser.add_argument("--course", default="", metavar="TEXT")
    parser.add_argument("--due", default="", metavar="DATE")
    parser.add_argument(
        "--cut-to",
        metavar="BORDER",
        help="list the cuts that leave this white border, or the widest",
    )
    parser.add_argument("--below", metavar="MORE", help="so much more of it below: 1/2in, or 10%%")
    parser.add_argument("--out", metavar="FOLDER", help="where to; beside the file if not given")
    parser.add_argument("--replace", action="store_true", help="replace a ticket of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Write a ticket for each file; one that is refused does not stop the others, and the code is 2."""
    room = load_room(options.room) if options.room else home().room()
    refused = 0
    with Guarded("labkit.files.look.look") as child:
        for file in options.files:
            try:
                print(_told(_write(Path(file).expanduser(), options, room, child), room))
            except LabError as refusal:
                if len(options.files) == 1:
                    raise
                print(f"labkit: {file}: {refusal}", file=sys.stderr)
                refused += 1
    return 2 if refused else 0


def _write(file: Path, options, room: Room, child: Guarded) -> Ticketed:
    return write_ticket(
        file,
        room=room,
        day=date.today(),
        copies=options.copies,
        paper=options.paper,
        printer=options.printer,
        course=options.course,
        due=options.due,
        border=options.cut_to,
        below=options.below,
        out=options.out and Path(options.out).expanduser(),
        replace_it=options.replace,
        page=options.page,
        child=child,
    )


def _told(made: Ticketed, room: Room) -> str:
    route, copies = made.route, made.copies
    prints = "1 print" if copies == 1 else f"{copies} prints"
    rows = [
        ("job", made.number),
        ("printer", f"{route.printer.name}, {route.path_name}"),
        ("paper", f"{route.paper.name}, {route.stock_name}"),
        ("price", f"{room.money(route.price(copies))} for {prints}"),
        *(("look", sentence) for sentence in made.printed.warnings),
    ]
    return "\n".join([str(made.ticket), *(f"  {word:8} {told}" for word, told in rows)])
