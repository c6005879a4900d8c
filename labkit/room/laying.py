"""What of a room's rules counts where several prints share a roll or a sheet."""

from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.packing import Cutter, Roll, Sheets
from labkit.geometry.paper import Sheet, find_sheet, sheet_of
from labkit.geometry.rolled import paper_kg
from labkit.geometry.trimplan import Blade
from labkit.room.printers import Setting
from labkit.room.route import metres_price, to_hundredths
from labkit.room.rules import Paper, Room


@dataclass(frozen=True, slots=True)
class Medium:
    """A paper, and the roll or the sheets of it on which prints are laid out.

    ``height`` is None for a roll. ``edges`` are those that the printer does not reach; ``leader`` and
    ``tail`` run through before and after what is printed, and are none on sheets. ``on_roll`` is how much
    paper a new roll has, and ``longest`` the most that can be printed of it in one go. ``left`` is how much
    there is: a length on the roll in use, or so many sheets; None where the room does not say.
    ``cuts``: the printer cuts the roll across by itself after each print file. ``setting`` is how the paper
    is printed on it, None where the room has none; ``is_turned``: a sheet that lies on its side, so that its
    left edge goes in first.
    """

    paper: Paper
    width: Length
    height: Length | None
    edges: Edges
    leader: Length = ZERO
    tail: Length = ZERO
    on_roll: Length | None = None
    turn: bool = True
    longest: Length | None = None
    left: Length | int | None = None
    cuts: bool = False
    setting: Setting | None = None
    is_turned: bool = False

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
        if self.longest is not None:
            most = min(most or self.longest, self.longest)
        high = None if most is None else most - top - bottom
        if width <= ZERO or (high is not None and high <= ZERO):
            raise LabError(f"nothing of {self.name} is left to print on: give a larger one.")
        return Roll(width, high, margins) if self.height is None else Sheets(width, high, margins)


def medium_on_roll(room: Room, width: Length, paper: str | Paper | None = None) -> Medium:
    """The roll of that width of a paper, the first that is kept on one where none is named.

    LabError, naming those there are, for a roll that is not in stock or that no printer takes.
    """
    papers = room.papers if paper is None else (room.paper(paper),)
    kept = [(each, roll) for each in papers for roll in each.rolls if roll.width == width]
    if not kept:
        told = sorted({roll.width for each in papers for roll in each.rolls})
        names = ", ".join(each.both(room.units) for each in told)
        of = f" of {papers[0].name}" if paper is not None else ""
        raise LabError(
            f"no roll of {width.both(room.units)}{of} is in stock: "
            + (f"there are rolls of {names}." if names else "lay the prints out on sheets.")
        )
    own, roll = kept[0]
    settings = [each for each in room.settings_of(own) if each.path == "roll"]
    feeds = [room.printer(each.printer).feeds["roll"] for each in settings]
    wide = [index for index, feed in enumerate(feeds) if feed.widest >= width]
    if not wide:
        raise LabError(
            f"no printer here has a setting for a {roll.name} of {own.name}: lay the prints out on sheets."
        )
    setting, feed = settings[wide[0]], feeds[wide[0]]
    ends = setting.leader or ZERO, setting.tail or ZERO
    longest = min(feed.longest, roll.left or roll.length)
    return Medium(
        own, width, None, feed.unprintable, *ends, roll.length, own.turn, longest,
        roll.left or roll.length, feed.cuts, setting,
    )  # fmt: skip


def medium_on_sheet(room: Room, size: str | Sheet, paper: str | Paper | None = None) -> Medium:
    """Sheets of that size, lying as it is given; LabError for a size nobody knows."""
    sheet = find_sheet(size)
    route = room.route(sheet, paper)
    kept = route.paper.sheet(sheet)
    return Medium(
        route.paper, sheet.width, sheet.height, route.unprintable, turn=route.paper.turn,
        left=kept.left if kept else None, setting=route.setting, is_turned=route.is_turned,
    )  # fmt: skip


def stock_to_lay_on(room: Room, paper: str | Paper | None = None) -> list[Medium]:
    """All that prints can be laid out on: of a paper, or of every one, each roll and each sheet.

    What no printer here has a setting for is left out. A sheet lies upright; of a paper on which prints may
    not be turned it lies on its side as well.
    """
    papers = room.papers if paper is None else (room.paper(paper),)
    found = []
    for own in papers:
        sheets = [kept.sheet for kept in own.sheets]
        sheets += [] if own.turn else [sheet.turned() for sheet in sheets]
        ways = [(medium_on_roll, roll.width) for roll in own.rolls]
        for make, size in (*ways, *((medium_on_sheet, sheet) for sheet in sheets)):
            with suppress(LabError):
                found.append(make(room, size, own))
    return found


def refuse_without_rolls(room: Room) -> None:
    """LabError where no paper at all is kept on a roll."""
    if not room.rolls:
        raise LabError(f"no paper at {room.name} is kept on a roll: add one to the room's file.")


def rolls_of(room: Room, paper: str | Paper | None = None) -> list[Medium]:
    """The rolls that a paper is kept on, the narrowest first; of the paper with the most of them where
    none is named. LabError where no paper at all is kept on a roll."""
    refuse_without_rolls(room)
    own = max(room.papers, key=lambda each: len(each.rolls)) if paper is None else room.paper(paper)
    return [medium_on_roll(room, width, own) for width in sorted(roll.width for roll in own.rolls)]


def price_of(room: Room, medium: Medium, taken: Length, sheets: int = 1) -> Decimal | None:
    """What ``taken`` of a roll costs, or so many sheets; None where there is no price."""
    if medium.height is not None:
        return room.price(medium.paper, sheet_of(medium.width, medium.height), sheets)
    roll = next((each for each in medium.paper.rolls if each.width == medium.width), None)
    price = roll and metres_price(roll, taken)
    return None if price is None else to_hundredths(price)


def roll_kg(room: Room, medium: Medium) -> float | None:
    """What a roll weighs with its core, as much as is left on it; None for sheets."""
    if not medium.is_roll:
        return None
    core = float(room.handling.core_kg_per_metre) * float(medium.width.mm) / 1000
    return core + paper_kg(medium.width, medium.left, medium.paper.weight_gsm)


def cutter_of(room: Room, paper: Paper) -> Cutter:
    """What the room's cutter can do with that paper."""
    own = room.cutter
    stack = max(1, int(own.stack / paper.thickness))
    return Cutter(own.longest_cut, own.least_strip, own.least_piece, stack)


def blade_of(room: Room) -> Blade:
    """What the room's trimmer can do with one sheet."""
    own = room.cutter
    return Blade(own.longest_cut, own.least_strip, own.least_piece, own.tolerance)
