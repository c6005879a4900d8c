"""Whether straight cuts, each through all the paper in hand, part prints that lie anywhere."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing.stock import Cutter


@dataclass(frozen=True, slots=True)
class Line:
    """One straight cut through all of the paper ``hand``: ``across`` it, ``at`` so far from its top edge,
    or along it, so far from its left edge."""

    hand: Box
    across: bool
    at: Length

    @property
    def halves(self) -> tuple[Box, Box]:
        """What is then in hand: what lies nearer to that edge, and the rest."""
        box, at = self.hand, self.at
        if self.across:
            return (
                Box(box.left, box.top, box.width, at),
                Box(box.left, box.top + at, box.width, box.height - at),
            )
        return (
            Box(box.left, box.top, at, box.height),
            Box(box.left + at, box.top, box.width - at, box.height),
        )

    def limit(self, cutter: Cutter) -> str:
        """Which of the cutter's limits it is beyond, in a sentence; "" where it can be made."""
        wide, high = self.hand.size
        return cutter.limit(*((wide, self.at, high) if self.across else (high, self.at, wide)))


@dataclass(frozen=True, slots=True)
class Parting:
    """How prints come out of the paper that they lie on: ``cuts``, in order.

    ``stuck`` are prints of which no straight cut parts one from the others. Where each could be
    parted but the cutter cannot make the cuts, ``refused`` says why; there are no cuts in both cases.
    """

    cuts: tuple[Line, ...] = ()
    stuck: tuple[int, ...] = ()
    refused: str = ""


def part_prints(boxes: Sequence[Box], paper: Box, cutter: Cutter = Cutter()) -> Parting:
    """The straight cuts that cut every print out of ``paper``, as it lies.

    Whichever free line is cut first, what could be parted still can be; so who is stuck does not depend on
    the order. Whether the cutter can make the cuts does, and all orders are tried.

    >>> from labkit.geometry.length import inches
    >>> two = [Box(inches(0), inches(0), inches(5), inches(7)),
    ...        Box(inches(6), inches(0), inches(5), inches(7))]
    >>> len(part_prints(two, Box(inches(0), inches(0), inches(11), inches(7))).cuts)
    2
    """
    all_of_them = tuple(range(len(boxes)))
    if stuck := _stuck(boxes, all_of_them):
        return Parting(stuck=stuck)
    orders = _Orders(boxes, cutter)
    cuts = orders.cuts(paper, all_of_them)
    return Parting(refused=orders.refused) if cuts is None else Parting(tuple(cuts))


def _stuck(boxes: Sequence[Box], items: tuple[int, ...]) -> tuple[int, ...]:
    """The first of them that cannot be parted; none where all can."""
    if len(items) < 2:
        return ()
    for across in (True, False):
        groups = list(_groups(boxes, items, across))
        if len(groups) > 1:
            return next(filter(None, (_stuck(boxes, group) for group in groups)), ())
    return items


def _groups(
    boxes: Sequence[Box], items: tuple[int, ...], across: bool
) -> Iterator[tuple[int, ...]]:
    """Prints between two free lines, one group after another."""
    group, end = [], None
    for item in sorted(items, key=lambda item: _sides(boxes[item], across)):
        near, far = _sides(boxes[item], across)
        if group and near >= end:
            yield tuple(sorted(group))
            group, end = [], None
        group.append(item)
        end = far if end is None else max(end, far)
    yield tuple(sorted(group))


def _sides(box: Box, across: bool) -> tuple[Length, Length]:
    return (box.top, box.bottom) if across else (box.left, box.right)


class _Orders:
    """The search for an order of cuts that the cutter can make; ``refused`` is why the first could not."""

    def __init__(self, boxes: Sequence[Box], cutter: Cutter):
        self._boxes, self._cutter = boxes, cutter
        self._hopeless: set[Box] = set()
        self.refused = ""

    def cuts(self, hand: Box, items: tuple[int, ...]) -> list[Line] | None:
        """Those that cut these prints out of the paper in hand; None where no order can be made."""
        if not items or (len(items) == 1 and self._boxes[items[0]] == hand):
            return []
        if hand in self._hopeless:
            return None
        for line in sorted(self._lines(hand, items), key=lambda line: self._parts(line, items)):
            if reason := line.limit(self._cutter):
                self.refused = self.refused or reason
                continue
            rest = [self.cuts(half, self._inside(half, items)) for half in line.halves]
            if None not in rest:
                return [line, *rest[0], *rest[1]]
        self._hopeless.add(hand)
        return None

    def _lines(self, hand: Box, items: tuple[int, ...]) -> Iterator[Line]:
        """Along the sides of prints, and through none."""
        for across in (True, False):
            sides = [_sides(self._boxes[item], across) for item in items]
            near, far = _sides(hand, across)
            for at in sorted({side for pair in sides for side in pair}):
                if near < at < far and not any(low < at < high for low, high in sides):
                    yield Line(hand, across, at - near)

    def _parts(self, line: Line, items: tuple[int, ...]) -> bool:
        """Whether prints lie on both sides: what only cuts waste off comes first, and serves them all."""
        return all(self._inside(half, items) for half in line.halves)

    def _inside(self, hand: Box, items: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(item for item in items if min(self._boxes[item].clipped(hand).size) > ZERO)
