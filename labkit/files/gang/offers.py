"""The same prints on every roll and sheet that could take them: what each takes and costs."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labkit.errors import LabError
from labkit.files.gang.gang import Gang, lay_out_prints
from labkit.files.gang.prints import Print
from labkit.files.gang.told import metres
from labkit.geometry.length import ZERO, Length
from labkit.room.laying import Medium, stock_to_lay_on
from labkit.room.rules import Room


@dataclass(frozen=True)
class Offer:
    """A job laid out on one stock; or the ``reason`` why that stock cannot take all of it."""

    medium: Medium
    gangs: tuple[Gang, ...] = ()
    price: Decimal | None = None
    reason: str = ""

    @property
    def taken(self) -> Length:
        """Of a roll."""
        return sum((gang.taken for gang in self.gangs), ZERO)

    @property
    def sheets(self) -> int:
        """How many, where it is no roll."""
        return sum(gang.packing.sheets for gang in self.gangs)

    @property
    def area(self) -> Fraction:
        """Of the paper, in square millimetres."""
        return sum(gang.area for gang in self.gangs)

    @property
    def waste(self) -> float:
        """The share of the paper that is no print, leader and tail counted, from 0 to 1."""
        return float(1 - sum(gang.printed for gang in self.gangs) / self.area)


def compare_stock(
    prints: Sequence[Print],
    room: Room,
    paper: str | None = None,
    *,
    progress: Callable[[int, int], None] | None = None,
    **rules,
) -> list[Offer]:
    """Every roll and sheet of a paper, or of all papers: those that take the whole job first, of these the
    cheapest, then the one that takes the least paper.

    ``rules`` are those of :func:`~labkit.files.gang.gang.lay_out_prints`. LabError where none takes all.
    """
    media, offers = stock_to_lay_on(room, paper), []
    for number, medium in enumerate(media, 1):
        offers.append(_offer(prints, medium, room, **rules))
        if progress:
            progress(number, len(media))
    if all(each.reason for each in offers):
        reasons = [
            f"{each.medium.paper.name}, {each.medium.name}: {each.reason}" for each in offers
        ]
        raise LabError(
            "no stock here takes all of this job. Name one with --roll or --sheet to see what fits on it. "
            + " ".join(reasons[:3])
        )
    return sorted(offers, key=_cost)


def cheapest(offers: Sequence[Offer], room: Room) -> Offer:
    """The cheapest on the first paper of the room that takes the job; nobody chose a paper by its price."""
    taking = [each for each in offers if not each.reason]
    for paper in room.papers:
        for each in taking:
            if each.medium.paper == paper:
                return each
    return taking[0]


def _offer(prints: Sequence[Print], medium: Medium, room: Room, **rules) -> Offer:
    if not medium.is_roll:
        rules = {**rules, "max_length": None}
    try:
        gangs = tuple(lay_out_prints(prints, medium, room, **rules))
    except LabError as refusal:
        return Offer(medium, reason=str(refusal))
    left_out = [each.reason for gang in gangs for each in gang.packing.left_out]
    offer = Offer(medium, gangs, _sum(gang.price(room) for gang in gangs))
    short = _short(offer, room)
    return Offer(medium, reason=left_out[0] if left_out else short) if left_out or short else offer


def _short(offer: Offer, room: Room) -> str:
    """Why there is not enough of it; "" where there is."""
    medium = offer.medium
    if medium.left is None:
        return ""
    if medium.is_roll and offer.taken > medium.left:
        needed, there = (metres(size, room.units) for size in (offer.taken, medium.left))
        return f"it takes {needed}, and {there} are left on the roll."
    if not medium.is_roll and offer.sheets > medium.left:
        return f"it takes {offer.sheets} sheets, and {medium.left} are left."
    return ""


def _sum(prices: Iterator[Decimal | None]) -> Decimal | None:
    prices = list(prices)
    return None if None in prices else sum(prices)


def _cost(offer: Offer) -> tuple:
    if offer.reason:
        return True, True, Decimal(0), Fraction(0)
    return False, offer.price is None, offer.price or Decimal(0), offer.area
