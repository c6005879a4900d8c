"""Find the picture on a sheet: the ink that differs from the paper round it."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from PIL import Image

from labkit.files.decode import Pixels
from labkit.geometry.proportion import Crop
from labkit.geometry.raster import PixelBox

DIFFERENCE = 12
"""Levels (of 255) by which a pixel must differ from the surround to count as ink; above JPEG noise."""
_BAND = 256
_PATCHES = 12
_ALIKE = 16
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


def locate(sheet: np.ndarray, marks: Iterable[PixelBox] = ()) -> Located:
    """Find the picture on a decoded sheet of rows × columns × 3 bytes.

    ``marks`` are boxes to leave out, such as corner marks known to stand there.
    """
    surround = _surround(sheet)
    marks = list(marks)
    in_row = np.zeros(sheet.shape[0], np.int64)
    in_column = np.zeros(sheet.shape[1], np.int64)
    for top in range(0, sheet.shape[0], _BAND):
        ink = _ink(sheet[top : top + _BAND], surround)
        for mark in marks:
            above, below = max(0, mark.top - 1 - top), max(0, mark.bottom + 1 - top)
            ink[above:below, max(0, mark.left - 1) : mark.right + 1] = False
        in_row[top : top + _BAND] = ink.sum(axis=1)
        in_column += ink.sum(axis=0)
    rows, columns = _span(in_row), _span(in_column)
    colour = tuple(int(level) for level in surround)
    if rows is None or columns is None:
        return Located(None, colour)
    box = PixelBox(columns[0], rows[0], columns[1] - columns[0], rows[1] - rows[0])
    return Located(box, colour, _light_edges(sheet, surround, box))


def _surround(sheet: np.ndarray) -> np.ndarray:
    """The commonest colour along the four edges: the median of their outermost pixels."""
    edges = np.concatenate([sheet[0], sheet[-1], sheet[:, 0], sheet[:, -1]])
    return np.median(edges, axis=0).astype(np.int16)


def _ink(part: np.ndarray, surround: np.ndarray) -> np.ndarray:
    return np.abs(part.astype(np.int16) - surround).max(axis=-1) > DIFFERENCE


def _span(counts: np.ndarray) -> tuple[int, int] | None:
    """First and one past the last row (or column) that holds more than a speck."""
    inked = np.flatnonzero(counts > SPECK)
    return (int(inked[0]), int(inked[-1]) + 1) if inked.size else None


def _light_edges(sheet: np.ndarray, surround: np.ndarray, box: PixelBox) -> tuple[str, ...]:
    """Sides along which less than half of the picture's outermost pixels count as ink."""
    edges = {
        "left": sheet[box.top : box.bottom, box.left],
        "top": sheet[box.top, box.left : box.right],
        "right": sheet[box.top : box.bottom, box.right - 1],
        "bottom": sheet[box.bottom - 1, box.left : box.right],
    }
    return tuple(side for side, line in edges.items() if _ink(line, surround).mean() < 0.5)


def unlike(found: np.ndarray, picture: Pixels, crop: Crop) -> str:
    """How what was found differs from the picture that should be there: "" when it is that one.

    Both are averaged down to a few patches, so that resampling, a profile or packing do not matter.
    """
    width, height = picture.shape
    box = (
        round(width * crop.left),
        round(height * crop.top),
        round(width * (crop.left + crop.width)),
        round(height * (crop.top + crop.height)),
    )
    wanted = _patches(picture.region(box).convert("RGB"))
    got = _patches(Image.fromarray(found))
    ways = {
        "": got,
        "it is mirrored": got[:, ::-1],
        "it is upside down": got[::-1, ::-1],
        "it is flipped top to bottom": got[::-1],
    }
    off = {way: float(np.abs(wanted - patches).mean()) for way, patches in ways.items()}
    nearest = min(off, key=off.get)
    return nearest if off[nearest] < _ALIKE else "it is another one"


def _patches(image: Image.Image) -> np.ndarray:
    small = image.resize((_PATCHES, _PATCHES), Image.Resampling.BOX)
    return np.asarray(small, dtype=np.float32)
