"""Prints of one kind laid out on a roll or on sheets: what it takes, and who pays which share."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from fractions import Fraction
from functools import cached_property

from labkit.errors import LabError
from labkit.files.gang.prints import Print
from labkit.files.gang.slug import LEAST_GAP, SLUG_ROOM
from labkit.geometry.box import Box
from labkit.geometry.holding import area
from labkit.geometry.length import Length
from labkit.geometry.packing import Packing, Piece, Placed, pack
from labkit.geometry.paper import Sheet, sheet_of
from labkit.geometry.resolution import ppi_text
from labkit.geometry.rolled import paper_kg
from labkit.room.laying import Medium, cutter_of, price_of
from labkit.room.rules import Room


@dataclass(frozen=True)
class Gang:
    """Prints of one kind, laid out: ``packing`` says where, ``medium`` on what; ``below`` is kept free for
    the last row's slug lines."""

    prints: tuple[Print, ...]
    packing: Packing
    medium: Medium
    below: Length = SLUG_ROOM

    @property
    def ppi(self) -> Fraction:
        """Of all its prints."""
        return self.prints[0].picture.ppi[0]

    @property
    def kind_text(self) -> str:
        """Resolution, profile and depth in words."""
        picture = self.prints[0].picture
        profile = picture.profile_name or "no profile"
        return f"{ppi_text(self.ppi)}, {profile}, {self.prints[0].kind[2]} bits a channel"

    @cached_property
    def by_name(self) -> dict[str, Print]:
        """Its prints by their names."""
        return {each.name: each for each in self.prints}

    @property
    def sheet(self) -> Sheet:
        """The print file's own size: of a roll the whole width, and what is printed of its length."""
        medium = self.medium
        if medium.height is not None:
            return sheet_of(medium.width, medium.height)
        high = medium.edges.top + self.packing.used + self.below + medium.edges.bottom
        return sheet_of(medium.width, high)

    @property
    def taken(self) -> Length:
        """The length of roll that comes off, leader and tail included; of sheets the height of all."""
        medium = self.medium
        if medium.height is not None:
            return medium.height * self.packing.sheets
        return medium.leader + self.sheet.height + medium.tail

    @property
    def kg(self) -> float:
        """The weight of the paper that is taken."""
        return paper_kg(self.medium.width, self.taken, self.medium.paper.weight_gsm)

    def price(self, room: Room) -> Decimal | None:
        """Of all the paper, or None."""
        return price_of(room, self.medium, self.taken, self.packing.sheets)

    def shares(self, room: Room) -> list[tuple[Print, int, Decimal | None]]:
        """Each print, how many of it are laid out, and its share of the price by area, to a hundredth.

        The shares add up to the price: hundredths left over go to the largest.
        """
        laid = {each.name: 0 for each in self.prints}
        for placed in self.packing.placed:
            laid[placed.piece.name] += 1
        areas = [laid[each.name] * area(*each.size) for each in self.prints]
        costs = _shared(self.price(room), areas)
        return [
            (each, laid[each.name], cost) for each, cost in zip(self.prints, costs, strict=True)
        ]

    def place(self, placed: Placed) -> Box:
        """Where a piece lies on its print file."""
        edges, box = self.medium.edges, placed.box
        return Box(box.left + edges.left, box.top + edges.top, box.width, box.height)


def _shared(price: Decimal | None, areas: Sequence[Fraction]) -> list[Decimal | None]:
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
    seconds: float = 0.2,
    progress: Callable[[float], None] | None = None,
) -> list[Gang]:
    """Lay finished prints out on the least paper: one layout for each resolution, profile and depth.

    LabError where nothing at all can be laid out.
    """
    stock, gap = medium.stock(max_length, SLUG_ROOM), gap_for(gap)
    kinds: dict[tuple, list[Print]] = {}
    for each in prints:
        kinds.setdefault(each.kind, []).append(each)
    gangs = []
    for alike in kinds.values():
        pieces = [
            Piece(each.name, *each.size, each.copies, medium.turn, each.group) for each in alike
        ]
        laid = pack(
            pieces, stock, gap=gap, stages=stages, cutter=cutter_of(room, medium.paper),
            seconds=seconds, progress=progress,
        )  # fmt: skip
        gangs.append(Gang(tuple(alike), laid, medium))
    if not gangs:
        raise LabError("none of these files is a finished print that can be laid out.")
    return gangs
