"""List the sheet sizes that have a name, and what the room has in stock."""

from labkit.geometry.paper import catalogue
from labkit.home import home
from labkit.room.rules import load_room


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(asked) -> int:
    """Tell all of it."""
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
