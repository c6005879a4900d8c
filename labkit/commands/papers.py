"""The papers this room keeps: kind, weight, side, the sizes each is kept in, price, what it suits.

With a picture: what each of them shows of it, and which to take.
"""

from collections.abc import Iterator
from pathlib import Path

from labkit.commands.columns import columns
from labkit.errors import LabError
from labkit.geometry.paper import catalogue, find_sheet
from labkit.home import home
from labkit.room.printers import hours_text
from labkit.room.rules import Room, load_room
from labkit.room.stock import KeptSheet, Paper, Roll


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "--all", action="store_true", help="also every sheet size that has a name, kept here or not"
    )
    parser.add_argument(
        "--picture", metavar="FILE", help="compare the papers for this picture, and recommend one"
    )
    parser.add_argument(
        "--sheet", metavar="SIZE", help="the sheet it is to be printed on, for the prices"
    )
    parser.add_argument("--report", metavar="FILE.html", help="the comparison as one page")
    parser.add_argument("--replace", action="store_true", help="replace a page of the same name")
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Tell all of it."""
    room = load_room(options.room) if options.room else home().room()
    if options.picture:
        return _compare(options, room)
    if options.report or options.sheet:
        raise LabError("--sheet and --report are for a comparison: name a picture with --picture.")
    print(f"Papers at {room.name}")
    for paper in room.papers:
        print()
        print("\n".join(_told(paper, room)))
    if options.all:
        print("\nSheet sizes by name, kept here or not")
        named = [
            (sheet.name, sheet.in_unit("in"), sheet.in_unit("mm"), sheet.standard)
            for sheet in catalogue()
        ]
        print("\n".join(columns(named, indent="  ")))
    return 0


def _compare(options, room: Room) -> int:
    from labkit.commands.output import refuse_ending, refuse_taken, write_page
    from labkit.job.papers import compare_papers, page
    from labkit.job.words import open_picture

    report = Path(options.report).expanduser() if options.report else None
    if report:
        refuse_ending(report, ".html")
        refuse_taken(report, replace_it=options.replace)
    picture = open_picture(options.picture, room=room)
    sheet = find_sheet(options.sheet) if options.sheet else None
    compared = compare_papers(picture, room, sheet=sheet)
    if report:
        write_page(report, page(compared, room), options.replace)
    print("\n".join(_compared(compared, room)))
    return 0


def _compared(compared, room: Room) -> Iterator[str]:
    from labkit.job.papers import rows_of, unknown

    yield f"Papers at {room.name} for {compared.picture.path.name}, on {compared.sheet}"
    yield ""
    yield from columns(rows_of(compared, room))
    yield ""
    yield from unknown(compared)
    if any(each.lost is not None for each in compared.candidates):
        wide, high = compared.shape
        yield (
            f"What cannot be shown is more than 3 off in CIEDE2000, measured on a copy of {wide} × {high} "
            "pixels. White and black are CIE L*: 100 reflects all light, 0 none."
        )
    yield compared.reason(room)


def _told(paper: Paper, room: Room) -> Iterator[str]:
    """One paper, as a student is advised from it."""
    yield f"{paper.name}: {paper.surface}, {paper.weight_gsm} g/m²"
    yield f"  suits       {paper.suits}"
    yield f"  print on    {paper.coated_side}"
    first, *others = room.settings_of(paper)
    names = dict.fromkeys(each.printer for each in others if each.printer != first.printer)
    yield f"  printed on  {' or '.join([first.printer, *names])}"
    yield f"  dries for   {hours_text(first.drying_hours)} before it is stacked or framed"
    rows = [_sheet(kept, room) for kept in paper.sheets] + [_roll(r, room) for r in paper.rolls]
    named = [("" if number else "sizes", *row) for number, row in enumerate(rows)]
    yield from columns(named, indent="  ", right=(2,))


def _sheet(kept: KeptSheet, room: Room) -> tuple[str, str, str]:
    left = "" if kept.left is None else f"{kept.left} left"
    return str(kept.sheet), room.money(kept.price), left


def _roll(roll: Roll, room: Room) -> tuple[str, str, str]:
    left = "" if roll.left is None else f"{roll.left.both(room.units)} left"
    size = f"roll {roll.width.both(room.units)} wide, {roll.length.both(room.units)} long"
    price = room.money(roll.price_per_metre)
    a_metre = "" if roll.price_per_metre is None else "a metre"
    return size, price, ", ".join(filter(None, (a_metre, left)))
