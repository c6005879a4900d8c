"""Prints laid on a roll by hand, anywhere: what they take, what is wrong, where one that is moved goes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import combinations, pairwise

from labkit.errors import LabError
from labkit.geometry.box import Box
from labkit.geometry.holding import area
from labkit.geometry.length import ZERO, Length, inches
from labkit.geometry.packing.parting import Parting, part_prints
from labkit.geometry.packing.stock import Cutter, Piece, Roll

NEAR = inches(Fraction(1, 2))
"""How near to a guide a print snaps to it."""


@dataclass(frozen=True, slots=True)
class Lying:
    """A print as it lies: ``left`` across the roll and ``top`` along it, measured from where printing
    begins, and whether it is turned a quarter."""

    piece: Piece
    left: Length
    top: Length
    turned: bool = False

    @property
    def name(self) -> str:
        """The print's."""
        return self.piece.name

    @property
    def box(self) -> Box:
        """What it covers."""
        size = self.piece.width, self.piece.height
        return Box(self.left, self.top, *(size[::-1] if self.turned else size))


@dataclass(frozen=True, slots=True)
class Guide:
    """Where a print snaps to: ``along`` the roll or across it, the ``at`` of its top or left there, the
    ``line`` that it then touches, and in words what it does there."""

    along: bool
    at: Length
    line: Length
    told: str


@dataclass(frozen=True)
class Loose:
    """Prints anywhere on ``stretch`` of a roll, further than which none is moved.

    A ``gap`` is wanted between any two, and the ``cutter`` has to part them.
    """

    prints: tuple[Lying, ...]
    roll: Roll
    gap: Length
    stretch: Length
    cutter: Cutter = Cutter()

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """What each covers."""
        return tuple(each.box for each in self.prints)

    @cached_property
    def used(self) -> Length:
        """From where printing begins to the end of the last print."""
        return max(box.bottom for box in self.boxes)

    @property
    def paper(self) -> Box:
        """What comes off the roll: its whole width, with leader, tail and the sides not printed."""
        margins = self.roll.margins
        wide = self.roll.width + margins.left + margins.right
        return Box(-margins.left, -margins.top, wide, margins.top + self.used + margins.bottom)

    @property
    def waste(self) -> Fraction:
        """The share of that on which no print lies, from 0 to 1."""
        paper = self.paper
        clipped = [box.clipped(paper) for box in self.boxes]
        return 1 - _covered([box for box in clipped if min(box.size) > ZERO]) / area(*paper.size)

    @cached_property
    def outside(self) -> tuple[int, ...]:
        """The prints that reach beyond what can be printed."""
        return tuple(
            at
            for at, box in enumerate(self.boxes)
            if min(box.left, box.top) < ZERO or box.right > self.roll.width
        )

    @cached_property
    def overlapping(self) -> tuple[tuple[int, int], ...]:
        """Each two of which one lies on the other."""
        return tuple(pair for pair, apart in self._pairs() if apart < ZERO)

    @cached_property
    def close(self) -> tuple[tuple[int, int], ...]:
        """Each two that lie beside each other with less than the gap between them."""
        return tuple(pair for pair, apart in self._pairs() if ZERO <= apart < self.gap)

    @cached_property
    def parting(self) -> Parting:
        """The cuts that part them; those that lie on one another are stuck."""
        return part_prints(self.boxes, self.paper, self.cutter)

    @property
    def is_sound(self) -> bool:
        """Whether it can be printed and cut as it lies."""
        wrong = self.outside, self.overlapping, self.close, self.parting.stuck, self.parting.refused
        return not any(wrong)

    def _pairs(self) -> Iterator[tuple[tuple[int, int], Length]]:
        """Each two prints, and how far they are apart across or along, whichever is more."""
        for pair in combinations(range(len(self.boxes)), 2):
            one, other = (self.boxes[at] for at in pair)
            across = max(one.left, other.left) - min(one.right, other.right)
            along = max(one.top, other.top) - min(one.bottom, other.bottom)
            yield pair, max(across, along)

    def moved(self, at: int, left: Length, top: Length, *, step: Length, snap: bool) -> "Loose":
        """With the corner of print ``at`` there, or as near as it can go.

        Rounded to whole ``step`` but for a side that stays where it is; to a guide that is near if
        ``snap``.
        """
        own = self.prints[at]
        left = left if left == own.left else step * round(left / step)
        top = top if top == own.top else step * round(top / step)
        if snap:
            asked = replace(own, left=left, top=top)
            left = _nearest(left, (g.at for g in self.guides(at, asked) if not g.along))
            top = _nearest(top, (g.at for g in self.guides(at, asked) if g.along))
        return self._with(at, replace(own, left=left, top=top))

    def leapt(self, at: int, *, along: bool, onward: bool) -> "Loose":
        """With print ``at`` on its next guide along the roll or across it; as it is where there is none."""
        own = self.prints[at]
        now = own.top if along else own.left
        there = [g.at for g in self.guides(at) if g.along == along]
        beyond = [each for each in there if (each > now if onward else each < now)]
        if not beyond:
            return self
        found = min(beyond) if onward else max(beyond)
        return self._with(at, replace(own, top=found) if along else replace(own, left=found))

    def turned(self, at: int) -> "Loose":
        """With print ``at`` turned a quarter about its corner. LabError where it may not be."""
        own = self.prints[at]
        if not own.piece.turn:
            raise LabError(f"{own.name} may not be turned: this paper is printed one way only.")
        return self._with(at, replace(own, turned=not own.turned))

    def guides(self, at: int, lying: Lying | None = None) -> list[Guide]:
        """What print ``at`` snaps to where it lies, or would lie: the edges of what can be printed, a gap
        beside another print that it faces, in line with another's side."""
        box = (lying or self.prints[at]).box
        others = [(each.name, each.box) for each in self.prints if each is not self.prints[at]]
        found = [*_edges(box, self.roll)]
        found += [guide for name, other in others for guide in _beside(box, other, self.gap, name)]
        found += [guide for name, other in others for guide in _in_line(other, name)]
        reach = self._reach(box)
        return [
            guide for guide in found if reach[guide.along][0] <= guide.at <= reach[guide.along][1]
        ]

    def snapped(self, at: int) -> list[Guide]:
        """The guides that print ``at`` stands on."""
        own = self.prints[at]
        return [g for g in self.guides(at) if g.at == (own.top if g.along else own.left)]

    def _with(self, at: int, lying: Lying) -> "Loose":
        (least_left, most_left), (least_top, most_top) = self._reach(lying.box)
        kept = replace(
            lying,
            left=max(least_left, min(lying.left, most_left)),
            top=max(least_top, min(lying.top, most_top)),
        )
        return replace(self, prints=(*self.prints[:at], kept, *self.prints[at + 1 :]))

    def _reach(self, box: Box) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """Least and most of its left and of its top: on the paper, and on the stretch."""
        margins = self.roll.margins
        left, right = -margins.left, self.roll.width + margins.right - box.width
        return (left, max(left, right)), (ZERO, max(ZERO, self.stretch - box.height))


def one_below_another(
    pieces: Sequence[Piece], roll: Roll, *, gap: Length, cutter: Cutter = Cutter()
) -> Loose:
    """Prints one after another along the roll, each as it is given, or turned where only so it fits."""
    lying, top = [], ZERO
    for piece in pieces:
        turned = piece.turn and piece.width > roll.width >= piece.height
        lying.append(Lying(piece, ZERO, top, turned))
        top = lying[-1].box.bottom + gap
    return Loose(tuple(lying), roll, gap, top - gap, cutter)


def _nearest(asked: Length, guides: Iterator[Length]) -> Length:
    near = min(guides, key=lambda at: abs(at - asked), default=asked)
    return near if abs(near - asked) <= NEAR else asked


def _edges(box: Box, roll: Roll) -> Iterator[Guide]:
    told = "at the edge of what can be printed"
    yield Guide(False, ZERO, ZERO, told)
    yield Guide(False, roll.width - box.width, roll.width, told)
    yield Guide(True, ZERO, ZERO, "where printing begins")


def _beside(box: Box, other: Box, gap: Length, name: str) -> Iterator[Guide]:
    """A gap before another print and behind it, where the two face each other."""
    for along in (False, True):
        near, far = _span(other, along)
        begin, end = _span(box, along)
        (low, high), (least, most) = _span(box, not along), _span(other, not along)
        if low < most and least < high:
            yield Guide(along, far + gap, far, f"a gap from {name}")
            yield Guide(along, near - gap - (end - begin), near, f"a gap from {name}")


def _in_line(other: Box, name: str) -> Iterator[Guide]:
    yield Guide(False, other.left, other.left, f"in line with {name}")
    yield Guide(True, other.top, other.top, f"in line with {name}")


def _span(box: Box, along: bool) -> tuple[Length, Length]:
    return (box.top, box.bottom) if along else (box.left, box.right)


def _covered(boxes: Sequence[Box]) -> Fraction:
    """What boxes cover, in square millimetres; what lies below another counts once."""
    sides = sorted({side for box in boxes for side in (box.left, box.right)})
    total = Fraction(0)
    for left, right in pairwise(sides):
        end = None
        for box in sorted(boxes, key=lambda each: each.top):
            if box.left <= left and right <= box.right:
                begin = box.top if end is None else max(end, box.top)
                total += max(Fraction(0), area(right - left, box.bottom - begin))
                end = box.bottom if end is None else max(end, box.bottom)
    return total
