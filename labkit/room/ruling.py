"""Which ruler measures one paper on one way through a printer."""

from dataclasses import dataclass

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.causes import Cause, likely_causes
from labkit.geometry.length import Length, millimetres
from labkit.geometry.measured import Errors
from labkit.geometry.paper import Sheet, find_sheet, sheet_of
from labkit.geometry.ruler import CLEAR, LONGEST, PPI, RulerSheet, ruler_sheet
from labkit.geometry.size import SAME_SHEET
from labkit.room.printers import PATHS, Printer, Setting
from labkit.room.room import Room
from labkit.room.stock import Paper

_STEP = millimetres(10)


@dataclass(frozen=True)
class Ruling:
    """A ruler sheet as it feeds, first edge on top: on which ``paper``, through which ``printer`` by which
    ``path`` of PATHS. ``setting`` is None where the room has none for that."""

    sheet: Sheet
    ruler: RulerSheet
    edges: Edges
    paper: Paper
    printer: Printer
    path: str
    setting: Setting | None

    @property
    def is_roll(self) -> bool:
        """Whether it comes off a roll."""
        return self.path == "roll"

    @property
    def name(self) -> str:
        """The paper's size: ``13x19in``, ``24 in roll``."""
        return f"{self.sheet.width.inch_text()} roll" if self.is_roll else self.sheet.name

    def __str__(self) -> str:
        return f"{self.printer.name}, {PATHS[self.path]}, {self.paper.name}, {self.name}"

    def causes(self, errors: Errors, room: Room) -> list[Cause]:
        """The likely causes of what was measured, those first that explain most."""
        others = {
            each.name: (each.width, each.height)
            for each in room.sheets
            if not each.same_size(self.sheet, SAME_SHEET)
        }
        return likely_causes(
            errors, (self.sheet.width, self.sheet.height), self.edges,
            papers={} if self.is_roll else others, ppi=PPI, is_roll=self.is_roll,
        )  # fmt: skip


def ruling_on_sheet(
    room: Room,
    size: str | Sheet,
    printer: str | Printer | None = None,
    paper: str | Paper | None = None,
) -> Ruling:
    """The ruler for a cut sheet in stock; LabError for one that is not kept, with those that are."""
    asked = find_sheet(size)
    stock = room.find_stock(asked)
    if stock is None:
        names = ", ".join(each.name for each in room.sheets)
        raise LabError(
            f"{asked} is no sheet in stock, so nobody prints on it: measure one of {names}."
        )
    route = room.route(stock, paper, printer)
    if route.stock is None or route.is_roll:
        raise LabError(room.not_kept(route) or f"{stock} does not go through {route.printer.name}.")
    ruler = ruler_sheet(stock.width, stock.height, route.unprintable)
    return Ruling(
        stock, ruler, route.unprintable, route.paper, route.printer, route.path, route.setting
    )


def ruling_on_roll(
    room: Room,
    width: Length,
    printer: str | Printer | None = None,
    paper: str | Paper | None = None,
) -> Ruling:
    """The ruler for a metre of a roll; LabError where no paper is kept on such a roll, or no printer here has
    a setting for it."""
    papers = room.papers if paper is None else (room.paper(paper),)
    named = None if printer is None else room.printer(printer)
    for own in papers:
        for roll in own.rolls:
            for setting in room.settings_of(own):
                through = room.printer(setting.printer)
                feed = through.roll
                if (
                    roll.width != width
                    or setting.path != "roll"
                    or named not in (None, through)
                    or feed.widest < width
                ):
                    continue
                edges = feed.unprintable
                asked = LONGEST + (max(edges.top, edges.bottom) + CLEAR) * 2
                long = min(_STEP * -(-(asked / _STEP) // 1), feed.longest, roll.left or roll.length)
                ruler = ruler_sheet(width, long, edges)
                return Ruling(
                    sheet_of(width, long, unit="mm"), ruler, edges, own, through, "roll", setting
                )
    kept = sorted({roll.width for each in papers for roll in each.rolls})
    told = ", ".join(each.both(room.units) for each in kept)
    by = f" of {named.name}" if named else ""
    raise LabError(
        f"no setting{by} prints on a roll of {width.both(room.units)}: "
        + (f"rolls kept are {told}." if told else "no roll is kept, so write it for a sheet.")
    )
