"""The rows of a print file that several finished prints share, made when they are asked for."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import numpy as np

from labkit.files.gang.slug import cut_marks, slug_line, slug_place
from labkit.files.gang.sources import Laid, Sources
from labkit.files.gang.statement import PRINTS, Statement, sum_of
from labkit.files.writing.strips import CHANNELS
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import Colour


class GangStrips:
    """The rows of a sheet ``size`` pixels wide and high on which prints lie, bit for bit.

    ``kind`` is what it will say it is: prints have marks to cut by, a contact sheet has none. What has to
    be put aside meanwhile goes to ``folder``. Several threads may ask at once, about in order.
    """

    def __init__(
        self,
        laid: Sequence[Laid],
        size: tuple[int, int],
        printable: PixelBox,
        ppi: Fraction,
        colour: Colour,
        folder: Path,
        depth: int = 8,
        kind: str = PRINTS,
    ):
        self.depth, self._size, self._ppi, self._kind = depth, size, ppi, kind
        self._laid, self._sources = laid, Sources(laid, folder, colour)
        marked = laid if kind == PRINTS else ()
        self._marks = [mark for each in marked for mark in cut_marks(each.place, ppi, printable)]
        self._lines = [(slug_place(each.place, ppi), each.line) for each in laid]

    def statement(self) -> Statement:
        """What its file says of itself."""
        sums = []
        for place, line in self._lines:
            shown = np.full((place.height, place.width), 255, np.uint8)
            ink = slug_line(line, self._ppi, place.width)
            shown[:, : ink.shape[1]] -= ink
            sums.append(sum_of(shown))
        return Statement(self._kind, tuple(each.place for each in self._laid), tuple(sums))

    def blank(self, count: int) -> np.ndarray:
        """So many rows of bare paper."""
        dtype = np.uint8 if self.depth == 8 else np.uint16
        return np.full((count, self._size[0], CHANNELS), np.iinfo(dtype).max, dtype)

    def is_blank(self, top: int, bottom: int) -> bool:
        """Whether nothing is printed on rows ``top`` to ``bottom``."""
        inked = [each.place for each in self._laid] + [place for place, _ in self._lines]
        return not any(box.top < bottom and top < box.bottom for box in (*inked, *self._marks))

    def rows(self, top: int, bottom: int) -> np.ndarray:
        """Rows ``top`` to ``bottom`` of the sheet: (rows, width, 3), uint8 or uint16."""
        sheet = self.blank(bottom - top)
        most = np.iinfo(sheet.dtype).max
        for place, line in self._lines:
            first, last = max(top, place.top), min(bottom, place.bottom)
            if first < last:
                ink = slug_line(line, self._ppi, place.width)[first - place.top : last - place.top]
                white = most - ink.astype(sheet.dtype) * (most // 255)
                right = place.left + ink.shape[1]
                sheet[first - top : first - top + len(ink), place.left : right] = white[..., None]
        for mark in self._marks:
            sheet[max(0, mark.top - top) : max(0, mark.bottom - top), mark.left : mark.right] = 0
        for each in self._laid:
            place = each.place
            first, last = max(top, place.top), min(bottom, place.bottom)
            if first < last:
                part = self._sources.rows(each, first - place.top, last - place.top)
                sheet[first - top : last - top, place.left : place.right] = part
        return sheet
