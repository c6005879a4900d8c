"""Whether a file is a ruler sheet of ours: what it says of itself, against its pixels.

It stands in the file's description: a sum of all pixels of each eighth of its height. A ruler is only true
as a whole, so nothing less is looked at.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from zlib import crc32

import numpy as np

from labkit.files.header.picture import Picture
from labkit.files.header.tiff_reader import description_of
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

PARTS = 8
"""How many parts of its height are summed up, each by itself."""
_BEGINS = "Ruler sheet (sum of each eighth of its height, from the top)"
_SAID = re.compile(re.escape(_BEGINS) + r": ((?:[0-9a-f]{8} ){7}[0-9a-f]{8})\.")
_BAND = 256

Rows = Callable[[int, int], np.ndarray]
"""Rows from one to before another: (rows, columns, 3) uint8."""


@dataclass(frozen=True, slots=True)
class KnownRuler:
    """A ruler sheet of ours: the ``box`` of all its ink, and how many of its eighths are ``changed``."""

    box: PixelBox
    changed: int


def ruler_statement(rows: Rows, size: tuple[int, int]) -> str:
    """What a ruler sheet says of itself, from its rows."""
    sums = (_sum(rows, *part) for part in _parts(size[1]))
    return f"{_BEGINS}: {' '.join(f'{each:08x}' for each in sums)}."


def known_ruler(picture: Picture, pixels: Pixels) -> KnownRuler | None:
    """In a guarded child: the ruler sheet that a file says it is; None where it says nothing of the kind,
    or where no eighth of it is as it was written."""
    said = _SAID.search(description_of(picture))
    if said is None or picture.orientation != 1:
        return None
    wide, high = pixels.shape

    def rows(top: int, bottom: int) -> np.ndarray:
        return pixels.levels((0, top, wide, bottom))

    wanted = [int(each, 16) for each in said[1].split()]
    found = (_sum(rows, *part) for part in _parts(high))
    changed = sum(one != other for one, other in zip(found, wanted, strict=True))
    box = _ink(rows, (wide, high))
    return None if changed == PARTS or box is None else KnownRuler(box, changed)


def _parts(high: int) -> Iterator[tuple[int, int]]:
    for number in range(PARTS):
        yield high * number // PARTS, high * (number + 1) // PARTS


def _bands(first: int, last: int) -> Iterator[tuple[int, int]]:
    for top in range(first, last, _BAND):
        yield top, min(top + _BAND, last)


def _sum(rows: Rows, first: int, last: int) -> int:
    total = 0
    for band in _bands(first, last):
        total = crc32(np.ascontiguousarray(rows(*band)), total)
    return total


def _ink(rows: Rows, size: tuple[int, int]) -> PixelBox | None:
    """Round all that is not white; None where all is."""
    across, down = np.zeros(size[0], bool), np.zeros(size[1], bool)
    for top, bottom in _bands(0, size[1]):
        inked = rows(top, bottom).min(axis=2) < 255
        across |= inked.any(axis=0)
        down[top:bottom] = inked.any(axis=1)
    xs, ys = np.flatnonzero(across), np.flatnonzero(down)
    if not xs.size:
        return None
    return PixelBox(int(xs[0]), int(ys[0]), int(xs[-1] - xs[0]) + 1, int(ys[-1] - ys[0]) + 1)
