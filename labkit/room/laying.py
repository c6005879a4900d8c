"""What of a room's rules counts where several prints share a roll or a sheet.

The leader and tail of a roll, the thickness of paper, the cutter and the core are figures of the invented
room that comes with the package.
"""

from dataclasses import dataclass
from decimal import Decimal

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.packing import Cutter, Roll, Sheets
from labkit.geometry.paper import Sheet, find_sheet, sheet_of
from labkit.room.rules import Paper, Room

_LEADER, _TAIL = length("3cm"), length("5cm")
_LONGEST_CUT, _LEAST_STRIP, _LEAST_PIECE = length("44in"), length("1/2in"), length("3in")
_STACK = length("2mm")
_THICKNESS = {
    "cotton matt 300": length("0.5mm"),
    "pearl 260": length("0.3mm"),
    "plain 120": length("0.15mm"),
}
_THICK = length("0.5mm")
HELP_ABOVE_KG = Decimal(9)
"""Nobody lifts a heavier roll alone (our own judgement: it is bulky, and held away from the body)."""
CORE_DIAMETER, CORE_KG_PER_METRE = length("80mm"), Decimal("0.5")


@dataclass(frozen=True, slots=True)
class Medium:
    """A paper, and the roll or the sheets of it on which prints are laid out.

    ``height`` is None for a roll. ``edges`` are those that the printer does not reach; ``leader`` and
    ``tail`` run through before and after what is printed, and are none on sheets. ``on_roll`` is how much
    paper a new roll has.
    """

    paper: Paper
    width: Length
    height: Length | None
    edges: Edges
    leader: Length = ZERO
    tail: Length = ZERO
    on_roll: Length | None = None
    turn: bool = True

    @property
    def is_roll(self) -> bool:
        """Whether its length is free."""
        return self.height is None

    @property
    def name(self) -> str:
        """What the counter calls it."""
        if self.height is None:
            return f"{self.width.inch_text()} roll"
        return size_text((self.width, self.height))

    def stock(self, max_length: Length | None = None, below: Length = ZERO) -> Roll | Sheets:
        """What is left to print on, with ``below`` kept free under the last row.

        ``max_length`` is the longest piece of a roll, leader and tail included. LabError where nothing is
        left.
        """
        edges = self.edges
        width = self.width - edges.left - edges.right
        top, bottom = edges.top + self.leader, edges.bottom + self.tail + below
        margins = Edges(edges.left, top, edges.right, bottom)
        most = max_length if self.height is None else self.height
        if self.height is None and self.on_roll is not None:
            most = min(most or self.on_roll, self.on_roll)
        high = None if most is None else most - top - bottom
        if width <= ZERO or (high is not None and high <= ZERO):
            raise LabError(f"nothing of {self.name} is left to print on: give a larger one.")
        return Roll(width, high, margins) if self.height is None else Sheets(width, high, margins)


def medium_on_roll(room: Room, width: Length, paper: str | None = None) -> Medium:
    """The roll of that width; LabError, naming those there are, for one that is not in stock."""
    kept = next((each for each in room.rolls if each.width == width), None)
    if kept is None:
        names = ", ".join(each.width.both(room.units) for each in room.rolls) or "none"
        raise LabError(
            f"no roll of {width.both(room.units)} is in stock: there are rolls of {names}."
        )
    feeds = [each.roll for each in room.printers if each.roll]
    if not feeds:
        raise LabError("no printer of this room takes a roll: lay the prints out on sheets.")
    edges = feeds[0].unprintable
    return Medium(room.paper(paper), width, None, edges, _LEADER, _TAIL, kept.length)


def medium_on_sheet(room: Room, size: str | Sheet, paper: str | None = None) -> Medium:
    """Sheets of that size, lying as it is given; LabError for a size nobody knows."""
    sheet = find_sheet(size)
    return Medium(room.paper(paper), sheet.width, sheet.height, room.unprintable(sheet))


def rolls_of(room: Room, paper: str | Paper | None = None) -> list[Length]:
    """The widths of the rolls that a paper is kept in, the narrowest first."""
    return sorted(each.width for each in room.rolls)


def price_of(room: Room, medium: Medium, taken: Length, sheets: int = 1) -> Decimal | None:
    """What ``taken`` of a roll costs, or so many sheets; None where there is no price."""
    if medium.height is None:
        return room.roll_price(medium.paper, medium.width, taken)
    return room.price(medium.paper, sheet_of(medium.width, medium.height), sheets)


def cutter_of(room: Room, paper: Paper) -> Cutter:
    """What the room's cutter can do with that paper."""
    stack = max(1, int(_STACK / thickness_of(paper)))
    return Cutter(_LONGEST_CUT, _LEAST_STRIP, _LEAST_PIECE, stack)


def thickness_of(paper: Paper) -> Length:
    """Of one sheet."""
    return _THICKNESS.get(paper.name, _THICK)
