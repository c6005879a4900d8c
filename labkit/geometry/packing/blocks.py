"""The ways in which a unit can lie as one block: a piece, or pieces that stay together."""

from collections.abc import Callable, Iterable, Sequence

from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part, join

MOST = 8
"""How many ways the search is offered of one unit."""


def blocks_of(unit: Sequence[int], job: Job, stages: int) -> list[Part]:
    """Blocks of all items of a unit, in order, that fit on the stock; none if there are none.

    A single item lies as given or turned. Several lie in lines of equal count, either all the way the
    first one lies; with two stages in one row, with three in one row or one column.
    """
    if len(unit) == 1:
        found: Iterable[Part] = _ways(unit[0], job)
    else:
        found = _in_lines(unit, job, stages)
    fitting = [part for part in found if part.width <= job.width and part.height <= job.height]
    return _undominated(fitting)[:MOST]


def _ways(item: int, job: Job) -> list[Part]:
    return [Part(*way, item, bool(turned)) for turned, way in enumerate(job.ways[item])]


def _in_lines(unit: Sequence[int], job: Job, stages: int) -> Iterable[Part]:
    lies: tuple[Callable[[Part], int], ...] = (lambda part: part.width, lambda part: part.height)
    counts = range(1, len(unit) + 1) if stages > 3 else [len(unit)]
    for narrow in lies:
        pieces = [min(_ways(item, job), key=narrow) for item in unit]
        for across in (True, False) if stages > 2 else (True,):
            for count in counts:
                lines = [
                    join(not across, pieces[start : start + count])
                    for start in range(0, len(pieces), count)
                ]
                yield join(across, lines)


def _undominated(parts: Sequence[Part]) -> list[Part]:
    """Those of which no other is both as narrow and as low; the least area first."""
    kept: list[Part] = []
    for part in sorted(parts, key=lambda part: (part.width * part.height, part.stages())):
        if not any(each.width <= part.width and each.height <= part.height for each in kept):
            kept.append(part)
    return kept
