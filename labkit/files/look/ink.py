"""Ink on a sheet: where pixels differ from the surround, in blocks and to the pixel."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from labkit.files.pixels.decode import Pixels, Region
from labkit.geometry.pixelbox import PixelBox, cut_off

DIFFERENCE = 12
"""Levels (of 255) by which ink differs from a surround that is not exactly one colour, at least."""
SPECK = 3
"""Ink of no more pixels than this, on its own, is a speck of dust."""
CELL = 8
"""Pixels across the cells in which a sheet is looked over (0.7 mm at 300 ppi): ink that stands so far
off may be on its own, and does if it stands off twice as far."""
SIDES = ("left", "top", "right", "bottom")
_ALONG_EDGE = 0.9
"""The share of an edge of the sheet that must be alike for it to show the surround."""
_ALIKE = 16
"""Levels within which pixels along an edge are alike: noise, and a slight gradient."""
_PAPER = 240
"""The least level of paper that is meant to be white."""
_RIM, _DARK, _SCANNED = 0.04, 64, 215
"""How wide a scanner's dark rim is at most, as a share of the shorter side; and its greatest level, and the
least one of the paper inside it (our own judgement)."""
_DEVIATION = 1.4826
"""A standard deviation in median deviations, where noise is normal: 1 / 0.6745."""
_BAND = 256
"""Rows that are looked over at a time, a multiple of CELL."""


# The surround


@dataclass(frozen=True, slots=True)
class Surround:
    """The colour round the picture, and by how many levels paper may be off it.

    ``is_seen`` is False where no edge of the sheet shows it: the picture runs to all four.
    """

    levels: tuple[int, int, int]
    tolerance: int
    is_seen: bool = True

    @property
    def is_flat(self) -> bool:
        """Whether it is exactly one colour, so that any difference is ink."""
        return self.tolerance == 0

    def noisier(self) -> "Surround":
        """The same with more noise than was thought."""
        return Surround(self.levels, min(255, max(DIFFERENCE, 2 * self.tolerance)))


def find_surround(sheet: Pixels) -> Surround:
    """The median of those edges of the sheet that are alike all along.

    Where these differ from each other the longer win, then the lighter. Edges of exactly one colour go
    before all others, unless they are the fewer and no more than a few pixels of padding.
    """
    lines = [_Line(pixels) for pixels in _edges(sheet, 0)]
    inner = [_Line(pixels) for pixels in _edges(sheet, CELL)]
    far_in = [_Line(pixels) for pixels in _edges(sheet, round(_RIM * min(sheet.shape)))]
    if _is_rim(lines, inner):
        lines = inner
    elif _has_scanners_rim(lines, far_in):
        lines = far_in
    alike = [line for line in lines if line.is_alike]
    if not alike:
        levels = np.median(np.concatenate([line.pixels for line in lines]), axis=0)
        return Surround(_plain(levels), DIFFERENCE, is_seen=False)
    exact = [line for line in alike if line.is_exact]
    if exact and 2 * _length(exact) < _length(alike):
        pairs = zip(lines, inner, strict=True)
        exact = [a for a, b in pairs if a.is_exact and b.is_exact and a.levels == b.levels]
    if exact:
        return Surround(_commonest(exact, 0)[0].levels, 0)
    pixels = np.concatenate([line.pixels for line in _commonest(alike, _ALIKE)])
    levels = _plain(np.median(pixels, axis=0))
    noise = np.median(np.abs(pixels.astype(np.int16) - levels), axis=0).max() * _DEVIATION
    return Surround(levels, max(DIFFERENCE, round(6 * noise)))


def _is_rim(outer: "list[_Line]", inner: "list[_Line]") -> bool:
    """Whether a line is drawn along the edge of a sheet of white paper."""
    is_even = all(line.is_alike for line in (*outer, *inner))
    darkest = min(min(line.levels) for line in inner)
    lightest = max(max(line.levels) for line in outer)
    return is_even and darkest >= _PAPER and lightest < darkest - 2 * _ALIKE


def _has_scanners_rim(outer: "list[_Line]", far_in: "list[_Line]") -> bool:
    """Whether some edges are dark, and all of the sheet is light farther in, as where a lid stood open."""
    dark = [line for line in outer if line.is_alike and max(line.levels) <= _DARK]
    is_light = all(line.is_alike and min(line.levels) >= _SCANNED for line in far_in)
    return 0 < len(dark) < len(outer) and is_light


class _Line:
    """A line of pixels along one edge of a sheet."""

    def __init__(self, pixels: np.ndarray):
        self.pixels = pixels
        self.levels = _plain(np.median(pixels, axis=0))
        off = _most_off(pixels, self.levels)
        near = off <= _ALIKE
        self.is_alike = bool(near.mean() >= _ALONG_EDGE)
        self.is_exact = self.is_alike and not off[near].any()


def _edges(sheet: Pixels, depth: int) -> list[np.ndarray]:
    """The lines of pixels so far inside the sheet's edges."""
    width, height = sheet.shape
    x, y = min(depth, width - 1), min(depth, height - 1)
    lines = [
        (x, 0, x + 1, height),
        (0, y, width, y + 1),
        (width - 1 - x, 0, width - x, height),
        (0, height - 1 - y, width, height - y),
    ]
    return [sheet.levels(line).reshape(-1, 3) for line in lines]


def _commonest(lines: list[_Line], within: int) -> list[_Line]:
    """The longest set of lines whose colours are so alike, the lightest of equally long ones."""

    def like(line: _Line) -> list[_Line]:
        pairs = ((other, zip(line.levels, other.levels, strict=True)) for other in lines)
        return [other for other, levels in pairs if max(abs(a - b) for a, b in levels) <= within]

    return max(map(like, lines), key=lambda group: (_length(group), sum(group[0].levels)))


def _length(lines: list[_Line]) -> int:
    return sum(len(line.pixels) for line in lines)


def _plain(levels: np.ndarray) -> tuple[int, int, int]:
    return tuple(int(level) for level in levels)


def _most_off(pixels: np.ndarray, levels: tuple[int, int, int]) -> np.ndarray:
    """By how many levels each pixel is off in the channel that is off most, still in 8 bits."""
    most = None
    for channel, level in enumerate(np.array(levels, np.uint8)):
        values = pixels[..., channel]
        off = np.maximum(values, level) - np.minimum(values, level)
        most = off if most is None else np.maximum(most, off, out=most)
    return most


# Ink


@dataclass(frozen=True, slots=True)
class Block:
    """Cells of ink that touch each other: the box round them in pixels, how many they are, and the
    number that they have in :attr:`Ink.numbers`."""

    box: PixelBox
    count: int
    number: int


class Ink:
    """Where a sheet differs from its surround, less the boxes that are left out."""

    def __init__(self, sheet: Pixels, surround: Surround, left_out: Iterable[PixelBox] = ()):
        self.sheet = sheet
        self.surround = surround
        self.left_out = list(left_out)

    def without(self, boxes: Iterable[PixelBox]) -> "Ink":
        """The same with more boxes left out; the sheet is looked at again only there."""
        less = Ink(self.sheet, self.surround, [*self.left_out, *boxes])
        less.cells = self.cells.copy()
        less._leave_out(less.cells)
        return less

    def off(self, region: Region) -> np.ndarray:
        """By how many levels each pixel differs from the surround: rows × columns, uint8; 0 where it is left
        out."""
        left, top = region[:2]
        off = _most_off(self.sheet.levels(region), self.surround.levels)
        for box in self.left_out:
            rows = slice(max(0, box.top - top), max(0, box.bottom - top))
            off[rows, max(0, box.left - left) : max(0, box.right - left)] = 0
        return off

    def inward(self, side: str, box: PixelBox, depth: int) -> np.ndarray:
        """The same for the outermost lines along a side of ``box``: up to ``depth`` lines, from the edge
        inwards, × pixels along it, uint8."""
        left, top, right, bottom = box.left, box.top, box.right, box.bottom
        if side == "left":
            return self.off((left, top, min(right, left + depth), bottom)).T
        if side == "top":
            return self.off((left, top, right, min(bottom, top + depth)))
        if side == "right":
            return self.off((max(left, right - depth), top, right, bottom)).T[::-1]
        return self.off((left, max(top, bottom - depth), right, bottom))[::-1]

    def tight(self, box: PixelBox) -> PixelBox | None:
        """The box without the lines at its sides that hold nothing or a speck; None if all do."""
        for side in ("top", "bottom", "left", "right"):
            is_ink = False
            while box is not None and not is_ink:
                inked = self.inward(side, box, 4 * CELL) > self.surround.tolerance
                first, is_ink = _first_inked(np.count_nonzero(inked, axis=1))
                box = cut_off(box, side, first)
        return box

    def blocks(self) -> list[Block]:
        """All blocks of ink that are more than a speck, those of most cells first."""
        width, height = self.sheet.shape
        found = []
        for left, top, right, bottom, count, number in self._touching.bounds():
            end, foot = min(width, right * CELL), min(height, bottom * CELL)
            box = PixelBox(left * CELL, top * CELL, end - left * CELL, foot - top * CELL)
            if count > 4 or not self._is_speck(box):
                found.append(Block(box, count, number))
        return sorted(found, key=lambda block: block.count, reverse=True)

    @property
    def patches(self) -> int:
        """How many blocks and specks there are."""
        return len(np.unique(self._touching.labels))

    @cached_property
    def numbers(self) -> np.ndarray:
        """For each cell the number of its block, -1 where there is no ink: rows × columns of cells, int64."""
        numbers = np.full(self.cells.shape, -1)
        numbers[self.cells] = np.repeat(self._touching.labels, self._touching.lengths)
        return numbers

    @cached_property
    def _touching(self) -> "_Runs":
        return _Runs(self.cells)

    def _is_speck(self, box: PixelBox) -> bool:
        off = self.off((box.left, box.top, box.right, box.bottom))
        return np.count_nonzero(off > self.surround.tolerance) <= SPECK

    @cached_property
    def cells(self) -> np.ndarray:
        """Which cells hold ink, in one pass over the pixels: rows × columns of cells, bool.

        The least and the greatest level of each channel down the rows of a cell are compared.
        """
        width, height = self.sheet.shape
        across, down = -(-width // CELL), -(-height // CELL)
        tolerance = self.surround.tolerance
        least = [max(0, level - tolerance) for level in self.surround.levels]
        most = [min(255, level + tolerance) for level in self.surround.levels]
        inked = np.zeros((down, across * CELL * 3), bool)
        lines = inked[:, : width * 3]
        least_line, most_line = (np.tile(np.array(each, np.uint8), width) for each in (least, most))
        for top in range(0, height, _BAND):
            band = self.sheet.levels((0, top, width, min(height, top + _BAND)))
            for first in range(0, len(band), CELL):
                rows = band[first : first + CELL].reshape(-1, width * 3)
                line = lines[(top + first) // CELL]
                if max(least) > 0:
                    line |= np.minimum.reduce(rows, axis=0) < least_line
                if min(most) < 255:
                    line |= np.maximum.reduce(rows, axis=0) > most_line
        words = inked.view(np.uint64).reshape(down, across, 3)  # 8 pixels of 3 bytes are 3 words
        cells = (words[..., 0] | words[..., 1] | words[..., 2]) != 0
        self._leave_out(cells)
        return cells

    def _leave_out(self, cells: np.ndarray) -> None:
        """Set anew the cells in which a box that is left out lies."""
        width, height = self.sheet.shape
        for box in self.left_out:
            left, top = max(0, box.left // CELL), max(0, box.top // CELL)
            right = min(width, -(-box.right // CELL) * CELL)
            bottom = min(height, -(-box.bottom // CELL) * CELL)
            if right <= left * CELL or bottom <= top * CELL:
                continue
            off = self.off((left * CELL, top * CELL, right, bottom))
            off = np.pad(off, [(0, -size % CELL) for size in off.shape])
            down, across = (size // CELL for size in off.shape)
            most = off.reshape(down, CELL, across, CELL).max(axis=(1, 3))
            cells[top : top + down, left : left + across] = most > self.surround.tolerance


class _Runs:
    """Runs of cells along the rows, those labelled alike that touch each other, at corners too."""

    def __init__(self, cells: np.ndarray):
        stride = cells.shape[1] + 2
        flat = np.pad(cells, ((0, 0), (1, 1))).ravel()
        turns = np.flatnonzero(flat[1:] != flat[:-1]) + 1
        starts, ends = turns[::2], turns[1::2]
        # the runs that each run touches in the row above: from ``first`` on, so many
        first = np.searchsorted(ends, starts - stride)
        counts = np.searchsorted(starts, ends - stride, side="right") - first
        runs = np.repeat(np.arange(len(starts)), counts)
        above = np.arange(len(runs)) + np.repeat(first - np.cumsum(counts) + counts, counts)
        self.labels = _joined(len(starts), runs, above)
        self.lengths = ends - starts
        self._rows, self._lefts = np.divmod(starts - 1, stride)

    def bounds(self) -> Iterator[tuple[int, int, int, int, int, int]]:
        """Left, top, right, bottom, how many cells, and label, of each set of cells that touch."""
        order = np.argsort(self.labels, kind="stable")
        if not order.size:
            return
        labels, lefts, rows = (each[order] for each in (self.labels, self._lefts, self._rows))
        lengths = self.lengths[order]
        first = np.flatnonzero(np.diff(labels, prepend=-1))
        sets = [
            np.minimum.reduceat(lefts, first),
            np.minimum.reduceat(rows, first),
            np.maximum.reduceat(lefts + lengths, first),
            np.maximum.reduceat(rows, first) + 1,
            np.add.reduceat(lengths, first),
            labels[first],
        ]
        yield from zip(*(each.tolist() for each in sets), strict=True)


def _joined(count: int, one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """For each number the least of all that it is linked with, directly or through others."""
    label = np.arange(count)
    while True:
        least, roots = label.copy(), (label[one], label[other])
        for root in roots:
            np.minimum.at(least, root, np.minimum(*roots))
        while (least[least] != least).any():
            least = least[least]
        if (least == label).all():
            return label
        label = least


def _first_inked(counts: np.ndarray) -> tuple[int, bool]:
    """How many lines to go to the first that holds ink, other than a speck that empty lines part from
    the rest; and whether that is ink. It may be a speck where it goes on beyond the last of the lines.
    """
    inked = np.flatnonzero(counts)
    for group in np.split(inked, np.flatnonzero(np.diff(inked) > 1) + 1):
        if counts[group].sum() > SPECK:
            return int(group[0]), True
        if group.size and group[0] > 0 and group[-1] == len(counts) - 1:
            return int(group[0]), False
    return len(counts), False
