"""A layout as a tree of straight cuts: a part is one piece, or parts side by side or one below another."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple


class Part(NamedTuple):
    """A part of a layout, in whole units, each size with one gap added on the right and below.

    A piece has an ``item`` and no ``parts``. Others are cut up by lines across the paper, their parts
    one below another (``across``), or by lines along it, their parts side by side. Parts begin at the
    same edge. No part is cut up in the same direction as the one it belongs to.
    """

    width: int
    height: int
    item: int = -1
    turned: bool = False
    across: bool = False
    parts: tuple["Part", ...] = ()

    @property
    def is_piece(self) -> bool:
        """Whether it is one piece, not to be cut up."""
        return not self.parts

    def items(self) -> list[int]:
        """Its pieces in the order in which they come off the cutter."""
        return [self.item] if self.is_piece else [i for part in self.parts for i in part.items()]

    def stages(self) -> int:
        """How many times the direction of the cuts changes on the way to a piece, the first included.

        Trimming a piece that is smaller than the place it was given is not counted.
        """
        return 0 if self.is_piece else 1 + max(part.stages() for part in self.parts)

    def stages_from_across(self) -> int:
        """The same where the first cuts are across the paper, even if there are none."""
        return self.stages() + (bool(self.parts) and not self.across)

    def placed(self, left: int = 0, top: int = 0) -> Iterator[tuple["Part", int, int]]:
        """Each piece with its left and top."""
        if self.is_piece:
            yield self, left, top
        for part in self.parts:
            yield from part.placed(left, top)
            if self.across:
                top += part.height
            else:
                left += part.width


def join(across: bool, parts: Iterable[Part]) -> Part:
    """Parts put one below another (``across``) or side by side."""
    flat: list[Part] = []
    for part in parts:
        flat += part.parts if part.parts and part.across == across else (part,)
    if len(flat) == 1:
        return flat[0]
    widths, heights = [part.width for part in flat], [part.height for part in flat]
    size = (max(widths), sum(heights)) if across else (sum(widths), max(heights))
    return Part(*size, across=across, parts=tuple(flat))


def tidied(part: Part, unit_of: list[int], units: list[tuple[int, ...]]) -> Part:
    """The same with parts of one size next to each other, the highest first, where units allow.

    ``units`` are the items that stay together, in order, and ``unit_of`` says to which an item belongs.
    """
    if part.is_piece:
        return part
    parts = [tidied(each, unit_of, units) for each in part.parts]
    held = set(part.items())
    if all(held.issuperset(units[unit_of[item]]) for item in held):
        runs: list[list[Part]] = []
        for each in parts:
            together = runs and unit_of[runs[-1][-1].items()[-1]] == unit_of[each.items()[0]]
            if together:
                runs[-1].append(each)
            else:
                runs.append([each])
        runs.sort(key=lambda run: (-run[0].height, -run[0].width, len(run), run[0].items()))
        parts = [each for run in runs for each in run]
    return join(part.across, parts)
