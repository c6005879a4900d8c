"""What a file that several prints share says of itself: where each lies, and the line of type below it.

It stands in the file's description, so that whoever checks the file can see that what lies outside the
prints is ours, and that it is still as it was written.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from zlib import crc32

import numpy as np

from labkit.geometry.pixelbox import PixelBox

PRINTS, CONTACT = "prints", "contact"
"""Prints to be cut apart, with marks to cut by; or a contact sheet, with captions alone."""
_BEGINS = {PRINTS: "Prints to be cut apart", CONTACT: "Contact sheet"}
_ENTRY = re.compile(r"(\d{1,7}) (\d{1,7}) (\d{1,7})x(\d{1,7}) ([0-9a-f]{8})")
MOST = 1000
"""More than so many prints no file of ours holds."""


@dataclass(frozen=True, slots=True)
class Statement:
    """Which kind of sheet it is, and for each print its place in pixels and the checksum of its line."""

    kind: str
    places: tuple[PixelBox, ...]
    sums: tuple[int, ...]

    def text(self) -> str:
        """As it stands in the description."""
        told = ", ".join(
            f"{box.left} {box.top} {box.width}x{box.height} {line:08x}"
            for box, line in zip(self.places, self.sums, strict=True)
        )
        return f"{_BEGINS[self.kind]} (left top size in pixels, sum of the line below): {told}."


def read_statement(description: str) -> Statement | None:
    """The statement in a description; None where there is none that can be one.

    >>> said = Statement(PRINTS, (PixelBox(3, 4, 50, 60),), (255,))
    >>> read_statement(f"Two boats. {said.text()}") == said
    True
    """
    for kind, begins in _BEGINS.items():
        found = re.search(re.escape(begins) + r" \([^()]{1,80}\): ([0-9a-fx ,]+)\.", description)
        entries = found[1].split(", ") if found else []
        matches = [_ENTRY.fullmatch(entry) for entry in entries]
        if matches and all(matches) and len(matches) <= MOST:
            places = tuple(PixelBox(*map(int, each.groups()[:4])) for each in matches)
            return Statement(kind, places, tuple(int(each[5], 16) for each in matches))
    return None


def sum_of(line: np.ndarray) -> int:
    """The checksum of the levels of a line of type: (rows, columns) uint8, 0 where it is black."""
    return crc32(np.ascontiguousarray(line).tobytes())


def apart(places: Sequence[PixelBox], size: tuple[int, int]) -> bool:
    """Whether prints lie on a sheet of that size, none over another."""
    boxes = sorted(places, key=lambda box: box.top)
    wide, high = size
    for number, box in enumerate(boxes):
        if min(box.width, box.height) < 1 or box.right > wide or box.bottom > high:
            return False
        for other in boxes[number + 1 :]:
            if other.top >= box.bottom:
                break
            if box.left < other.right and other.left < box.right:
                return False
    return True
