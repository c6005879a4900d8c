"""Whether a picture holds detail as fine as its pixels, or is soft: enlarged, out of focus or smoothed."""

import numpy as np

FALLS = -26
"""By how many decibels the power of the finest detail lies below that of coarse detail where it is told, in
both directions and in each tile. Of 165 photographs and drawings, and the same at half size, one lay as low:
a pattern that was out of focus."""
_HOLDS = -20
"""Decibels above which detail counts as held."""
LEAST = 256
"""A tile narrower or lower than this, in pixels, is too small to tell."""
_BANDS = 48
"""Parts of a cycle a pixel in which the power is averaged; half as many bands reach the finest detail."""
_COARSE, _FINE = slice(1, 4), slice(12, 21)
"""Bands about 1/24 and about 1/3 cycle a pixel."""
_ROUNDING = 0.02
"""The power that rounding to whole levels leaves at the least, which is 1/12 for one channel."""


def find_soft(tiles: list[np.ndarray]) -> float:
    """How many pixels the finest detail of a picture is wide, in ``tiles`` of it; 0 for one that is not
    soft.

    ``tiles`` are those of :func:`labkit.files.look.tiles.detailed_tiles`: rows × columns, int16, four times
    grey. It tells an enlargement of three times and more by most ways, also where it was saved as a
    JPEG since; and cannot tell it from a picture that was never sharp.
    """
    if min(tiles[0].shape) < LEAST:
        return 0.0
    held = np.full(_BANDS // 2, -np.inf)
    for tile in tiles:
        for way in (tile, tile.T):
            held = np.maximum(held, _detail(way))
            if held[_FINE].max() > FALLS:
                return 0.0
    return _BANDS / 2 / (int(np.flatnonzero(held >= _HOLDS)[-1]) + 1)


def _detail(tile: np.ndarray) -> np.ndarray:
    """The power across a tile, from coarse to fine, in decibels of that of coarse detail."""
    length = tile.shape[1] // _BANDS * _BANDS
    window = np.hanning(length)
    rows = tile[::3, :length] / 4
    rows -= rows.mean(axis=1, keepdims=True)
    power = (np.abs(np.fft.rfft(rows * window, axis=1)) ** 2).mean(axis=0) / (window**2).sum()
    bands = power[:-1].reshape(_BANDS // 2, -1).mean(axis=1) + _ROUNDING
    return 10 * np.log10(bands / bands[_COARSE].mean())
