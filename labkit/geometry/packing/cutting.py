"""The cuts of a layout in order, in whole units, and whether the cutter can make them."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part

Place = tuple[int, ...]
"""Where paper comes from: the number of its sheet, then of the part in that, the part in that part, …"""


class Hand(NamedTuple):
    """The paper in hand, one piece of it or a stack of equal ones.

    ``left``, ``right``, ``top`` and ``bottom`` are its edges, ``x`` and ``y`` where printing begins in
    it, all on the sheet of the first of the stack. ``parts`` are what is in each, ``places`` where each
    comes from.
    """

    left: int
    right: int
    top: int
    bottom: int
    x: int
    y: int
    parts: tuple[Part, ...]
    places: tuple[Place, ...]

    def extent(self, across: bool) -> tuple[int, int]:
        """Its two edges that cuts in one direction are measured between."""
        return (self.top, self.bottom) if across else (self.left, self.right)

    def between(self, across: bool, near: int, far: int) -> "Hand":
        """What is left of it between two cuts."""
        if across:
            return self._replace(top=near, bottom=far)
        return self._replace(left=near, right=far)


class Stroke(NamedTuple):
    """One straight cut through all of the paper in ``hand``.

    A line ``across`` the paper is measured ``distance`` from the top edge of the paper in hand, one along
    it from the left edge. What lies on that side falls off: ``off`` holds it, and ``kept`` what remains;
    None stands for waste, and (in ``kept``) for several parts still to be cut off.
    """

    hand: Hand
    across: bool
    distance: int
    off: Hand | None
    kept: Hand | None

    @property
    def line(self) -> int:
        """How long the cut is."""
        near, far = self.hand.extent(not self.across)
        return far - near

    @property
    def depth(self) -> int:
        """How far the paper in hand reaches where the cut is measured."""
        near, far = self.hand.extent(self.across)
        return far - near


def makeable(stroke: Stroke, job: Job) -> bool:
    """Whether the cutter can make it: see ``Cutter``."""
    held = max(stroke.distance, stroke.depth - stroke.distance)
    return (
        stroke.line <= job.longest
        and held >= job.hold
        and min(stroke.line, stroke.depth) >= job.least
    )


def strokes(sheets: Sequence[Part], job: Job) -> list[Stroke]:
    """All cuts of a layout, in order: sheet after sheet, and on each the first stage first."""
    left, top, right, bottom = job.margins
    hands = []
    for number, sheet in enumerate(sheets, 1):
        height = sheet.height if job.one_length else job.height
        edges = (-left, job.width - job.gap + right, -top, height - job.gap + bottom)
        hands.append(Hand(*edges, 0, 0, (sheet,), ((number,),)))
    return [stroke for pile in _piles(hands, job.stack) for stroke in _cut_up(pile, job)]


def row_strokes(row: Part, job: Job) -> Iterator[Stroke]:
    """The cuts of one row, once it has been cut off."""
    left, _, right, _ = job.margins
    edges = (-left, job.width - job.gap + right, 0, row.height - job.gap)
    return _cut_up(Hand(*edges, 0, 0, (row,), ((1,),)), job)


def _cut_up(hand: Hand, job: Job) -> Iterator[Stroke]:
    part = hand.parts[0]
    across = part.across or part.is_piece
    hands = yield from _cut_along(hand, across, job.gap)
    if part.is_piece:
        yield from _cut_along(hands[0], not across, job.gap)
        return
    for pile in _piles(hands, job.stack):
        yield from _cut_up(pile, job)


def _cut_along(hand: Hand, across: bool, gap: int):
    """Cut the parts of what is in hand off one after another; gives them back as paper in hand."""
    hands = []
    near, end = hand.extent(across)
    whole = hand.parts[0].is_piece
    layers = [hand.parts] if whole else list(zip(*(part.parts for part in hand.parts), strict=True))
    at = hand.y if across else hand.x
    for number, parts in enumerate(layers, 1):
        if at > near:
            rest = hand.between(across, near, end)
            near = at
            yield Stroke(rest, across, at - rest.extent(across)[0], None, None)
        far = at + (parts[0].height if across else parts[0].width) - gap
        x, y = (hand.x, at) if across else (at, hand.y)
        cut = hand.between(across, near, far)._replace(x=x, y=y, parts=parts)
        if not whole:
            cut = cut._replace(places=tuple((*place, number) for place in hand.places))
        if far < end:
            rest = hand.between(across, near, end)
            last = number == len(layers)
            yield Stroke(rest, across, far - near, None if last else cut, cut if last else None)
        hands.append(cut)
        near, at = far, far + gap
    return hands


def _piles(hands: Sequence[Hand], stack: int) -> Iterator[Hand]:
    """Equal ones next to each other laid on one another, as many as the cutter takes."""
    for _, alike in groupby(hands, key=_looks):
        alike = list(alike)
        at_once = max(1, stack // len(alike[0].parts))
        for first in range(0, len(alike), at_once):
            pile = alike[first : first + at_once]
            yield pile[0]._replace(
                parts=tuple(part for hand in pile for part in hand.parts),
                places=tuple(place for hand in pile for place in hand.places),
            )


def _looks(hand: Hand) -> tuple:
    return (
        hand.right - hand.left,
        hand.bottom - hand.top,
        hand.x - hand.left,
        hand.y - hand.top,
        (_shape(hand.parts[0])),
    )


def _shape(part: Part) -> tuple:
    return part.width, part.height, part.across, tuple(_shape(each) for each in part.parts)
