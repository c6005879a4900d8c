"""Prints of one kind laid out on a roll or on sheets: what it takes, and who pays which share."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_DOWN, Decimal
from fractions import Fraction
from functools import cached_property

from labkit.errors import LabError
from labkit.files.gang.prints import Print
from labkit.files.gang.slug import LEAST_GAP, SLUG_ROOM
from labkit.files.gang.statement import CONTACT, PRINTS
from labkit.geometry.box import Box
from labkit.geometry.holding import area
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.packing import Cut, Packing, Piece, Placed, Roll, Sheets, pack
from labkit.geometry.packing.fitting import those_that_fit
from labkit.geometry.packing.result import PROVEN
from labkit.geometry.paper import Sheet, sheet_of
from labkit.geometry.resolution import ppi_text
from labkit.geometry.rolled import paper_kg
from labkit.room.laying import Medium, cutter_of, price_of
from labkit.room.rules import Room


@dataclass(frozen=True, slots=True)
class Run:
    """What is printed in one go: its ``name``, the sheet it is on, and from where to where it reaches,
    measured as pieces are."""

    name: str
    sheet: int
    top: Length
    bottom: Length


@dataclass(frozen=True)
class Gang:
    """Prints of one kind, laid out: ``packing`` says where, ``medium`` on what.

    On a roll each row is printed by itself, with a leader and a tail of its own, unless ``one_file``.
    ``below`` is kept free under each row for its slug lines. ``first`` is the number of its first print
    file in the job. ``kind`` is what its files say they are: prints to be cut apart, or a contact sheet.
    """

    prints: tuple[Print, ...]
    packing: Packing
    medium: Medium
    one_file: bool = False
    below: Length = SLUG_ROOM
    first: int = 1
    kind: str = PRINTS

    @property
    def ppi(self) -> Fraction:
        """Of all its prints."""
        return self.prints[0].ppi

    @property
    def kind_text(self) -> str:
        """Resolution, profile and depth in words."""
        first = self.prints[0]
        return f"{ppi_text(first.ppi)}, {first.profile_name}, {first.depth} bits a channel"

    def sentence(self, units: str) -> str:
        """The layout in words."""
        if self.kind == PRINTS:
            told = f"{self.packing.summary(units)}."
            return f"{told} {PROVEN}" if self.packing.proven else told
        stock, sheets = self.medium.name, self.packing.sheets
        if not self.medium.is_roll:
            stock = f"1 sheet of {stock}" if sheets == 1 else f"{sheets} sheets of {stock}"
        cell = size_text(self.prints[0].size, units)
        return f"{len(self.packing.placed)} pictures in cells of {cell}, on {stock}."

    @cached_property
    def by_name(self) -> dict[str, Print]:
        """Its prints by their names."""
        return {each.name: each for each in self.prints}

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """The print files: of a roll the rows, or all in one; of sheets each of them."""
        packing, high = self.packing, self.medium.height
        if high is not None:
            last = packing.stock.height
            return tuple(Run(f"sheet {n}", n, ZERO, last) for n in range(1, packing.sheets + 1))
        whole = Run("the paper", 1, ZERO, packing.used)
        return (whole,) if self.one_file or len(self.rows) < 2 else self.rows

    @cached_property
    def rows(self) -> tuple[Run, ...]:
        """Those of a roll, one after another."""
        return tuple(Run(row.name, 1, row.top, row.bottom) for row in self.packing.rows)

    def _is_first(self, cut: Cut) -> bool:
        margins = self.packing.stock.margins
        whole = margins.left + self.packing.stock.width + margins.right
        return cut.across and cut.at[0][1].width == whole

    @cached_property
    def cuts(self) -> tuple[Cut, ...]:
        """All cuts in order; of rows printed by themselves each is freed of its own leader and tail. What
        the printer has parted is cut along first."""
        if len(self.runs) < 2 or self.medium.height is not None or self.packing.stock.parted:
            return self.packing.cuts
        first = [
            cut
            for number, run in enumerate(self.runs, self.first)
            for cut in self._free(number, run)
        ]
        later = [cut for cut in self.packing.cuts if not self._is_first(cut)]
        return tuple(replace(cut, number=at) for at, cut in enumerate((*first, *later), 1))

    def _free(self, number: int, run: Run) -> Iterator[Cut]:
        """The two cuts that make the row ``run`` of the paper that print file ``number`` comes on."""
        stock, hand = self.packing.stock, f"print {number}"
        above, below = stock.margins.top, stock.margins.bottom
        left, line = -stock.margins.left, stock.margins.left + stock.width + stock.margins.right
        high = run.bottom - run.top
        paper = Box(left, run.top - above, line, above + high + below)
        yield Cut(1, hand, ((1, paper),), True, above, line, "waste", "the rest", off_far=False)
        paper = Box(left, run.top, line, high + below)
        yield Cut(1, hand, ((1, paper),), True, high, line, "waste", run.name, off_far=True)

    def sheet(self, run: Run) -> Sheet:
        """A print file's own size: of a roll the whole width, and what is printed of its length."""
        medium = self.medium
        if medium.height is not None:
            return sheet_of(medium.width, medium.height)
        high = medium.edges.top + run.bottom - run.top + self.below + medium.edges.bottom
        return sheet_of(medium.width, high)

    def length(self, run: Run) -> Length:
        """What a print file takes of the stock, leader and tail included."""
        return self.medium.leader + self.sheet(run).height + self.medium.tail

    @property
    def taken(self) -> Length:
        """The length of roll that comes off, of sheets the height of all."""
        return sum(map(self.length, self.runs), ZERO)

    @property
    def kg(self) -> float:
        """The weight of the paper that is taken."""
        return paper_kg(self.medium.width, self.taken, self.medium.paper.weight_gsm)

    @property
    def area(self) -> Fraction:
        """Of that paper, in square millimetres."""
        high = self.taken if self.medium.is_roll else self.medium.height * self.packing.sheets
        return area(self.medium.width, high)

    @property
    def printed(self) -> Fraction:
        """Of the prints on it, in square millimetres."""
        return sum(area(*placed.box.size) for placed in self.packing.placed)

    def price(self, room: Room) -> Decimal | None:
        """Of all the paper, or None."""
        return price_of(room, self.medium, self.taken, self.packing.sheets)

    def shares(self, room: Room) -> list[tuple[Print, int, Decimal | None]]:
        """Each print, how many of it are laid out, and its share of the price by area, to a hundredth.

        What is left out has none. The shares add up to the price: hundredths left over go to the
        largest.
        """
        laid = {each.name: 0 for each in self.prints}
        for placed in self.packing.placed:
            laid[placed.piece.name] += 1
        areas = [laid[each.name] * area(*each.size) for each in self.prints]
        costs = share_by_area(self.price(room), areas)
        return [
            (each, laid[each.name], cost)
            for each, cost in zip(self.prints, costs, strict=True)
            if laid[each.name]
        ]

    def pieces_of(self, run: Run) -> list[tuple[int, Placed, Box]]:
        """The pieces of a print file: the number of each, the piece, and where it lies on the file."""
        edges = self.medium.edges
        found = []
        for number, placed in enumerate(self.packing.placed, 1):
            box = placed.box
            if placed.sheet == run.sheet and run.top <= box.top < run.bottom:
                at = Box(
                    box.left + edges.left, box.top - run.top + edges.top, box.width, box.height
                )
                found.append((number, placed, at))
        return found


def share_by_area(price: Decimal | None, areas: Sequence[Fraction]) -> list[Decimal | None]:
    """A price in parts as large as these areas, to a hundredth; the hundredths left over go to the largest.

    >>> share_by_area(Decimal("1.00"), [Fraction(1), Fraction(1), Fraction(1)])
    [Decimal('0.34'), Decimal('0.33'), Decimal('0.33')]
    """
    if price is None:
        return [None] * len(areas)
    cent, whole = Decimal("0.01"), sum(areas)
    parts = [price * each.numerator / each.denominator for each in (a / whole for a in areas)]
    shares = [part.quantize(cent, ROUND_DOWN) for part in parts]
    over = int((price - sum(shares)) / cent)
    for place in sorted(range(len(areas)), key=lambda at: -areas[at])[:over]:
        shares[place] += cent
    return shares


def gap_for(asked: Length) -> Length:
    """The gap that is left: the one asked for, widened where it does not hold slug line and marks."""
    return max(asked, LEAST_GAP)


def lay_out_prints(
    prints: Sequence[Print],
    medium: Medium,
    room: Room,
    *,
    gap: Length,
    stages: int | None = 2,
    max_length: Length | None = None,
    one_file: bool = False,
    contact: bool = False,
    seconds: float = 0.2,
    progress: Callable[[float], None] | None = None,
) -> list[Gang]:
    """Lay finished prints out on the least paper: one layout for each resolution, profile and depth.

    ``contact``: they are the cells of a contact sheet, in order, and not cut apart. What does not fit is in
    ``left_out`` of a packing, with the reason. LabError where nothing at all can be laid out.
    """
    stock, gap = medium.stock(max_length, SLUG_ROOM), gap_for(gap)
    if medium.cuts and not one_file:
        stock = replace(stock, parted=True)
    kinds: dict[tuple, list[Print]] = {}
    for each in prints:
        kinds.setdefault(each.kind, []).append(each)
    gangs, left_out = [], []
    for alike in kinds.values():
        rules = {"gap": gap, "seconds": seconds, "progress": progress}
        if contact:
            laid, kind = _in_cells(alike, stock, **rules), CONTACT
        else:
            pieces = [
                Piece(each.name, *each.size, each.copies, medium.turn, each.group) for each in alike
            ]
            cutter = cutter_of(room, medium.paper)
            fitting, too_large = those_that_fit(pieces, stock, gap, cutter)
            if not fitting:
                left_out += too_large
                continue
            laid, kind = pack(pieces, stock, stages=stages, cutter=cutter, **rules), PRINTS
        first = gangs[-1].first + len(gangs[-1].runs) if gangs else 1
        gangs.append(Gang(tuple(alike), laid, medium, one_file, first=first, kind=kind))
    if not gangs:
        reasons = " ".join(each.reason for each in left_out)
        raise LabError(reasons or "there are no prints to lay out: give one or more.")
    laid = gangs[-1].packing
    gangs[-1] = replace(gangs[-1], packing=replace(laid, left_out=(*laid.left_out, *left_out)))
    return gangs


def _in_cells(prints: Sequence[Print], stock: Roll | Sheets, **rules) -> Packing:
    """One cell for each, filled row by row in their order; there is nothing to cut."""
    cells = pack([Piece("A cell", *prints[0].size, len(prints), turn=False)], stock, **rules)
    order = sorted(cells.placed, key=lambda each: (each.sheet, each.box.top, each.box.left))
    if len(order) < len(prints):
        raise LabError(
            f"{len(prints)} cells do not fit on {stock.height} of {stock.name}: give more length or "
            "smaller cells."
        )
    filled = tuple(
        replace(cell, piece=Piece(each.name, *each.size, turn=False), copy=1)
        for cell, each in zip(order, prints, strict=True)
    )
    return replace(cells, placed=filled, cuts=(), rows=())
