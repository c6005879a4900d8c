"""Find the picture on a sheet: the ink that differs from the paper round it."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from PIL import Image

from labkit.files.decode import Pixels, Region
from labkit.geometry.proportion import Crop
from labkit.geometry.raster import PixelBox

DIFFERENCE = 12
"""Levels (of 255) by which a pixel must differ from the surround to count as ink; above JPEG noise."""
_BAND = 256
_PATCHES = 12
ALIKE = 16
"""Mean difference of patches, in levels, below which two pictures count as the same."""
SPECK = 3
"""Rows or columns with no more ink than this many pixels are specks, not picture."""


@dataclass(frozen=True, slots=True)
class Located:
    """Where the picture sits on a sheet, in pixels (None for an empty sheet).

    ``surround`` is the colour of the paper round it; ``light_edges`` names the sides on which the
    picture's own edge is nearly as light as the surround, so that its place there is a guess.
    """

    box: PixelBox | None
    surround: tuple[int, int, int]
    light_edges: tuple[str, ...] = ()


def locate(sheet: Pixels, marks: Iterable[PixelBox] = ()) -> Located:
    """Find the picture on a decoded sheet, a band of rows at a time.

    ``marks`` are boxes to leave out, such as corner marks known to stand there.
    """
    width, height = sheet.shape
    surround = _surround(sheet)
    marks = list(marks)
    in_row = np.zeros(height, np.int64)
    in_column = np.zeros(width, np.int64)
    for top in range(0, height, _BAND):
        bottom = min(height, top + _BAND)
        ink = _ink(sheet.levels((0, top, width, bottom)), surround)
        for mark in marks:
            above, below = max(0, mark.top - 1 - top), max(0, mark.bottom + 1 - top)
            ink[above:below, max(0, mark.left - 1) : mark.right + 1] = False
        in_row[top:bottom] = ink.sum(axis=1)
        in_column += ink.sum(axis=0)
    rows, columns = _span(in_row), _span(in_column)
    colour = tuple(int(level) for level in surround)
    if rows is None or columns is None:
        return Located(None, colour)
    box = PixelBox(columns[0], rows[0], columns[1] - columns[0], rows[1] - rows[0])
    lines = _edges(sheet, box).items()
    light = tuple(side for side, line in lines if _ink(line, surround).mean() < 0.5)
    return Located(box, colour, light)


def _surround(sheet: Pixels) -> np.ndarray:
    """The commonest colour along the four edges: the median of their outermost pixels."""
    edges = _edges(sheet, PixelBox(0, 0, *sheet.shape))
    return np.median(np.concatenate(list(edges.values())), axis=0).astype(np.int16)


def _edges(sheet: Pixels, box: PixelBox) -> dict[str, np.ndarray]:
    """The outermost pixels of a box, a line to a side."""
    lines = {
        "left": (box.left, box.top, box.left + 1, box.bottom),
        "top": (box.left, box.top, box.right, box.top + 1),
        "right": (box.right - 1, box.top, box.right, box.bottom),
        "bottom": (box.left, box.bottom - 1, box.right, box.bottom),
    }
    return {side: sheet.levels(line).reshape(-1, 3) for side, line in lines.items()}


def _ink(part: np.ndarray, surround: np.ndarray) -> np.ndarray:
    off = np.abs(part.astype(np.int16) - surround) > DIFFERENCE
    return off[..., 0] | off[..., 1] | off[..., 2]  # many times as fast as any() over an axis of 3


def _span(counts: np.ndarray) -> tuple[int, int] | None:
    """First and one past the last row (or column) that holds more than a speck."""
    inked = np.flatnonzero(counts > SPECK)
    return (int(inked[0]), int(inked[-1]) + 1) if inked.size else None


def unlike(sheet: Pixels, box: PixelBox, picture: Pixels, crop: Crop) -> str:
    """How what lies in ``box`` differs from the picture that should be there: "" when it is that one.

    Both are averaged down to a few patches, so that resampling, a profile or packing do not matter.
    """
    width, height = picture.shape
    left, top = round(width * crop.left), round(height * crop.top)
    right = round(width * (crop.left + crop.width))
    bottom = round(height * (crop.top + crop.height))
    wanted = patches(picture, (left, top, right, bottom))
    ways = ways_round(patches(sheet, (box.left, box.top, box.right, box.bottom)))
    off = {way: float(np.abs(wanted - got).mean()) for way, got in ways.items()}
    nearest = min(off, key=off.get)
    return nearest if off[nearest] < ALIKE else "it is another one"


def ways_round(got: np.ndarray) -> dict[str, np.ndarray]:
    """What was found as it is, and turned back from each way in which it may be the wrong way round."""
    return {
        "": got,
        "it is mirrored": got[:, ::-1],
        "it is upside down": got[::-1, ::-1],
        "it is flipped top to bottom": got[::-1],
    }


def patches(
    pixels: Pixels, region: Region, count: tuple[int, int] = (_PATCHES, _PATCHES)
) -> np.ndarray:
    """The region averaged down to so many patches across and down, a row of them at a time."""
    left, top, right, bottom = region
    cuts = np.linspace(top, bottom, count[1] + 1).round().astype(int).tolist()
    rows = []
    for start, end in pairwise(cuts):
        start = min(start, bottom - 1)
        band = Image.fromarray(pixels.levels((left, start, right, max(end, start + 1))))
        rows.append(np.asarray(band.resize((count[0], 1), Image.Resampling.BOX)))
    return np.concatenate(rows).astype(np.float32)
