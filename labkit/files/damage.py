"""Rows at the end of a picture that hold nothing, as when the end of a file was lost on its way."""

import numpy as np

from labkit.files.decode import Pixels

_BLOCK = 16
"""JPEG codes squares of 8 pixels a side, with halved colour 16 (ITU-T T.81, A.2): fill repeats by that."""
_NEAR = 4
"""Levels within which a fill may vary, once it has been packed again."""
_MID_GREY = 128
"""What a JPEG decoder makes of blocks that never came; of bytes that never came, black is made."""
_PACKED_RISES = {7, 8, 9, 15, 16, 17}
"""Rows by which the fill may begin higher on the right: one row of blocks, colour smoothed across by one."""
_ALIVE, _ABRUPT = 0.7, 8
"""Share of the pixels above the fill that must differ from it, by more than so many levels."""


def lost_rows(pixels: Pixels) -> int:
    """How many rows at the lower end, as stored, are fill and no picture; 0 where nothing is sure.

    Where the data of a file break off, they do so in the middle of a row of pixels or of blocks: left of
    that point the picture still lives, right of it and below is nothing but fill (mid-grey, black, or one
    block over and over), and right above the fill the picture lives again. A border, a dark ground or a
    band of colour begins at one height all across, and is never told; nor is a loss that happens to end
    with a whole row.
    """
    stored = pixels.as_stored()
    width, height = stored.shape
    if width < 4 * _BLOCK or height < 4 * _BLOCK:
        return 0
    fill = _fill(stored)
    if fill is None:
        return 0
    first = _first_dead(stored, fill)
    rise = _rise(stored, fill, first) if first else 0
    return height - first + rise if rise else 0


def _rise(stored: Pixels, fill: np.ndarray, first: int) -> int:
    """How many rows above row ``first`` the fill begins on the right; 0 where that is no tear."""
    width, height = stored.shape
    above = _differs(stored, fill, max(0, first - 4 * _BLOCK), first).max(axis=2) > _NEAR
    right = above[:, -_BLOCK:].any(axis=1)
    rise = int(right[::-1].argmax())
    if not fill.any():
        is_rise = rise == 1
    elif first == height:  # it broke off in the last row of blocks
        is_rise = 0 < rise <= _BLOCK
    else:
        is_rise = rise in _PACKED_RISES
    row = first - rise - 3
    if not is_rise or row < 0 or (fill.any() and (first - rise) % 8 > 1):
        return 0
    broken = above[-1 - rise // 2]
    begins = width - int(broken[::-1].argmax())
    over = _differs(stored, fill, row, row + 1)[0].max(axis=1) > _ABRUPT
    living = broken[:_BLOCK], broken[:begins], over[begins:]
    return rise if all(part.size and part.mean() >= _ALIVE for part in living) else 0


def _fill(stored: Pixels) -> np.ndarray | None:
    """Sixteen rows of fill, from the block in the lower right corner, if it is one that stands for nothing.

    They are turned so that row 0 belongs to the rows whose number divides by sixteen.
    """
    width, height = stored.shape
    left = (width // _BLOCK - 2) * _BLOCK
    corner = stored.levels((left, height - _BLOCK, left + 2 * _BLOCK, height))
    lower = corner[_BLOCK // 2 :]  # colour may run into the upper half
    if np.ptp(lower, axis=(0, 1)).max() <= _NEAR:
        level = int(np.median(lower))
        is_neutral = np.ptp(lower) <= _NEAR
        if not is_neutral or (level and abs(level - _MID_GREY) > _NEAR):
            return None
        return np.full((_BLOCK, width, 3), level, np.uint8)
    block, last = np.hsplit(corner.astype(np.int16), 2)
    if np.abs(block - last).max() > _NEAR:
        return None
    block = block.astype(np.uint8)
    square = np.roll(block, -(-height % _BLOCK), axis=0)
    return np.tile(square, (1, -(-width // _BLOCK), 1))[:, :width]


def _first_dead(stored: Pixels, fill: np.ndarray) -> int:
    """The topmost of the rows, from the lower end on, that are nothing but fill."""
    first = stored.shape[1]
    while first > 0:
        top = max(0, first - _BLOCK)
        living = _differs(stored, fill, top, first).reshape(first - top, -1).max(axis=1) > _NEAR
        if living.any():
            return first - int(living[::-1].argmax())
        first = top
    return 0


def _differs(stored: Pixels, fill: np.ndarray, top: int, bottom: int) -> np.ndarray:
    """By how many levels each channel of some rows is off the fill."""
    wanted = fill[np.arange(top, bottom) % _BLOCK]
    found = stored.levels((0, top, stored.shape[0], bottom))
    return np.maximum(found, wanted) - np.minimum(found, wanted)
