"""The papers this room keeps: kind, weight, side, the sizes each is kept in, price, what it suits."""

from collections.abc import Iterator

from labkit.commands.columns import columns
from labkit.geometry.paper import catalogue
from labkit.home import home
from labkit.room.printers import hours_text
from labkit.room.rules import Room, load_room
from labkit.room.stock import KeptSheet, Paper, Roll


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument(
        "--all", action="store_true", help="also every sheet size that has a name, kept here or not"
    )
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Tell all of it."""
    room = load_room(options.room) if options.room else home().room()
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
