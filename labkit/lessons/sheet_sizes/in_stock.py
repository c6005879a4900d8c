"""02-sheet-sizes: a print laid on every sheet, and on every roll, that the room keeps."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from labkit.drawing.stock import Laid, called, draw_rolls, draw_stock, short
from labkit.geometry.box import Edges
from labkit.geometry.holding import RollCut, area, area_text, excess
from labkit.geometry.length import Length, decimal, length, size_text
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.size import Size
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.laying import refuse_without_rolls
from labkit.room.route import metres_price, to_hundredths
from labkit.room.rules import Room

_LEAST, _MOST, _MOST_BORDER = length("3in"), length("20in"), length("3in")
_SHORTEST, _LONGEST = length("6in"), length("60in")


@dataclass(frozen=True)
class OnStock:
    """A print laid on every sheet in stock, all of them upright or on their side."""

    shape: tuple[int, int]
    width: Length
    border: Length
    printer: str
    is_turned: bool
    room: Room

    @cached_property
    def size(self) -> Size:
        """Width and height of the print."""
        return by_width(self.shape, self.width)

    @cached_property
    def smallest(self) -> Sheet | None:
        """The sheet with the least paper that holds it, as it lies."""
        return self.room.sheet_for(self.size, self.printer, self.border)

    @cached_property
    def laid(self) -> tuple[Laid, ...]:
        """Every sheet, with what the print lacks on it."""
        found = []
        for sheet in self.room.sheets:
            lying = sheet.turned() if sheet.is_turned != self.is_turned else sheet
            edges = self.room.unprintable(lying, self.printer)
            lacking = excess(self.size, lying, edges, self.border)
            found.append(Laid(lying, edges, lacking, lying == self.smallest))
        return tuple(found)

    def ways_it_holds(self, sheet: Sheet) -> tuple[Sheet, ...]:
        """How ``sheet`` can lie to hold it."""
        return self.room.ways_it_holds(self.size, sheet, self.printer, self.border)


@dataclass(frozen=True)
class OnRolls:
    """A print on every roll in stock, its width or its height across the roll."""

    shape: tuple[int, int]
    width: Length
    is_turned: bool
    room: Room

    @cached_property
    def size(self) -> Size:
        """Across the roll, and along it."""
        width, height = by_width(self.shape, self.width)
        return (height, width) if self.is_turned else (width, height)

    @cached_property
    def cuts(self) -> tuple[RollCut, ...]:
        """What it takes of every roll."""
        return tuple(RollCut(self.size, roll.width, self.edges) for roll in self.room.rolls)

    @property
    def edges(self) -> Edges:
        """What the first printer that has a roll feed does not reach; without one, the first printer."""
        feeds = [each.roll for each in self.room.printers if each.roll]
        feeds += [feed for each in self.room.printers for feed in each.feeds.values()]
        return feeds[0].unprintable


@follows_picture
def stock(picture: str | Path | None = None) -> FigureApp:
    """Your print laid on every sheet in stock: which hold it, which is the smallest, what is left."""
    room = home().room()
    shown = your_picture(room, picture)
    start = OnStock(
        shown.pixels, length("9in"), length("1/2in"), room.printers[0].name, False, room
    )
    return FigureApp(
        start,
        [
            MenuControl("printer", "printer", options=[(each.name,) * 2 for each in room.printers]),
            ChoiceControl(
                "is_turned", "the sheets lie", options=[("upright", False), ("on their side", True)]
            ),
            LengthControl("width", "print's width", span=lambda _: (_LEAST, _MOST)),
            LengthControl("border", "least border", span=lambda _: (length("0in"), _MOST_BORDER)),
        ],
        draw=lambda state, units: draw_stock(
            state.size, state.laid, border=state.border, units=units, prefix="stock",
            words=_stock_sentence(state, units),
        ),
        tell=_stock_sentence,
        read=stock_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def stock_readings(state: OnStock, units: str) -> list[Reading]:
    """Which sheets hold the print, and which way; the smallest, and how much of it is left over."""
    told = [("print", size_text(state.size, units))]
    for sheet in state.room.sheets:
        how = " or ".join(lies(way) for way in state.ways_it_holds(sheet))
        told.append((called(sheet), f"holds it {how}" if how else "does not hold it"))
    best = state.smallest
    if best is None:
        return [*told, ("smallest", "none: a roll, or a smaller print")]
    paper, printed = area(best.width, best.height), area(*state.size)
    share = f"{float(1 - printed / paper):.0%}"
    return [
        *told,
        ("smallest", f"{called(best)}, {lies(best)}"),
        ("left over on it", f"{area_text(paper - printed, units)}: {share}"),
        ("price of the sheet", sheet_prices(best, state.room)),
    ]


def sheet_prices(sheet: Sheet, room: Room) -> str:
    """What one costs, of each paper that is kept in this size as sheets."""
    routes = [route for route in room.routes(sheet) if not route.is_roll]
    told = [f"{room.money(route.price())} on {route.paper.name}" for route in routes]
    return "; ".join(told)


def roll_prices(width: Length, taken: Length, room: Room) -> str:
    """What so much of a roll costs, of each paper that is kept on rolls of this width."""
    told = []
    for paper in room.papers:
        for roll in paper.rolls:
            if roll.width == width:
                price = metres_price(roll, taken)
                told.append(f"{room.money(price and to_hundredths(price))} on {paper.name}")
    return "; ".join(told)


@follows_picture
def rolls(picture: str | Path | None = None) -> FigureApp:
    """A print on every roll in stock: does it fit across, how long a piece it takes, what is wasted."""
    room = home().room()
    refuse_without_rolls(room)
    shown = your_picture(room, picture)
    widest = _LONGEST * Fraction(shown.pixels[0], max(shown.pixels))
    longest = OnRolls(shown.pixels, widest, False, room)
    reach = max(*longest.size) + longest.edges.top + longest.edges.bottom
    return FigureApp(
        OnRolls(shown.pixels, min(length("20in"), widest), False, room),
        [
            ChoiceControl(
                "is_turned", "across the roll", options=[("its width", False), ("its height", True)]
            ),
            LengthControl("width", "print's width", span=lambda _: (_SHORTEST, widest)),
        ],
        draw=lambda state, units: draw_rolls(
            state.cuts,
            reach,
            is_turned=state.is_turned,
            units=units,
            prefix="rolls",
            words=_roll_sentence(state, units),
        ),
        tell=_roll_sentence,
        read=roll_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )


def roll_readings(state: OnRolls, units: str) -> list[Reading]:
    """The print; of each roll what is usable, the piece cut off and what of it is wasted."""
    told = [("across × along", size_text(state.size, units))]
    for roll, cut in zip(state.room.rolls, state.cuts, strict=True):
        name = short(roll.width, units)
        told.append((f"{name} roll: usable width", cut.usable.both(units)))
        if not cut.fits:
            told.append((f"{name} roll", f"too narrow by {(cut.size[0] - cut.usable).both(units)}"))
            continue
        wasted = f"{area_text(cut.wasted, units)}: {float(cut.share):.0%}"
        metres = decimal(roll.length.mm / 1000, 1)
        told.append((f"{name} roll: piece cut off", cut.length.both(units)))
        told.append((f"{name} roll: price", roll_prices(roll.width, cut.length, state.room)))
        told.append((f"{name} roll: wasted", wasted))
        told.append((f"{name} roll: prints out of {metres} m", str(int(roll.length / cut.length))))
    return told


def lies(sheet: Sheet) -> str:
    """How a sheet lies, in words."""
    return "on its side" if sheet.is_turned else "upright"


def _stock_sentence(state: OnStock, units: str) -> str:
    width, height = (side.both(units) for side in state.size)
    holding = [
        f"{called(way)} {lies(way)}" for s in state.room.sheets for way in state.ways_it_holds(s)
    ]
    drawn = "on their side" if state.is_turned else "upright"
    best = state.smallest
    told = (
        f"held by {', '.join(holding)}; the smallest is {called(best)}"
        if best
        else "held by no sheet"
    )
    return (
        f"A print {width} wide and {height} high, with borders of at least {state.border.both(units)}, on "
        f"the sheets in stock, drawn {drawn}, for the printer {state.printer}: {told}."
    )


def _roll_sentence(state: OnRolls, units: str) -> str:
    across, along = (side.both(units) for side in state.size)
    told = "; ".join(
        f"a roll {cut.width.both(units)} wide "
        + (f"gives a piece {cut.length.both(units)} long" if cut.fits else "is too narrow")
        for cut in state.cuts
    )
    return f"A print {across} across the roll and {along} along it: {told}."
