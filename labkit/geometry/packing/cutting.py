"""The cuts of a layout in order, in whole units, and whether the cutter can make them."""

from collections.abc import Generator, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part

Place = tuple[int, ...]
"""Where paper comes from: the number of its sheet, then of the part in that, the part in that part, …"""


class Hand(NamedTuple):
    """The paper in hand, one piece of it or a stack of equal ones.

    ``left``, ``right``, ``top`` and ``bottom`` are the edges of the first of the stack. Of each,
    ``origins`` says where its ``parts`` begin, and ``places`` where it comes from.
    """

    left: int
    right: int
    top: int
    bottom: int
    origins: tuple[tuple[int, int], ...]
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

    def boxes(self) -> Iterator[tuple[int, int, int, int]]:
        """Left, top, width and height of each of the stack, on its own sheet."""
        x, y = self.origins[0]
        for left, top in self.origins:
            corner = self.left + left - x, self.top + top - y
            yield (*corner, self.right - self.left, self.bottom - self.top)


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
    if job.parted:
        return [stroke for sheet in sheets for stroke in _cut_parted(sheet, job)]
    hands = []
    for number, sheet in enumerate(sheets, 1):
        height = sheet.height if job.roll else job.height
        edges = (-left, job.width - job.gap + right, -top, height - job.gap + bottom)
        hands.append(Hand(*edges, ((0, 0),), (sheet,), ((number,),)))
    return [stroke for pile in _piles(hands, job.stack) for stroke in _cut_sheet(pile, job)]


def row_strokes(row: Part, job: Job) -> Iterator[Stroke]:
    """The cuts of one row, once it has been cut off."""
    left, _, right, _ = job.margins
    if job.parted:
        return _cut_printed(row, 0, (1,), job)
    edges = (-left, job.width - job.gap + right, 0, row.height - job.gap)
    return _cut_up(Hand(*edges, ((0, 0),), (row,), ((1,),)), job)


def rows_of(sheet: Part) -> Iterator[tuple[int, Part, Place]]:
    """The rows of a roll: where each begins, and where it comes from."""
    if not sheet.across:
        yield 0, sheet, (1,)
        return
    top = 0
    for number, row in enumerate(sheet.parts, 1):
        yield top, row, (1, number)
        top += row.height


def _cut_parted(sheet: Part, job: Job) -> Iterator[Stroke]:
    """Cut up rows that the printer has parted."""
    for top, row, place in rows_of(sheet):
        yield from _cut_printed(row, top, place, job)


def _cut_printed(row: Part, top: int, place: Place, job: Job) -> Iterator[Stroke]:
    """Cut a row up that still has its margins: along it first, so that no cut is as long as it is wide."""
    left, above, right, below = job.margins
    edges = -left, job.width - job.gap + right, top - above, top + row.height - job.gap + below
    hand = Hand(*edges, ((0, top),), (row,), (place,))
    if not row.is_piece:
        yield from _cut_up(hand, job)
        return
    (hand,) = yield from _cut_along(hand, False, job.gap, whole=True)
    yield from _cut_along(hand, True, job.gap, whole=True)


def _cut_sheet(hand: Hand, job: Job) -> Iterator[Stroke]:
    """Cut a sheet up, what lies above and below all pieces first."""
    hands = yield from _cut_along(hand, True, job.gap, whole=not hand.parts[0].across)
    for pile in _piles(hands, job.stack):
        yield from _cut_up(pile, job)


def _cut_up(hand: Hand, job: Job) -> Iterator[Stroke]:
    part = hand.parts[0]
    across = part.across or part.is_piece
    hands = yield from _cut_along(hand, across, job.gap, whole=part.is_piece)
    if part.is_piece:
        yield from _cut_along(hands[0], not across, job.gap, whole=True)
        return
    for pile in _piles(hands, job.stack):
        yield from _cut_up(pile, job)


def _cut_along(
    hand: Hand, across: bool, gap: int, *, whole: bool
) -> Generator[Stroke, None, list[Hand]]:
    """Cut the parts of what is in hand off one after another, or trim it to its size if it is ``whole``.

    Gives back what was cut off.
    """
    hands = []
    near, end = hand.extent(across)
    layers = [hand.parts] if whole else list(zip(*(part.parts for part in hand.parts), strict=True))
    start = at = hand.origins[0][across]
    for number, parts in enumerate(layers, 1):
        if at > near:
            yield Stroke(hand.between(across, near, end), across, at - near, None, None)
            near = at
        far = at + (parts[0].height if across else parts[0].width) - gap
        moved = (0, at - start) if across else (at - start, 0)
        cut = hand.between(across, near, far)._replace(
            origins=tuple((x + moved[0], y + moved[1]) for x, y in hand.origins), parts=parts
        )
        if not whole:
            cut = cut._replace(places=tuple((*place, number) for place in hand.places))
        if far < end:
            off, kept = (None, cut) if number == len(layers) else (cut, None)
            yield Stroke(hand.between(across, near, end), across, far - near, off, kept)
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
                origins=tuple(origin for hand in pile for origin in hand.origins),
                parts=tuple(part for hand in pile for part in hand.parts),
                places=tuple(place for hand in pile for place in hand.places),
            )


def _looks(hand: Hand) -> tuple:
    x, y = hand.origins[0]
    size = hand.right - hand.left, hand.bottom - hand.top
    return *size, x - hand.left, y - hand.top, _shape(hand.parts[0])


def _shape(part: Part) -> tuple:
    return part.width, part.height, part.across, tuple(_shape(each) for each in part.parts)
