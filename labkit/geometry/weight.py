"""How much more white is left below a picture than above it, and the window mat that shows it."""

from dataclasses import dataclass
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.size import Size


@dataclass(frozen=True, slots=True)
class Weight:
    """What the border below has more than the one above: ``more``, or a ``share`` of it.

    Never less, so neither is below zero. LabError for one that is.
    """

    more: Length = ZERO
    share: Fraction = Fraction(0)

    def __post_init__(self):
        if self.more < ZERO or self.share < 0:
            raise LabError(
                "the border below is never narrower than the one above: give zero or more."
            )

    def below(self, above: Length) -> Length:
        """The border below, of the one above."""
        return above + self.more + above * self.share

    def above(self, below: Length) -> Length:
        """The border above, of the one below."""
        return (below - self.more) / (1 + self.share)

    def shared(self, spare: Length) -> tuple[Length, Length]:
        """So much white in two: above and below."""
        above = (spare - self.more) / (2 + self.share)
        return above, spare - above


EVEN = Weight()
WEIGHTS = {
    "equal": EVEN,
    "1/4 in more": Weight(length("1/4in")),
    "1/2 in more": Weight(length("1/2in")),
    "5 % more": Weight(share=Fraction(5, 100)),
    "10 % more": Weight(share=Fraction(10, 100)),
    "15 % more": Weight(share=Fraction(15, 100)),
}
"""The weights that sources give for the bottom of a mat. They differ, and no rule chooses among them:
1/4 to 1/2 in more on a mat of 3 to 4 in and 1/2 in or more for large pictures (altphotolist, 1 December
2011); 5 to 15 % (from memory of web pages). Common practice, no standard."""


@dataclass(frozen=True, slots=True)
class Mat:
    """A window mat: the ``board`` and the ``opening`` in it, of which it covers ``overlap`` of the picture
    on each side."""

    board: Size
    opening: Box
    overlap: Length

    @property
    def borders(self) -> Edges:
        """Of the board, round the opening."""
        return self.opening.within(Box(ZERO, ZERO, *self.board))


def window_mat(picture: Size, board: Size, overlap: Length, weight: Weight = EVEN) -> Mat:
    """The mat that shows a picture in a board, the opening in the middle from left to right.

    LabError where no opening is left, or the board is too small.

    >>> sides = lambda text: tuple(length(f"{side}in") for side in text.split("x"))
    >>> made = window_mat(sides("12x8"), sides("16x14"), length("1/8in"), WEIGHTS["1/2 in more"])
    >>> made.borders.left, made.borders.top, made.borders.bottom
    (Length('2 1/8 in'), Length('2 7/8 in'), Length('3 3/8 in'))
    """
    size = tuple(side - overlap * 2 for side in picture)
    if overlap < ZERO or min(size) <= ZERO:
        raise LabError(
            f"an overlap of {overlap.both()} leaves no opening for a picture of {size_text(picture)}: give "
            "1/8 in or so."
        )
    left = (board[0] - size[0]) / 2
    above, below = weight.shared(board[1] - size[1])
    if min(left, above, below) <= ZERO:
        raise LabError(
            f"a board of {size_text(board)} is too small for an opening of {size_text(size)} with that "
            "weight: take a larger board, or a smaller print."
        )
    return Mat(board, Box(left, above, *size), overlap)
