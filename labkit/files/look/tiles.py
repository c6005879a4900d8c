"""Parts of a picture in which its finest detail is measured, at full resolution."""

import numpy as np

from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

TILE, KEPT = 512, 4
"""The side of a tile in pixels, and how many of the up to nine tiles are measured."""
ROUND = 24
"""Tiles begin at whole rounds of so many pixels, so that whatever comes round again after 2, 3, 4, 6, 8 or 12
of them does so in step in all tiles."""


def detailed_tiles(pixels: Pixels, box: PixelBox) -> list[np.ndarray]:
    """The tiles with most detail, up to KEPT of up to nine spread over the picture.

    Each is an array of rows × columns, int16, of four times grey: 0 to 1020, red and blue weighing alike.
    """
    return [_grey(tile) for _, tile in _by_detail(pixels, box)[:KEPT]]


def most_detailed(pixels: Pixels, box: PixelBox, size: tuple[int, int]) -> np.ndarray:
    """The middle of the tile with most detail, no larger than ``size`` (width, height in pixels): rows ×
    columns × 3, uint8."""
    tile = _by_detail(pixels, box)[0][1]
    (high, wide), (most_wide, most_high) = tile.shape[:2], size
    left, top = max(0, wide - most_wide) // 2, max(0, high - most_high) // 2
    return tile[top : top + most_high, left : left + most_wide]


def _by_detail(pixels: Pixels, box: PixelBox) -> list[tuple[float, np.ndarray]]:
    """All the tiles, each with how much detail is in it, those with most first."""
    wide, high = min(TILE, box.width), min(TILE, box.height)
    found = []
    for top in _starts(box.height, high):
        for left in _starts(box.width, wide):
            x, y = box.left + left, box.top + top
            tile = pixels.levels((x, y, x + wide, y + high))
            rows = tile[::8, :, 1].astype(np.int16)
            found.append((np.abs(np.diff(rows, axis=1)).mean() if wide > 1 else 0.0, tile))
    return sorted(found, key=lambda each: each[0], reverse=True)


def _starts(length: int, tile: int) -> list[int]:
    """Where up to three tiles begin, at whole rounds so that all swing in step."""
    count = min(3, length // tile)
    return [(length - tile) * turn // max(1, count - 1) // ROUND * ROUND for turn in range(count)]


def _grey(tile: np.ndarray) -> np.ndarray:
    """Four times grey, red and blue weighing the same.

    A camera has a red or a blue pixel in every second column and fills in the rest; weighed alike,
    that looks the same in all columns. A JPEG's colours of half the pixels all but fall out.
    """
    wide = tile.astype(np.int16)
    return wide[..., 0] + 2 * wide[..., 1] + wide[..., 2]
