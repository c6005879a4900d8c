"""Rows that hold no picture, as when part of a file was lost on its way, and signs that some once was."""

import numpy as np

from labkit.files.pixels.decode import Pixels

_CODED = 8
_BLOCK = 2 * _CODED
"""JPEG codes squares of 8 pixels a side, with halved colour 16 (ITU-T T.81, A.2): fill repeats by that."""
_NEAR = 4
"""Levels within which a fill may vary, once it has been packed again."""
_MID_GREY = 128
"""What a JPEG decoder makes of blocks that never came; of bytes that never came, black is made."""
_PACKED_RISES = {7, 8, 9, 15, 16, 17}
"""Rows by which the fill may begin higher on the right: one row of blocks, colour smoothed across by one."""
_ALIVE, _ABRUPT = 0.7, 8
"""Share of the pixels above the fill that must differ from it, by more than so many levels."""
_BAND = 64
"""Rows that are looked at together."""
_GREYISH, _FLAT, _DETAILED = 8, 6, 2
"""Levels by which fill that was saved again may be off mid-grey, by which a line may vary that is flat, and
by which its pixels must differ from the next in a line that is smeared (our own judgement)."""
_SMALL_STEP, _LIGHT = 24, 200
"""Levels by which paper turns into another colour at most, and of which it is at the least (our own
judgement)."""
_FEW = 48
"""In fewer lines nothing is sure."""
_LEAST, _MOST_ALIKE = 0.05, 0.2
"""Share of the lines of a picture that a sign of damage takes at the least, and of all others that may look
like it."""


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


def hole(pixels: Pixels) -> tuple[int, int] | None:
    """The first of some rows, as stored, that are nothing but black inside the picture, and how many.

    So where bytes came as zeros in the middle of a file that packs nothing: black begins or ends in the
    middle of a row, and the picture lives right above its beginning, or right below its end.
    """
    stored = pixels.as_stored()
    width, height = stored.shape
    lines = [stored.levels((x, 0, x + 1, height)) for x in (0, width // 2, width - 1)]
    dead = np.concatenate([[False], ~np.hstack(lines).any(axis=(1, 2)), [False]])
    turns = np.flatnonzero(dead[1:] != dead[:-1]).tolist()
    for first, end in zip(turns[::2], turns[1::2], strict=True):
        if first < 2 or end > height - 2 or not _is_black(stored, first, end):
            continue
        before, above = stored.levels((0, first - 2, width, first))
        below, after = stored.levels((0, end, width, end + 2))
        if _is_torn(above[::-1], before[::-1]) or _is_torn(below, after):
            return first, end - first
    return None


def _is_black(stored: Pixels, first: int, end: int) -> bool:
    width = stored.shape[0]
    tops = range(first, end, _BAND)
    return not any(stored.levels((0, top, width, min(end, top + _BAND))).any() for top in tops)


def _is_torn(line: np.ndarray, beyond: np.ndarray) -> bool:
    """Whether a line begins with black where the one beyond it lives."""
    black = int(line.any(axis=1).argmax()) if line.any() else 0
    return black > 0 and (beyond[:black].max(axis=1) > _ABRUPT).mean() >= _ALIVE


Sign = dict[str, str]
"""A sign of damage: the ``variant`` of the finding ``damage-signs``, and the figures of that."""


def sign_of_damage(sample: np.ndarray) -> Sign | None:
    """What looks in a picture as if it had lost its end, and was saved again after that; None for nothing.

    ``sample`` is the picture in few pixels, as an array of rows × columns × 3, uint8.
    Told are a flat mid-grey from somewhere to one of its sides,
    and one line of it repeated to there, where the rest of the picture is nothing like it.
    """
    if min(sample.shape[:2]) < _FEW:
        return None
    signs = [
        sign
        for side, turns in (("bottom", 0), ("right", 1), ("top", 2), ("left", 3))
        if (sign := _sign_towards(side, np.rot90(sample, -turns)))
    ]
    return signs[0] if len(signs) == 1 else None  # several sides are a frame


def _sign_towards(side: str, lines: np.ndarray) -> Sign | None:
    """The sign in the last of some lines, which lie towards that side."""
    first, last = (lines[at].astype(np.int16) for at in (-max(1, int(_LEAST * len(lines))), -1))
    if np.abs(first - last).max() > max(_NEAR, 2 * _GREYISH):
        return None  # too few lines are alike, which is soon seen
    lines = np.ascontiguousarray(lines, np.int16)
    varies = np.ptp(lines, axis=1).max(axis=1)
    grey = (varies <= _FLAT) & (np.abs(lines - _MID_GREY).max(axis=(1, 2)) <= _GREYISH)
    if share := _at_end(grey):
        return {"variant": "grey-fill", "share": f"{share:.0%}", "side": side}
    again = np.abs(lines - lines[-1]).max(axis=(1, 2)) <= _NEAR
    if _detail(lines[-1]) >= _DETAILED and (share := _at_end(again)):
        return {"variant": "line-repeated", "share": f"{share:.0%}", "side": side}
    return None


def _detail(line: np.ndarray) -> float:
    """By how many levels one pixel of a line differs from the next, on average."""
    return float(np.abs(np.diff(line, axis=0)).mean()) if len(line) > 1 else 0


def steps_in_paper(pixels: Pixels) -> bool:
    """Whether the paper left and right of a picture that was packed as JPEG turns into another colour at
    one row of blocks: each block is told by what it is lighter or darker than the one before (ITU-T T.81,
    A.3.5), so that one wrong number discolours all that come after it."""
    stored = pixels.as_stored()
    width, height = stored.shape
    if width < 4 * _BLOCK or height < 4 * _BLOCK:
        return False
    turns = []
    for left in (0, width - _CODED):
        region = left, 0, left + _CODED, height // _CODED * _CODED
        blocks = stored.levels(region).astype(np.int16).reshape(-1, _CODED * _CODED, 3)
        is_flat = np.ptp(blocks, axis=1).max() <= _NEAR
        off = np.abs(np.diff(blocks.mean(axis=1), axis=0)).max(axis=1)
        turn = np.flatnonzero(off > 0.5)
        if not is_flat or len(turn) != 1 or not 1 <= off[turn[0]] <= _SMALL_STEP:
            return False
        if blocks.min() < _LIGHT:
            return False
        turns.append(int(turn[0]))
    return abs(turns[1] - turns[0]) <= 2


def _at_end(is_so: np.ndarray) -> float:
    """The share of all lines that are so, on to the last, or 0 where they or the others are too few, or
    others are so too."""
    count = int((~is_so[::-1]).argmax()) if not is_so.all() else 0
    rest, least = is_so[: len(is_so) - count], _LEAST * len(is_so)
    is_sign = min(count, len(rest)) >= least and rest.mean() <= _MOST_ALIKE
    return count / len(is_so) if is_sign else 0
