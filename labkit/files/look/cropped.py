"""Find which part of a picture lies on a sheet, wherever it was cropped."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import numpy as np
from PIL import Image

from labkit.files.look.locate import ALIKE, patches, ways_round
from labkit.files.pixels.decode import Pixels
from labkit.geometry.length import Length
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.proportion import WHOLE, Crop, fill

STRETCHED = "stretched"
"""What is said of a whole picture that was squeezed into another shape."""
_SMALL, _PATCHES = 240, 24
"""The longest side of the picture, and each side of the crops, in which they are compared."""
_SIZES = (1.0, 0.85, 0.7, 0.55, 0.4)
"""How large a crop may be, as parts of the largest of that shape, at the first try."""
_COARSE, _FINE = 1 / 10, 1 / 1000
"""The first and the last step of the search, as parts of the crop and of the picture."""

Window = tuple[float, float, float]
"""Left and top in fractions of the picture, and the size as a part of the largest crop's."""


def find_crop(sheet: Pixels, box: PixelBox, picture: Pixels) -> tuple[Crop, str]:
    """The part of ``picture`` that lies in ``box``, and how it differs: "" when it does not.

    Crops of the box's shape are tried, large and small, all over the picture, then ever more closely
    round the best of each size; all are averaged down to patches, as where a crop is known. A crop is
    found to a few thousandths of the picture.
    """
    wide, high = picture.shape
    scale = min(1, _SMALL / max(wide, high))
    size = max(1, round(wide * scale)), max(1, round(high * scale))
    small = Image.fromarray(patches(picture, (0, 0, wide, high), size).round().astype(np.uint8))
    got = patches(sheet, (box.left, box.top, box.right, box.bottom), (_PATCHES, _PATCHES))
    shape = Length(Fraction(box.width)), Length(Fraction(box.height))
    largest = fill(picture.shape, *shape)
    full = float(largest.width), float(largest.height)

    def shown(window: Window) -> np.ndarray:
        left, top, part = window
        return _part(small, (left, top, full[0] * part, full[1] * part))

    ways = ways_round(got)
    best = []
    for part in _SIZES:
        tried = (
            (_off(there, wanted), window, way)
            for window in _windows(full, part)
            for there in (shown(window),)
            for way, wanted in ways.items()
        )
        _, first, way = min(tried, key=lambda each: each[0])
        window = _closer(first, full, lambda window, way=way: _off(shown(window), ways[way]))
        best.append((_off(shown(window), ways[way]), window, way))
    least, window, way = min(best)
    part = Fraction(window[2])
    crop = Crop(
        Fraction(window[0]), Fraction(window[1]), largest.width * part, largest.height * part
    )
    squeezed = _off(_part(small, (0, 0, 1, 1)), got)
    if min(full) < 0.98 and squeezed < min(least, ALIKE):
        return WHOLE, STRETCHED
    return crop, way if least < ALIKE else "other"


def _windows(full: tuple[float, float], part: float) -> Iterator[Window]:
    """Crops of one size all over the picture."""
    spare = [1 - side * part for side in full]
    steps = [round(s / (side * part * _COARSE)) + 1 for s, side in zip(spare, full, strict=True)]
    lefts, tops = (np.linspace(0, s, n).tolist() for s, n in zip(spare, steps, strict=True))
    yield from ((left, top, part) for left in lefts for top in tops)


def _closer(window: Window, full: tuple[float, float], off) -> Window:
    """The best window round one, by ever smaller steps; it grows and shrinks about its middle."""
    step, best = _COARSE, off(window)
    while step > _FINE:
        for by in product((-step, 0, step), repeat=3):
            tried = _moved(window, by, full)
            if (now := off(tried)) < best - 1e-6:
                window, best = tried, now
                break
        else:
            step /= 2
    return window


def _moved(window: Window, by: Window, full: tuple[float, float]) -> Window:
    """Kept inside the picture."""
    part = min(1.0, max(0.1, window[2] + by[2]))
    left, top = (
        min(max(0.0, at + move + side * (window[2] - part) / 2), 1 - side * part)
        for at, move, side in zip(window[:2], by[:2], full, strict=True)
    )
    return left, top, part


def _part(small: Image.Image, window: tuple[float, float, float, float]) -> np.ndarray:
    """A part of the picture (left, top, width, height in fractions) in patches: rows × columns × 3 levels,
    float32."""
    left, top, wide, high = window
    edges = left, top, min(1, left + wide), min(1, top + high)
    region = tuple(edge * side for edge, side in zip(edges, small.size * 2, strict=True))
    part = small.resize((_PATCHES, _PATCHES), Image.Resampling.BOX, box=region)
    return np.asarray(part, np.float32)


def _off(there: np.ndarray, wanted: np.ndarray) -> float:
    """How far patches are from what is wanted, in levels."""
    return float(np.abs(there - wanted).mean())
