"""All that one print room lays down, and what it answers when it is asked."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.holding import smallest_holding, ways_it_holds
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.resolution import FloorRow, floor_for
from labkit.geometry.size import Size
from labkit.room.printers import Printer, Setting
from labkit.room.route import Route
from labkit.room.stock import Paper, Roll, find_same_sheet


@dataclass(frozen=True, slots=True)
class Cutter:
    """What can be cut: the longest cut, the strip that is held meanwhile, the least side of the smallest
    piece, the height of a stack, and how far off a cut may be."""

    longest_cut: Length
    least_strip: Length
    least_piece: Length
    stack: Length
    tolerance: Length


@dataclass(frozen=True, slots=True)
class Handling:
    """The weight above which nobody lifts a roll alone, in kg; the core of a roll, its weight in kg for a
    metre of its width; how long prints may dry, in hours, that are handed out on the same day."""

    help_above_kg: Decimal
    core_diameter: Length
    core_kg_per_metre: Decimal
    same_day_hours: Decimal


AS_THE_PICTURE = "as the picture"
"""The depth of a print file that keeps the picture's own."""


@dataclass(frozen=True, slots=True)
class Colour:
    """Colour of a finished file; ``untagged_cmyk`` None refuses a CMYK picture without a profile.

    ``depth`` is 8, 16 or :data:`AS_THE_PICTURE`; ``packing_16`` how a file of 16 bits is packed, in the
    words of :class:`~labkit.files.header.picture.Picture`, and ``packing_shared`` how one is that several
    prints share. ``own_rgb``: "keep" or "convert" a picture in another RGB than ``space``.
    """

    space: str
    own_rgb: str
    depth: int | str
    packing_16: str
    intent: str
    untagged_cmyk: Path | None
    untagged_grey: str
    packing_shared: str = "Deflate"

    @property
    def keeps_own_rgb(self) -> bool:
        """Whether a picture keeps the RGB profile it came with."""
        return self.own_rgb == "keep"

    def depth_for(self, held: int) -> int:
        """Bits a channel of the print file of a picture that holds 8 or 16."""
        return held if self.depth == AS_THE_PICTURE else self.depth

    def packing_for(self, depth: int) -> str:
        """How a print file of so many bits a channel is packed."""
        return "LZW" if depth <= 8 else self.packing_16


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far what is handed in may be off: its place, its size, and its resolution below the floor, as a
    share of that."""

    place: Length
    size: Length
    floor: Fraction


@dataclass(frozen=True, slots=True)
class Limits:
    """What reading one file may take: seconds, megabytes, and pixels of the picture."""

    seconds: int
    memory_mb: int
    pixels: int


@dataclass(frozen=True)
class Room:
    """All that one print room lays down, under the names it has in the room file."""

    name: str
    units: str
    currency: str
    working_ppi: int
    border: Length
    bleed: Length
    name_pattern: str
    floor: tuple[FloorRow, ...]
    papers: tuple[Paper, ...]
    printers: tuple[Printer, ...]
    settings: tuple[Setting, ...]
    cutter: Cutter
    handling: Handling
    colour: Colour
    tolerance: Tolerance
    limits: Limits

    # Stock

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sizes of cut sheets that any paper is kept in, upright, each once."""
        found: list[Sheet] = []
        for paper in self.papers:
            found += [kept.sheet for kept in paper.sheets if not find_same_sheet(kept.sheet, found)]
        return tuple(found)

    @cached_property
    def rolls(self) -> tuple[Roll, ...]:
        """A roll of each width that any paper is kept in, the longest of them, the narrowest first."""
        longest = {
            roll.width: roll
            for roll in sorted((r for p in self.papers for r in p.rolls), key=lambda r: r.length)
        }
        return tuple(longest[width] for width in sorted(longest))

    def find_stock(self, sheet: Sheet) -> Sheet | None:
        """The sheet in stock of this size, either way round, as it stands in ``sheets``; else None."""
        return find_same_sheet(sheet, self.sheets)

    def roll_for(self, sheet: Sheet) -> Roll | None:
        """The narrowest roll that a sheet of this size comes off, either way round; None for none."""
        short, long = sorted((sheet.width, sheet.height))
        holding = [
            roll
            for roll in self.rolls
            if short <= roll.width and (long <= roll.length or long <= roll.width)
        ]
        return min(holding, key=lambda roll: roll.width, default=None)

    def sheet_for(
        self, size: Size, printer: str | Printer | None = None, border: Length = ZERO
    ) -> Sheet | None:
        """The smallest sheet in stock, as it lies, that holds a print of this size in its centre, with such
        a ``border`` at least; None for none."""
        return smallest_holding(size, self.sheets, self._edges_at(printer), border)

    def ways_it_holds(
        self,
        size: Size,
        sheet: Sheet,
        printer: str | Printer | None = None,
        border: Length = ZERO,
    ) -> tuple[Sheet, ...]:
        """``sheet`` as it can lie to hold a print of this size in its centre, the print's own way first."""
        return ways_it_holds(size, sheet, self._edges_at(printer), border)

    def _edges_at(self, printer: str | Printer | None) -> Callable[[Sheet], Edges]:
        return lambda sheet: self.unprintable(sheet, printer)

    # Papers, printers, settings

    def paper(self, name: str | Paper | None = None) -> Paper:
        """The paper of that name, or the first; LabError with their names for one nobody knows."""
        return _named(name, self.papers, "paper")

    def printer(self, name: str | Printer | None = None) -> Printer:
        """The printer of that name, or the first; LabError with their names for one nobody knows."""
        return _named(name, self.printers, "printer")

    def settings_of(self, paper: str | Paper | None = None) -> list[Setting]:
        """The settings of a paper, its default first."""
        name = self.paper(paper).name
        own = [each for each in self.settings if each.paper.casefold() == name.casefold()]
        return sorted(own, key=lambda each: not each.default)

    def route(
        self,
        sheet: Sheet,
        paper: str | Paper | None = None,
        printer: str | Printer | None = None,
    ) -> Route:
        """How a print on ``sheet`` goes: which stock, printer, path and setting.

        Without a paper the first that is kept in this size and goes through the printer; without a printer
        the paper's default setting, or the first that takes the size. A cut sheet goes before a roll, of
        several rolls the cheapest. LabError for a paper or a printer nobody knows.
        """
        papers = self.papers if paper is None else (self.paper(paper),)
        named = None if printer is None else self.printer(printer)
        ways = [list(self._routes(sheet, each, named)) for each in papers]
        found = min(
            (min(own, key=_cost) for own in ways if own), key=lambda way: way.is_roll, default=None
        )
        chosen = self.paper_for(sheet) if paper is None else papers[0]
        return found or self._without_setting(sheet, chosen, named)

    def paper_for(self, sheet: Sheet) -> Paper:
        """The first paper that is kept in this size; the first of all where none is."""
        return next((each for each in self.papers if each.is_kept_for(sheet)), self.papers[0])

    def routes(self, sheet: Sheet) -> list[Route]:
        """How a print on ``sheet`` goes on each paper that is kept in this size."""
        return [self.route(sheet, each) for each in self.papers if each.is_kept_for(sheet)]

    def _routes(self, sheet: Sheet, paper: Paper, printer: Printer | None) -> Iterator[Route]:
        for setting in self.settings_of(paper):
            own = self.printer(setting.printer)
            if printer not in (None, own):
                continue
            cut = paper.sheet(sheet)
            stocks = paper.rolls_for(sheet) if setting.path == "roll" else [cut] if cut else []
            for stock in stocks:
                found = Route(sheet, paper, stock, own, setting.path, setting)
                if found.is_taken:
                    yield found

    def _without_setting(self, sheet: Sheet, paper: Paper, printer: Printer | None) -> Route:
        """What is known all the same of a print for which there is no setting: the edges of the path that
        such a size takes, and the paper's own price."""
        is_cut = self.find_stock(sheet) is not None
        ways = ("sheet", "hand", "roll") if is_cut else ("roll", "sheet", "hand")
        fitting = [each for each in self.printers if ways[0] in each.feeds]
        own = printer or (fitting or self.printers)[0]
        path = next(each for each in ways if each in own.feeds)
        stock = next(iter(paper.rolls_for(sheet)), None) if path == "roll" else paper.sheet(sheet)
        return Route(sheet, paper, stock, own, path, None)

    def unprintable(
        self,
        sheet: Sheet,
        printer: str | Printer | None = None,
        paper: str | Paper | None = None,
    ) -> Edges:
        """What the printer cannot reach of ``sheet`` as it lies, on the route that a print on it takes."""
        asked = sheet, printer, paper
        if asked not in self._unprintable:
            self._unprintable[asked] = self.route(sheet, paper, printer).unprintable
        return self._unprintable[asked]

    @cached_property
    def _unprintable(self) -> dict[tuple, Edges]:
        """What was found out so far: the same few sheets are asked about again and again."""
        return {}

    # Money and what is not to be had

    def price(self, paper: str | Paper | None, sheet: Sheet, copies: int = 1) -> Decimal | None:
        """What ``copies`` prints on ``sheet`` cost; None where the paper is not kept in this size, or has no
        price. LabError for less than one copy."""
        return self.route(sheet, paper).price(copies)

    def money(self, amount: Decimal | None, none: str = "not priced") -> str:
        """An amount as it is told; ``none`` where there is no price."""
        if amount is None:
            return none
        space = "\N{NO-BREAK SPACE}" if self.currency[-1:].isalpha() else ""
        return f"{self.currency}{space}{amount:.2f}"

    def not_kept(self, route: Route) -> str:
        """The sentence that a paper is not kept in this size, with the papers that are and the price of
        each; "" where it is kept."""
        if route.stock:
            return ""
        others = [
            f"{each.paper.name} ({self.money(each.price())})" for each in self.routes(route.sheet)
        ]
        told = f"“{route.paper.name}” is not kept in {route.sheet.label}, so it has no price here. "
        if others:
            return told + f"Kept in this size: {', '.join(others)}."
        return told + "No other paper is, either: choose another size, or ask at the counter."

    def refuse_unstocked(self, sheet: Sheet) -> None:
        """LabError for a size that neither a sheet in stock nor a roll can give, with both ways out."""
        if self.find_stock(sheet) or self.roll_for(sheet):
            return
        ways_out = "Make the print smaller, or print it in parts."
        if not self.rolls:
            raise LabError(
                f"no sheet here is as large as {sheet}, and there is no roll. {ways_out}"
            )
        widest, long = self.rolls[-1], max(sheet.width, sheet.height)
        if min(sheet.width, sheet.height) <= widest.width:
            raise LabError(
                f"no roll here that is as wide as {sheet} is as long: {long.both(self.units)} are asked "
                f"for, and there are {widest.length.both(self.units)}. {ways_out}"
            )
        usable = self.usable_width(widest).both(self.units)
        raise LabError(
            f"no sheet or roll here is as large as {sheet}: the widest roll is "
            f"{widest.width.both(self.units)}, of which {usable} can be printed. {ways_out}"
        )

    def is_below_floor(self, ppi: Fraction, long_side: Length) -> bool:
        """Whether a print of that long side has too few pixels per inch, by more than the tolerance."""
        return ppi < floor_for(long_side, self.floor).ppi * (1 - self.tolerance.floor)

    def usable_width(self, roll: Roll) -> Length:
        """What can be printed of a roll's width, by the printer that reaches the most of it."""
        feeds = [
            each.roll for each in self.printers if each.roll and each.roll.widest >= roll.width
        ]
        sides = [feed.unprintable.left + feed.unprintable.right for feed in feeds]
        return roll.width - min(sides, default=ZERO)


def _cost(route: Route) -> tuple:
    """A cut sheet before a roll; of rolls the cheapest, then the one of which least is used."""
    if not route.is_roll:
        return (False,)
    price = route.price()
    return True, price is None, price or Decimal(0), route.area()


def _named(name, known, kind: str):
    if name is None:
        return known[0]
    if name in known:
        return name
    for each in known:
        if each.name.casefold() == name.strip().casefold():
            return each
    names = ", ".join(each.name for each in known)
    raise LabError(f"no {kind} here is called “{name}”: use one of {names}.")
