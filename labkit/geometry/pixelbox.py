"""Rectangles of whole pixels."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PixelBox:
    """A rectangle of whole pixels, left and top from the upper left corner."""

    left: int
    top: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """One past the last column."""
        return self.left + self.width

    @property
    def bottom(self) -> int:
        """One past the last row."""
        return self.top + self.height


def cut_off(box: PixelBox, side: str, lines: int) -> PixelBox | None:
    """The box without so many lines at a side (with more, if negative); None if none is left."""
    left, top, width, height = box.left, box.top, box.width, box.height
    if side in ("left", "right"):
        left, width = left + (lines if side == "left" else 0), width - lines
    else:
        top, height = top + (lines if side == "top" else 0), height - lines
    return PixelBox(left, top, width, height) if width > 0 and height > 0 else None


def grown(box: PixelBox, by: int) -> PixelBox:
    """The box with so many pixels more on each side."""
    return PixelBox(box.left - by, box.top - by, box.width + 2 * by, box.height + 2 * by)


def around(boxes: Iterable[PixelBox]) -> PixelBox:
    """The smallest box that holds all these."""
    boxes = list(boxes)
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    right, bottom = max(box.right for box in boxes), max(box.bottom for box in boxes)
    return PixelBox(left, top, right - left, bottom - top)


def area(box: PixelBox) -> int:
    """In pixels."""
    return box.width * box.height


def overlap(one: PixelBox, other: PixelBox) -> bool:
    """Whether two boxes have a pixel in common."""
    is_beside = one.right <= other.left or other.right <= one.left
    return not is_beside and one.top < other.bottom and other.top < one.bottom


def is_inside(inner: PixelBox, outer: PixelBox) -> bool:
    """Whether a box lies in another, edges and all."""
    return around((inner, outer)) == outer
