"""List the sheet sizes that have a name, and what the room has in stock."""

from labkit.commands.columns import columns
from labkit.geometry.paper import catalogue
from labkit.home import home
from labkit.room.rules import load_room


def add_arguments(parser) -> None:
    """The options of the command."""
    parser.add_argument("--room", metavar="FILE", help="the rules of another print room")


def run(options) -> int:
    """Tell all of it."""
    room = load_room(options.room) if options.room else home().room()
    stocked = [(sheet, "") for sheet in room.sheets]
    known = [(sheet, sheet.standard) for sheet in catalogue()]
    for heading, rows in ((f"In stock at {room.name}", stocked), ("Sheet sizes by name", known)):
        print(f"{heading}:")
        cells = [
            (sheet.name, sheet.in_unit("in"), sheet.in_unit("mm"), standard)
            for sheet, standard in rows
        ]
        print("\n".join(columns(cells, indent="  ")) + "\n")
    print("Rolls in stock:")
    rolls = [(f"{roll.width.both()} wide", f"{roll.length.both('mm')} long") for roll in room.rolls]
    print("\n".join(columns(rolls, indent="  ")))
    print("\nPapers:")
    papers = [(paper.name, paper.surface, f"{paper.weight_gsm} g/m²") for paper in room.papers]
    print("\n".join(columns(papers, indent="  ")))
    return 0
