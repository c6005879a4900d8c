"""One picture in several parts that line up on the wall, apart from each other or one over the other."""

import re
from dataclasses import dataclass
from functools import cached_property

from labkit.errors import LabError
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.size import Size

MOST_PARTS = 60
"""In how many parts a picture is divided at most."""


_OF_WHOLE = "Of a picture {wide} wide and {high} high this part begins {place}."
_SIDE = r"([0-9][^()]{0,20}?) \([^()]{1,20}\)"
_SAID = re.compile(rf"Of a picture {_SIDE} wide and {_SIDE} high this part begins ")


@dataclass(frozen=True)
class Split:
    """A picture of ``size`` in ``columns`` × ``rows`` parts of one size.

    ``size`` is what is seen on the wall, gaps included. ``gap`` is left between neighbours, and what of the
    picture lies behind it is on neither; ``overlap`` is shown by both. One of the two is zero. LabError for
    what cannot be divided so.
    """

    size: Size
    columns: int
    rows: int
    gap: Length = ZERO
    overlap: Length = ZERO

    def __post_init__(self):
        if min(self.columns, self.rows) < 1 or not 2 <= self.count <= MOST_PARTS:
            raise LabError(
                f"{self.columns} × {self.rows} parts cannot be made: give columns × rows, 2 to {MOST_PARTS} "
                "parts in all, such as 3x1."
            )
        if self.gap and self.overlap:
            raise LabError(
                "parts either overlap or have a gap between them: leave one of the two out."
            )
        for word, size in (("a gap", self.gap), ("an overlap", self.overlap)):
            if size < ZERO:
                raise LabError(f"{word} of {size} is less than none: give zero or more.")
        wide, high = self.part_size
        if min(wide, high) <= ZERO:
            raise LabError(
                f"gaps of {self.gap} leave nothing of a picture of {self.size[0]} by {self.size[1]} in "
                f"{self.columns} × {self.rows} parts: make the gap smaller, or the picture larger."
            )
        for count, side in ((self.columns, wide), (self.rows, high)):
            if count > 1 and self.overlap * 2 > side:
                raise LabError(
                    f"parts {side} across that overlap by {self.overlap} would meet beyond their middle: "
                    "make the overlap smaller, or take fewer parts."
                )

    @property
    def count(self) -> int:
        """How many parts there are."""
        return self.columns * self.rows

    @property
    def part_size(self) -> Size:
        """Of each part, by what they share and what lies between them."""
        between = self.gap - self.overlap
        return tuple(
            (side - between * (count - 1)) / count
            for side, count in zip(self.size, (self.columns, self.rows), strict=True)
        )

    @cached_property
    def parts(self) -> tuple["Part", ...]:
        """All of them, row by row, each from the left."""
        return tuple(Part(self, number) for number in range(1, self.count + 1))

    def hidden(self, first: str = "in") -> str:
        """What of the picture is shown twice, or not at all, in a sentence; "" where every edge meets."""
        if self.gap:
            return (
                f"What lies behind each gap of {self.gap.both(first)} is on no part: hung that far apart, "
                "the picture runs on from one to the next."
            )
        if self.overlap:
            return f"Neighbours both show the {self.overlap.both(first)} where they overlap."
        return ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a :class:`Split`, by its number from 1."""

    split: Split
    number: int

    @property
    def name(self) -> str:
        """``part 2 of 3``."""
        return f"part {self.number} of {self.split.count}"

    @property
    def column(self) -> int:
        """From the left, from 0."""
        return (self.number - 1) % self.split.columns

    @property
    def row(self) -> int:
        """From the top, from 0."""
        return (self.number - 1) // self.split.columns

    @property
    def box(self) -> Box:
        """Where it lies on the whole picture."""
        wide, high = self.split.part_size
        between = self.split.gap - self.split.overlap
        left, top = (wide + between) * self.column, (high + between) * self.row
        return Box(left, top, wide, high)

    def neighbours(self) -> list[tuple[str, int]]:
        """On which sides it has one, and the number of that."""
        columns, rows = self.split.columns, self.split.rows
        sides = (
            ("left", self.column > 0, -1),
            ("right", self.column < columns - 1, 1),
            ("top", self.row > 0, -columns),
            ("bottom", self.row < rows - 1, columns),
        )
        return [(side, self.number + step) for side, is_there, step in sides if is_there]

    def seams(self, first: str = "in") -> list[str]:
        """Where it goes, and how it meets each neighbour, with lengths in both units."""
        split, box = self.split, self.box
        wide, high = (side.both(first) for side in split.size)
        place = f"{box.left.both(first)} from its left and {box.top.both(first)} from its top"
        told = [_OF_WHOLE.format(wide=wide, high=high, place=place)]
        for side, number in self.neighbours():
            if split.gap:
                told.append(
                    f"{side.capitalize()}: hang it {split.gap.both(first)} from part {number}; as much of "
                    "the picture is hidden behind the gap."
                )
            elif split.overlap:
                told.append(
                    f"{side.capitalize()}: its outer {split.overlap.both(first)} is on part {number} too. "
                    f"Lay one over the other, or cut both {(split.overlap / 2).both(first)} inside."
                )
            else:
                told.append(f"{side.capitalize()}: it meets part {number}, edge to edge.")
        return told


def whole_of(description: str) -> Size | None:
    """The size of the whole picture, where a description says that its file is a part of one; else None.

    >>> part = Split((length("24in"), length("10in")), 3, 1).parts[1]
    >>> whole_of(" ".join(part.seams()))
    (Length('24 in'), Length('10 in'))
    """
    said = _SAID.search(description)
    if not said:
        return None
    try:
        return length(said[1]), length(said[2])
    except LabError:
        return None


def read_count(text: str) -> tuple[int, int]:
    """Columns and rows as they are written; LabError for anything else.

    >>> read_count("3x1")
    (3, 1)
    """
    found = re.fullmatch(r"\s*(\d{1,3})\s*[x×*]\s*(\d{1,3})\s*", str(text))
    if not found:
        raise LabError(f"“{text}” parts is not understood: give columns × rows, such as 3x1.")
    return int(found[1]), int(found[2])
