"""The rows of a print file that several finished prints share, made when they are asked for."""

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from labkit.errors import LabError
from labkit.files.gang.slug import Slug, cut_marks, slug_line, slug_place
from labkit.files.gang.statement import PRINTS, Statement, sum_of
from labkit.files.header.picture import Picture
from labkit.files.pixels.byrows import StripReader
from labkit.files.pixels.decode import decode
from labkit.files.writing.strips import CHANNELS
from labkit.geometry.pixelbox import PixelBox


@dataclass(frozen=True)
class Laid:
    """One copy of a print: the file, its place in pixels, whether a quarter turn clockwise, its slug."""

    picture: Picture
    place: PixelBox
    turned: bool
    slug: Slug


class GangStrips:
    """The rows of a sheet ``size`` pixels wide and high on which prints lie, bit for bit.

    A print that is a TIFF in strips, and lies upright, is read strip by strip. Any other is decoded when
    its first rows are asked for, and given up after its last: memory follows the turned prints of one row,
    never the roll. Several threads may ask at once, about in order.
    """

    def __init__(
        self,
        laid: Sequence[Laid],
        size: tuple[int, int],
        printable: PixelBox,
        ppi: Fraction,
        depth: int = 8,
    ):
        self.depth, self._size = depth, size
        self._prints = [_Print(each) for each in laid]
        self._marks = [mark for each in laid for mark in cut_marks(each.place, ppi, printable)]
        self._slugs = [(slug_place(each.place, ppi), each.slug) for each in laid]
        self._ppi = ppi

    def statement(self) -> Statement:
        """What its file says of itself."""
        sums = []
        for place, slug in self._slugs:
            line = np.full((place.height, place.width), 255, np.uint8)
            ink = slug_line(slug, self._ppi, place.width)
            line[:, : ink.shape[1]] -= ink
            sums.append(sum_of(line))
        return Statement(PRINTS, tuple(each.place for each in self._prints), tuple(sums))

    def blank(self, count: int) -> np.ndarray:
        """So many rows of bare paper."""
        dtype = np.uint8 if self.depth == 8 else np.uint16
        return np.full((count, self._size[0], CHANNELS), np.iinfo(dtype).max, dtype)

    def is_blank(self, top: int, bottom: int) -> bool:
        """Whether nothing is printed on rows ``top`` to ``bottom``."""
        inked = [each.place for each in self._prints] + [place for place, _ in self._slugs]
        return not any(box.top < bottom and top < box.bottom for box in (*inked, *self._marks))

    def rows(self, top: int, bottom: int) -> np.ndarray:
        """Rows ``top`` to ``bottom`` of the sheet: (rows, width, 3), uint8 or uint16."""
        sheet = self.blank(bottom - top)
        most = np.iinfo(sheet.dtype).max
        for place, slug in self._slugs:
            first, last = max(top, place.top), min(bottom, place.bottom)
            if first < last:
                ink = slug_line(slug, self._ppi, place.width)[first - place.top : last - place.top]
                white = most - ink.astype(sheet.dtype) * (most // 255)
                right = place.left + ink.shape[1]
                sheet[first - top : first - top + len(ink), place.left : right] = white[..., None]
        for mark in self._marks:
            sheet[max(0, mark.top - top) : max(0, mark.bottom - top), mark.left : mark.right] = 0
        for each in self._prints:
            place = each.place
            first, last = max(top, place.top), min(bottom, place.bottom)
            if first < last:
                part = each.rows(first - place.top, last - place.top)
                sheet[first - top : last - top, place.left : place.right] = part
        return sheet


class _Print:
    """One print's rows as they lie; what is read is held only while some of them are still to come."""

    def __init__(self, laid: Laid):
        self.place = laid.place
        self._laid, self._source = laid, None
        self._left = laid.place.height
        self._one_at_a_time = threading.Lock()

    def rows(self, first: int, last: int) -> np.ndarray:
        """Rows of it on the sheet: a turned print's are columns of its picture, from the left."""
        with self._one_at_a_time:
            if self._source is None:
                self._source = _source_of(self._laid)
            source = self._source
        part = source(first, last)
        with self._one_at_a_time:
            self._left -= last - first
            if self._left <= 0:
                self._source = None
        return part


def _source_of(laid: Laid) -> Callable[[int, int], np.ndarray]:
    """What gives the rows of a print: its TIFF strip by strip where that can be done, else all of it
    decoded."""
    if not laid.turned:
        striped = StripReader.of(laid.picture)
        if striped:
            return striped.rows
    pixels = decode(laid.picture)
    if pixels.doubt:
        raise LabError(
            f"may be damaged ({pixels.doubt}): look at it, and export it again.",
            about=laid.picture.path.name,
        )
    width, height = pixels.shape

    def rows(first: int, last: int) -> np.ndarray:
        region = (first, 0, last, height) if laid.turned else (0, first, width, last)
        held = pixels.held(region)
        part = pixels.levels(region) if held is None else held
        return np.rot90(part, -1) if laid.turned else part

    return rows
