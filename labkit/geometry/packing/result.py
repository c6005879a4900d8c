"""A layout as people read it: placed pieces, cuts in order, waste, and what was left out."""

from dataclasses import dataclass
from fractions import Fraction

from labkit.geometry.box import Box
from labkit.geometry.holding import area
from labkit.geometry.length import Length
from labkit.geometry.packing.stock import Piece, Roll, Sheets


@dataclass(frozen=True, slots=True)
class Placed:
    """One copy of a piece: its box, measured from where printing begins on its sheet, and how it lies.

    ``copy`` counts from 1, as does ``sheet``, which is 1 for all on a roll.
    """

    piece: Piece
    copy: int
    sheet: int
    box: Box
    turned: bool

    @property
    def name(self) -> str:
        """Its name; of several copies also which one."""
        several = self.piece.copies > 1
        return (
            f"{self.piece.name} ({self.copy} of {self.piece.copies})"
            if several
            else self.piece.name
        )


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A piece, or so many copies of it, that no place was found for, and why in a sentence."""

    piece: Piece
    copies: int
    reason: str


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut, right through all the paper in ``hand``.

    ``at`` gives sheet and box of the paper in hand, measured as pieces are; several where equal ones lie
    on one another. ``across`` cuts are measured ``distance`` from its top edge, the others from its left
    edge; both edges are straight, the paper's own or one just cut. The line is ``line`` long.
    ``off`` is what falls off on that side, or if ``off_far`` on the other; ``kept`` what stays in hand.
    """

    number: int
    hand: str
    at: tuple[tuple[int, Box], ...]
    across: bool
    distance: Length
    line: Length
    off: str
    kept: str
    off_far: bool

    @property
    def at_once(self) -> int:
        """How many are cut at once, lying on one another."""
        return len(self.at)

    @property
    def edge(self) -> str:
        """The edge of the paper in hand from which it is measured: "top" or "left"."""
        return "top" if self.across else "left"

    def sentence(self, first: str = "in") -> str:
        """What to do, with lengths in the unit ``first`` ("in" or "mm")."""
        far = self.distance.inch_text() if first == "in" else self.distance.mm_text()
        stacked = f" ({self.at_once} stacked)" if self.at_once > 1 else ""
        return (
            f"{self.number}. {self.hand[0].upper()}{self.hand[1:]}{stacked}: cut {far} from the "
            f"{self.edge} edge. Off comes {self.off}; in hand stays {self.kept}."
        )

    def __str__(self) -> str:
        return self.sentence()


@dataclass(frozen=True, slots=True)
class Row:
    """A row across a roll: what it is called, and from where to where it reaches."""

    name: str
    top: Length
    bottom: Length


PROVEN = "No layout with these cuts takes less."


@dataclass(frozen=True, slots=True)
class Packing:
    """Pieces laid out on a roll or on sheets so that straight cuts part them.

    ``used`` is how much of the roll is printed, or of the last sheet. ``sheets`` is how many are taken,
    1 of a roll. ``bound`` is a length below which no layout of these pieces can be: of a roll, or of all
    sheets one after another, a gap between. ``proven`` says that no layout with so many ``stages`` (None:
    any number) takes less. Cuts are in order. ``rows`` are those of a roll.
    """

    stock: Roll | Sheets
    gap: Length
    stages: int | None
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    used: Length
    sheets: int
    bound: Length
    proven: bool
    left_out: tuple[LeftOut, ...] = ()
    rows: tuple[Row, ...] = ()

    @property
    def taken(self) -> Fraction:
        """What is taken of the stock, in square millimetres: the roll's whole width and length with
        margins, or whole sheets."""
        margins, stock = self.stock.margins, self.stock
        wide = stock.width + margins.left + margins.right
        high = self.used if isinstance(stock, Roll) else stock.height
        return area(wide, high + margins.top + margins.bottom) * self.sheets

    @property
    def wasted(self) -> Fraction:
        """What of that is no piece, in square millimetres."""
        return self.taken - sum(area(*placed.box.size) for placed in self.placed)

    @property
    def waste(self) -> Fraction:
        """The same as a share of what is taken, from 0 to 1."""
        return self.wasted / self.taken

    @property
    def settings(self) -> int:
        """To how many different distances the worker sets the cutter."""
        return len({(cut.across, cut.distance) for cut in self.cuts})

    def sentence(self, first: str = "in") -> str:
        """The layout in words, with lengths in both units, that of ``first`` ("in" or "mm") in front."""
        told = f"{self.summary(first)}; {round(self.waste * 100)}% is waste."
        if self.proven:
            told = f"{told} {PROVEN}"
        return " ".join([told, *(each.reason for each in self.left_out)])

    def summary(self, first: str = "in") -> str:
        """How many pieces on how much, and by how many cuts: the sentence without its end."""
        count, used = len(self.placed), self.used.both(first)
        pieces = "1 piece" if count == 1 else f"{count} pieces"
        if isinstance(self.stock, Roll):
            told = f"{pieces} on {used} of a roll that prints {self.stock.width.both(first)} wide"
        else:
            sheets = "1 sheet" if self.sheets == 1 else f"{self.sheets} sheets"
            told = f"{pieces} on {sheets}, of the last of which {used} is used"
        return f"{told}, parted by {len(self.cuts)} straight cuts"

    def __str__(self) -> str:
        return self.sentence()
