"""Three stages, or any number: spaces are filled one after another, and each is cut from what is left.

Into a space goes what fits it best, in its upper left corner; two cuts, one across and one along, leave
a space below and one beside, to be filled in turn. So every layout can be cut straight through. Where
several blocks fit equally well an order decides, and orders are what the search tries.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import itemgetter

from labkit.geometry.packing.part import Part, join

ANY = 1 << 20
"""More stages than any layout has."""

Way = tuple[int, int, int, Part]
"""A block's width and height, its unit, and the block."""


@dataclass(frozen=True, slots=True)
class Genes:
    """What decides where the rules do not: the order of the units, and of each whether it is cut off by
    a line across first."""

    order: list[int]
    across: list[bool]


class Spaces:
    """Fills spaces with blocks: ``blocks`` are those of each unit, one of which is to be used.

    ``stages`` is how often the direction of the cuts may change, from cuts across; ``longest`` the
    longest cut. ``parted``: rows across all of it are cut by the printer.
    """

    def __init__(
        self, blocks: Sequence[Sequence[Part]], stages: int, longest: int, parted: bool = False
    ):
        self.stages, self.longest, self.parted = stages, longest, parted
        self._ways: list[list[Way]] = [
            [(part.width, part.height, unit, part) for part in ways]
            for unit, ways in enumerate(blocks)
        ]
        self._sides = [min(min(part[:2]) for part in ways) for ways in blocks]

    def fill(
        self, sizes: Sequence[tuple[int, int]], genes: Genes
    ) -> tuple[set[int], tuple[Part, ...]]:
        """Fill spaces of these widths and heights, the first first.

        Gives the units for which there was no room; if there was for all, the layout of each space that
        is not empty.
        """
        left = [way for unit in genes.order for way in self._ways[unit]]
        narrow = min(self._sides)
        ahead = [(number, *size, 1) for number, size in enumerate(sizes)][::-1]
        count = len(sizes)
        filled: list[tuple[int, Part, bool, int, int]] = []
        while ahead and left:
            number, width, height, stage = ahead.pop()
            if width < narrow or height < narrow:
                continue
            fitting = [way for way in left if way[0] <= width and way[1] <= height]
            if not fitting:
                continue
            if stage == 1 or self.stages == ANY:
                wide, high, unit, block = _closest(fitting, width, height)
            else:
                wide, high, unit, block = _least_waste(fitting, width, height, stage)
            left = [way for way in left if way[2] != unit]
            if left and self._sides[unit] == narrow:
                narrow = min([self._sides[way[2]] for way in left])
            beside, below = width - wide, height - high
            across = self._first_across(
                (width, height), (beside, below), stage, narrow, genes.across[unit]
            )
            filled.append((number, block, across, count, count + 1))
            first = stage if across == bool(stage & 1) else stage + 1
            if across:
                rest = (count, width, below, first), (count + 1, beside, high, first + 1)
            else:
                rest = (count + 1, beside, height, first), (count, wide, below, first + 1)
            ahead += [space for space in rest if space[3] <= self.stages]
            count += 2
        if left:
            return {way[2] for way in left}, ()
        return set(), _built(filled, len(sizes))

    def _first_across(
        self, size: tuple[int, int], rest: tuple[int, int], stage: int, narrow: int, wanted: bool
    ) -> bool:
        """Whether what was put in is cut off by a line across first; what is narrow is left over whole."""
        odd, more = bool(stage & 1), stage < self.stages
        if self.parted and stage == 1:
            return True
        if self.stages == ANY and max(size) > self.longest:
            return size[0] <= self.longest
        if rest[0] < narrow and (odd or more):
            return True
        if rest[1] < narrow and (not odd or more):
            return False
        return wanted if self.stages == ANY else odd


def _closest(fitting: list[Way], width: int, height: int) -> Way:
    """What fills the space, else its width, else its height, else the first."""
    full = [way for way in fitting if way[0] == width]
    for way in full:
        if way[1] == height:
            return way
    if full:
        return full[0]
    for way in fitting:
        if way[1] == height:
            return way
    return fitting[0]


def _least_waste(fitting: list[Way], width: int, height: int, stage: int) -> Way:
    """In a row the highest, of those as high as the row the widest; in a column the other way round."""
    side = 0 if stage & 1 else 1
    most = max([way[side] for way in fitting])
    largest = [way for way in fitting if way[side] == most]
    fills = most == (width, height)[side]
    return max(largest, key=itemgetter(1 - side)) if fills else largest[0]


def _built(filled: Sequence[tuple[int, Part, bool, int, int]], sheets: int) -> tuple[Part, ...]:
    """The spaces' layouts as trees, the last filled put together first."""
    made: dict[int, Part] = {}
    for number, block, across, below, beside in reversed(filled):
        second = beside if across else below
        corner = join(not across, [block, made[second]]) if second in made else block
        first = below if across else beside
        made[number] = join(across, [corner, made[first]]) if first in made else corner
    return tuple(made[number] for number in range(sheets) if number in made)
