"""The best layout of a few pieces, found by putting together every two parts of every choice of them.

A choice of items is a number whose binary digits say which are in it.
"""

from collections.abc import Iterator
from typing import NamedTuple

from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part, join
from labkit.geometry.packing.spaces import ANY

MOST_ITEMS = 6
"""For how many pieces it is tried."""


class Shape(NamedTuple):
    """Width and height of a layout, and what it is put together of: a piece, or two others."""

    width: int
    height: int
    piece: Part | None
    across: bool = False
    two: tuple["Shape", ...] = ()


Fronts = dict[int, list[Shape]]
"""Of each choice the layouts of which no other is both as narrow and as low."""


class Ends(NamedTuple):
    """Inside which unit a run of pieces begins and ends, and before which of its items; or None."""

    begin: tuple[int, int] | None = None
    end: tuple[int, int] | None = None


def best_of_all(job: Job, stages: int) -> tuple[Part, ...]:
    """The sheets of the best layout there is, whatever the cutter; none if there is none."""
    choices = range(1, 1 << len(job.ways))
    ends = {choice: found for choice in choices if (found := _ends(choice, job))}
    fronts = _fronts(job, ends, stages)
    lowest = {choice: min(front, key=_height) for choice, front in fronts.items() if front}
    best: dict[int, tuple[Shape, ...]] = {}
    for choice in ends:
        ways = [(lowest[choice],)] if choice in lowest else []
        ways += [
            (*best[before], lowest[last])
            for before, last in _splits(choice, ends)
            if before in best and last in lowest and _may_divide(ends[last].begin, job, fronts)
        ]
        if ways:
            best[choice] = min(ways, key=lambda sheets: (len(sheets), sheets[-1].height))
    return tuple(_built(shape) for shape in best.get(choices[-1], ()))


def _height(shape: Shape) -> int:
    return shape.height


def _ends(choice: int, job: Job) -> Ends | None:
    """Where a run of just these items begins and ends; None where units do not allow one."""
    begin = end = None
    chosen = [item for item in range(len(job.ways)) if choice >> item & 1]
    for unit in {job.unit_of[item] for item in chosen}:
        items = job.units[unit]
        held = [place for place, item in enumerate(items) if choice >> item & 1]
        first, after = held[0], held[-1] + 1
        both = first > 0 and after < len(items)
        if after - first > len(held) or (both and len(chosen) > len(held)):
            return None
        if first > 0:
            if begin:
                return None
            begin = unit, first
        if after < len(items):
            if end:
                return None
            end = unit, after
    return Ends(begin, end)


def _splits(choice: int, ends: dict[int, Ends]) -> Iterator[tuple[int, int]]:
    """Every way to make it of two runs, one after the other."""
    first = (choice - 1) & choice
    while first:
        second = choice ^ first
        if first in ends and second in ends:
            one, other = ends[first], ends[second]
            if one.end == other.begin and ends[choice] == (one.begin, other.end):
                yield first, second
        first = (first - 1) & choice


def _may_divide(at: tuple[int, int] | None, job: Job, fronts: Fronts) -> bool:
    """Whether a sheet may begin here: not inside a unit to be kept whole that fits on one."""
    if at is None or not job.whole[at[0]]:
        return True
    return not fronts.get(sum(1 << item for item in job.units[at[0]]))


def _fronts(job: Job, ends: dict[int, Ends], stages: int) -> Fronts:
    """Of each choice its best layouts that fit on the stock."""
    pieces: Fronts = {choice: [] for choice in ends}
    for item, ways in enumerate(job.ways):
        parts = [Part(*way, item, bool(turned)) for turned, way in enumerate(ways)]
        pieces[1 << item] = _undominated([Shape(*part[:2], part) for part in parts], job)
    splits = {choice: list(_splits(choice, ends)) for choice in ends}
    if stages >= ANY:
        return _stage(job, splits, pieces, None, (True, False))
    inner = pieces
    for stage in range(stages, 0, -1):
        inner = _stage(job, splits, pieces, inner, (bool(stage & 1),))
    return inner


def _stage(
    job: Job,
    splits: dict[int, list[tuple[int, int]]],
    pieces: Fronts,
    inner: Fronts | None,
    directions: tuple[bool, ...],
) -> Fronts:
    """Layouts cut up in these directions into ``inner`` ones, or into any where that is None."""
    made: Fronts = {}
    for choice, two in splits.items():
        found = list((inner or pieces)[choice])
        for first, second in two:
            for one in (inner or made)[first]:
                for other in made[second]:
                    found += [_together(across, one, other) for across in directions]
        made[choice] = _undominated(found, job)
    return made


def _together(across: bool, one: Shape, other: Shape) -> Shape:
    if across:
        size = max(one.width, other.width), one.height + other.height
    else:
        size = one.width + other.width, max(one.height, other.height)
    return Shape(*size, None, across, (one, other))


def _undominated(shapes: list[Shape], job: Job) -> list[Shape]:
    kept: list[Shape] = []
    for shape in sorted(shapes, key=lambda shape: shape[:2]):
        fits = shape.width <= job.width and shape.height <= job.height
        if fits and (not kept or shape.height < kept[-1].height):
            kept.append(shape)
    return kept


def _built(shape: Shape) -> Part:
    return shape.piece or join(shape.across, [_built(each) for each in shape.two])
