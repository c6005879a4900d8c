"""How one print goes: on which paper, out of which stock, through which printer, by which path."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.size import SAME_SHEET
from labkit.room.printers import PATHS, Feed, Printer, Setting
from labkit.room.stock import KeptSheet, Paper, Roll, lies_on


@dataclass(frozen=True, slots=True)
class Route:
    """One print on ``sheet``, as it lies in its file.

    ``stock`` is None where the paper is not kept in this size, ``setting`` None where the room has none
    for this paper on this path; ``path`` is one of PATHS.
    """

    sheet: Sheet
    paper: Paper
    stock: KeptSheet | Roll | None
    printer: Printer
    path: str
    setting: Setting | None

    @property
    def feed(self) -> Feed:
        """The path itself: its edges, and what it takes."""
        return self.printer.feeds[self.path]

    @property
    def path_name(self) -> str:
        """The path as it is told: ``hand feed``."""
        return PATHS[self.path]

    @property
    def is_roll(self) -> bool:
        """Whether it comes off a roll."""
        return isinstance(self.stock, Roll)

    @property
    def is_taken(self) -> bool:
        """Whether the path takes the paper: its width, and the length of the piece."""
        if self.is_roll:
            return self.stock.width <= self.feed.widest and self.along <= self.feed.longest
        short, long = sorted((self.sheet.width, self.sheet.height))
        within = SAME_SHEET
        return short <= self.feed.widest + within and long <= self.feed.longest + within

    @property
    def is_turned(self) -> bool:
        """Whether the file is turned a quarter, so that its left edge goes in first instead of its top.

        A cut sheet goes in with a short side first; on a roll a print lies so that it takes the least.
        """
        if self.is_roll:
            return lies_on(self.stock, self.sheet, self.paper.turn)[1]
        return self.sheet.is_turned

    @property
    def first_edge(self) -> str:
        """The edge of the drawing that goes in first."""
        return "left" if self.is_turned else "top"

    @property
    def unprintable(self) -> Edges:
        """What the printer cannot reach of the sheet as it lies."""
        edges = self.feed.unprintable
        return edges.turned() if self.is_turned else edges

    @property
    def along(self) -> Length:
        """The length of a roll that one print takes, leader and tail counted; of a cut sheet its own."""
        if not self.is_roll:
            return max(self.sheet.width, self.sheet.height)
        ends = (self.setting.leader + self.setting.tail) if self.setting else ZERO
        return lies_on(self.stock, self.sheet, self.paper.turn)[0] + ends

    @property
    def usable(self) -> Length:
        """What can be printed of the roll's width; of a cut sheet its whole width."""
        if not self.is_roll:
            return min(self.sheet.width, self.sheet.height)
        edges = self.feed.unprintable
        return self.stock.width - edges.left - edges.right

    def area(self, copies: int = 1) -> float:
        """The paper that so many prints take, in square metres: whole sheets, or of a roll the usable width
        by the length with leader and tail (common practice, no source)."""
        return float(self.usable.mm * self.along.mm * copies / 1_000_000)

    def price(self, copies: int = 1) -> Decimal | None:
        """What so many prints cost, each rounded to a hundredth; None if the size is not kept or not
        priced. LabError for less than one."""
        if not isinstance(copies, int) or copies < 1:
            raise LabError(f"{copies} copies have no price: give a whole number from 1 up.")
        each = self._price()
        return None if each is None else to_hundredths(each) * copies

    def more_than_left(self, copies: int) -> str:
        """The sentence that so many prints take more paper than is left; "" where there is enough, or the
        room does not say how much there is."""
        left = self.stock and self.stock.left
        if left is None or (self.along * copies if self.is_roll else copies) <= left:
            return ""
        if self.is_roll:
            needed, left = metres_text(self.along * copies), metres_text(left)
        else:
            needed = "1 sheet" if copies == 1 else f"{copies} sheets"
        return f"{needed} of {self.paper.name}, {self.stock_name}, is more than is left ({left})."

    def _price(self) -> Decimal | None:
        if self.is_roll:
            return metres_price(self.stock, self.along)
        return self.stock.price if self.stock else None

    def printing_minutes(self, copies: int = 1) -> float:
        """How long the printer prints so many; 0 where there is no setting."""
        if self.setting is None:
            return 0.0
        printed = self.sheet.width.mm * self.sheet.height.mm * copies / 1_000_000
        return float(printed) * float(self.setting.minutes_per_square_metre)

    def loading_minutes(self, copies: int = 1) -> float:
        """How long it takes to load for so many: each sheet, or the roll once; 0 where there is no
        setting."""
        if self.setting is None:
            return 0.0
        return float(self.setting.minutes_to_load) * (1 if self.is_roll else copies)

    def minutes(self, copies: int = 1) -> float:
        """How long so many prints take at the printer, loading counted."""
        return self.printing_minutes(copies) + self.loading_minutes(copies)

    @property
    def stock_name(self) -> str:
        """The sheet by its name, or the roll by its width: ``24 in roll``."""
        return self.stock.name if self.stock else f"{self.sheet.label}, not kept"


def metres_text(size: Length) -> str:
    """A length of a roll: ``4.10 m``."""
    return f"{float(size.mm) / 1000:.2f} m"


def metres_price(roll: Roll, length: Length) -> Decimal | None:
    """What so much of a roll costs, not rounded; None where it has no price.

    A metre is 1000 mm.
    """
    if roll.price_per_metre is None:
        return None
    metres = length.mm / 1000
    return roll.price_per_metre * metres.numerator / metres.denominator


def to_hundredths(amount: Decimal) -> Decimal:
    """An amount as it is paid, half a hundredth rounded up."""
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)
