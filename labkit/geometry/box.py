"""Boxes on a sheet, and the four distances between a box and what lies round it."""

from dataclasses import dataclass

from labkit.geometry.length import ZERO, Length


@dataclass(frozen=True, slots=True)
class Edges:
    """Four lengths, one to a side: borders, unprintable edges, or how far something stops short."""

    left: Length = ZERO
    top: Length = ZERO
    right: Length = ZERO
    bottom: Length = ZERO

    def items(self) -> list[tuple[str, Length]]:
        """Name and length of each, in the order left, top, right, bottom."""
        return [(side, getattr(self, side)) for side in ("left", "top", "right", "bottom")]

    def turned(self) -> "Edges":
        """The same edges after a quarter-turn anticlockwise.

        So a sheet that feeds upright shows them in a file that lies on its side: the top edge,
        which feeds first, is then on the left.
        """
        return Edges(left=self.top, top=self.right, right=self.bottom, bottom=self.left)

    def text(self, first: str = "in") -> str:
        """``left 1/2 in (12.7 mm), top …`` in one line."""
        return ", ".join(f"{side} {size.both(first)}" for side, size in self.items())


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a sheet: left and top measured from the sheet's upper left corner."""

    left: Length
    top: Length
    width: Length
    height: Length

    @property
    def right(self) -> Length:
        """The right edge, measured from the sheet's left edge."""
        return self.left + self.width

    @property
    def bottom(self) -> Length:
        """The lower edge, measured from the sheet's top edge."""
        return self.top + self.height

    @property
    def size(self) -> tuple[Length, Length]:
        """Width and height."""
        return self.width, self.height

    def grown(self, by: Length) -> "Box":
        """The box with ``by`` more on all four sides (less, if negative)."""
        return Box(self.left - by, self.top - by, self.width + by * 2, self.height + by * 2)

    def clipped(self, outer: "Box") -> "Box":
        """The part of it that lies in ``outer``; its width or height is not above zero where none does."""
        left, top = max(self.left, outer.left), max(self.top, outer.top)
        right, bottom = min(self.right, outer.right), min(self.bottom, outer.bottom)
        return Box(left, top, right - left, bottom - top)

    def within(self, outer: "Box") -> Edges:
        """The four distances from this box out to ``outer``; negative where it sticks out."""
        return Edges(
            self.left - outer.left,
            self.top - outer.top,
            outer.right - self.right,
            outer.bottom - self.bottom,
        )
