"""What is cut off: trim size, bleed, corner marks, and the one cut that evens three borders."""

from dataclasses import dataclass

from labkit.geometry.box import Box
from labkit.geometry.length import Length, length

MARK_LENGTH = length("6mm")
"""Corner marks of 5–6 mm: common practice, no source."""
MARK_WIDTH = length("0.25mm")
"""A line thin enough to cut along: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Trim:
    """A print cut to size: the finished piece, and how far the picture runs beyond the cut.

    Terms as in ISO 32000-1 §14.11.2 (quoted second-hand): the trim box holds the finished
    dimensions, the bleed box is what must be printed so that a cut a little off shows no white. A print
    that keeps white borders has no bleed. ``marked``: corner marks are printed.
    """

    box: Box
    bleed: Length
    marked: bool = True

    @property
    def bleed_box(self) -> Box:
        """Trim plus bleed on all four sides."""
        return self.box.grown(self.bleed)

    @property
    def marked_box(self) -> Box:
        """All that is printed: trim, bleed and the marks outside it."""
        return self.bleed_box.grown(MARK_LENGTH) if self.marked else self.bleed_box

    def marks(self) -> list[Box]:
        """The eight corner marks as thin boxes: in line with the cuts, outside the bleed.

        CSS Paged Media 3 §marks: short lines, extensions of the box's four edges, no ink in it. None where
        they are not printed.
        """
        if not self.marked:
            return []
        half = MARK_WIDTH / 2
        outer, inner = self.marked_box, self.bleed_box
        across = [
            Box(start, edge - half, MARK_LENGTH, MARK_WIDTH)
            for edge in (self.box.top, self.box.bottom)
            for start in (outer.left, inner.right)
        ]
        down = [
            Box(edge - half, start, MARK_WIDTH, MARK_LENGTH)
            for edge in (self.box.left, self.box.right)
            for start in (outer.top, inner.bottom)
        ]
        return across + down


def cut_for_equal_borders(picture: Box) -> Length:
    """Where to cut, measured from the sheet's top edge, so that the border below the picture equals
    the one on its left.

    A 12 in square at 1/2 in from the left and the top is cut 13 in from the top (common practice,
    no source):

    >>> cut_for_equal_borders(Box(*(length(text) for text in ("1/2in", "1/2in", "12in", "12in"))))
    Length('13 in')
    """
    return picture.bottom + picture.left
