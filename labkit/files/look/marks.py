"""Tell corner marks from all other ink: thin strokes that point at the four lines to cut along."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from labkit.files.look.ink import CELL, DIFFERENCE, SIDES, Block, Ink
from labkit.geometry.pixelbox import PixelBox, cut_off

THICKEST = 6
"""Pixels across a stroke, at most: marks are 1–4 px thick (common practice, no source), and blurred."""
SHORTEST, LONGEST = 12, 400
"""Pixels along a stroke: 3 mm at 100 ppi, and 10 mm with some more at 600 ppi."""
_STRONG = 64
"""Levels by which a mark differs from the surround, at least."""
_IN_LINE = 3
"""Pixels by which the middles of two strokes in one line may differ."""
_PAST = 6
"""Pixels by which a stroke may reach past the picture's edge."""
_DEEPEST_BLEED = 200
"""Pixels of picture outside a trim line, at most: 1/3 in at 600 ppi."""
_UNEXPLAINED = 0.1
"""The share of the ink that may belong to no stroke before the whole is something else."""
_MOST_PATCHES = 60
"""Blocks that are looked at for strokes, at most."""
_LINES = 16
"""Lines that are looked at together."""


@dataclass(frozen=True, slots=True)
class Marks:
    """The strokes that are corner marks, and the trim lines they tell: left, top, right, bottom in
    pixels, each the middle of its strokes. ``cut`` is None where only two of the lines are told."""

    strokes: tuple[PixelBox, ...]
    cut: tuple[float, float, float, float] | None


def find_marks(ink: Ink, box: PixelBox, picture: list[Block], others: list[Block]) -> Marks | None:
    """The corner marks on a sheet, None if there are none.

    ``box`` is the tight box round the blocks of the ``picture`` with the marks that touch it; the other
    marks are among the ``others``.
    """
    core, strokes = _pared(ink, box, picture)
    small = [each for each in others if max(each.box.width, each.box.height) <= LONGEST]
    for block in small[:_MOST_PATCHES]:
        strokes += thin_strokes(_strong(ink, block.box, [block]), block.box.left, block.box.top)
    return corner_marks(strokes, core)


def corner_marks(strokes: Iterable[PixelBox], picture: PixelBox) -> Marks | None:
    """Those of the strokes that are corner marks round ``picture``, or None where they are no set.

    Marks stand outside what is cut out, in line with its edges (CSS Paged Media 3 §marks). Not all eight
    need be there: each of the four lines must be told, or each of two opposite lines twice.
    """
    strokes = list(strokes)
    upright = _outside([s for s in strokes if s.height > s.width], picture.top, picture.bottom, 1)
    level = _outside([s for s in strokes if s.height <= s.width], picture.left, picture.right, 0)
    across = _lines(upright, picture.left, picture.right, 0)
    down = _lines(level, picture.top, picture.bottom, 1)
    if across and down:
        return Marks((*upright, *level), (across[0], down[0], across[1], down[1]))
    for lines, told, axis in ((across, upright, 0), (down, level, 1)):
        if lines and all(len(_in_line(told, line, axis)) == 2 for line in lines):
            return Marks(tuple(told), None)
    return None


def thin_strokes(ink: np.ndarray, left: int = 0, top: int = 0) -> list[PixelBox]:
    """The upright and level strokes that a patch of ink is made of; none if it is anything else.

    ``ink`` is rows × columns, bool; ``left`` and ``top`` are where it lies on the sheet, in pixels.
    """
    upright = list(_upright(ink))
    level = [PixelBox(s.top, s.left, s.height, s.width) for s in _upright(ink.T)]
    rest = ink.copy()
    for stroke in upright + level:
        rest[stroke.top : stroke.bottom, stroke.left : stroke.right] = False
    if np.count_nonzero(rest) > _UNEXPLAINED * np.count_nonzero(ink):
        return []
    return [PixelBox(left + s.left, top + s.top, s.width, s.height) for s in upright + level]


def _upright(ink: np.ndarray) -> Iterable[PixelBox]:
    """Narrow groups of columns that hold a stroke's worth of ink."""
    tall = np.flatnonzero(np.count_nonzero(ink, axis=0) >= SHORTEST)
    for group in np.split(tall, np.flatnonzero(np.diff(tall) > 1) + 1):
        if 0 < group.size <= THICKEST:
            rows = np.flatnonzero(ink[:, group].any(axis=1))
            first, height = int(rows[0]), int(rows[-1] - rows[0]) + 1
            if height <= LONGEST and rows.size > 0.9 * height > 2 * group.size:
                yield PixelBox(int(group[0]), first, group.size, height)


def _start(stroke: PixelBox, axis: int) -> int:
    return stroke.top if axis else stroke.left


def _size(stroke: PixelBox, axis: int) -> int:
    return stroke.height if axis else stroke.width


def _middle(stroke: PixelBox, axis: int) -> float:
    return _start(stroke, axis) + _size(stroke, axis) / 2


def _outside(strokes: list[PixelBox], start: int, end: int, axis: int) -> list[PixelBox]:
    """Those that stand before the picture's start, or after its end, along an axis (0 across, 1 down)."""
    return [
        stroke
        for stroke in strokes
        if _start(stroke, axis) + _size(stroke, axis) <= start + _PAST
        or _start(stroke, axis) >= end - _PAST
    ]


def _lines(strokes: list[PixelBox], start: int, end: int, axis: int) -> tuple[float, float] | None:
    """The two lines that strokes point along: those told most often, of these the innermost.

    Not so far inside the picture that more than a bleed of it is cut off.
    """
    bleed = min(_DEEPEST_BLEED, (end - start) / 3)
    middles = [_middle(stroke, axis) for stroke in strokes]
    before = [middle for middle in middles if middle <= start + bleed]
    after = [middle for middle in middles if middle >= end - bleed]
    if not before or not after:
        return None

    def told(line: float) -> int:
        return len(_in_line(strokes, line, axis))

    chosen = (
        max(before, key=lambda line: (told(line), line)),
        max(after, key=lambda line: (told(line), -line)),
    )
    first, last = (_in_line(strokes, line, axis) for line in chosen)
    return tuple(sum(_middle(s, axis) for s in line) / len(line) for line in (first, last))


def _in_line(strokes: list[PixelBox], line: float, axis: int) -> list[PixelBox]:
    return [stroke for stroke in strokes if abs(_middle(stroke, axis) - line) <= _IN_LINE]


def _pared(ink: Ink, box: PixelBox, picture: list[Block]) -> tuple[PixelBox, list[PixelBox]]:
    """A box without the lines at its sides that hold no more than a few strokes, and those strokes."""
    thin = {side: _thin_lines(ink, side, box) for side in SIDES}
    core, strokes = box, []
    for side, count in thin.items():
        if count:
            core = cut_off(core, side, count)
            beyond = _beyond(box, side, count)
            strokes += thin_strokes(_strong(ink, beyond, picture), beyond.left, beyond.top)
    return core, strokes


def _thin_lines(ink: Ink, side: str, box: PixelBox) -> int:
    """How many of the outermost lines hold ink of a few strokes only; 0 if there is no end of them."""
    if not _is_thin(ink, ink.inward(side, box, 1))[0]:
        return 0
    size = box.width if side in ("left", "right") else box.height
    for count in range(0, min(LONGEST, size // 3), _LINES):
        is_thin = _is_thin(ink, ink.inward(side, cut_off(box, side, count), _LINES))
        if not is_thin.all():
            return count + int(np.argmin(is_thin))
    return 0


def _is_thin(ink: Ink, lines: np.ndarray) -> np.ndarray:
    tolerance = max(DIFFERENCE, ink.surround.tolerance)
    return np.count_nonzero(lines > tolerance, axis=1) <= 4 * THICKEST


def _beyond(box: PixelBox, side: str, lines: int) -> PixelBox:
    """The outermost lines of a box."""
    opposite = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[side]
    size = box.width if side in ("left", "right") else box.height
    return cut_off(box, opposite, size - lines)


def _strong(ink: Ink, box: PixelBox, blocks: list[Block]) -> np.ndarray:
    """Where a box holds strong ink of these blocks."""
    rows, columns = np.arange(box.top, box.bottom), np.arange(box.left, box.right)
    numbers = ink.numbers[np.ix_(rows // CELL, columns // CELL)]
    is_theirs = np.isin(numbers, [block.number for block in blocks])
    off = ink.off((box.left, box.top, box.right, box.bottom))
    return (off > _STRONG) & is_theirs
