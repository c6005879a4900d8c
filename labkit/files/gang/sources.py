"""Where the rows of prints come from that share a file: never more than one picture in memory at a time."""

import os
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

import numpy as np

from labkit.errors import LabError
from labkit.files.gang.owned import Owned
from labkit.files.gang.prepared import Recipe, prepared_rows
from labkit.files.gang.slug import Caption, Slug
from labkit.files.header.picture import Picture
from labkit.files.pixels.byrows import StripReader
from labkit.files.pixels.decode import Pixels, decode
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import Colour

_BAND = 64
"""Rows that are put aside at a time."""


@dataclass(frozen=True)
class Laid:
    """One copy of a print: the file, its place in pixels, whether a quarter turn clockwise, its line of type;
    and how it becomes a print, where it is none yet; whose it is, for the record."""

    picture: Picture
    place: PixelBox
    turned: bool
    line: Slug | Caption
    recipe: Recipe | None = None
    owned: Owned | None = None


class Sources:
    """The rows of prints as they lie.

    A TIFF in strips that lies upright is read strip by strip. Any other is decoded when its first rows are
    asked for, one at a time, and put aside as it lies, in a file without a name in ``folder``; so memory
    follows the largest picture alone. Copies of a print share what there is of it, and it is given up
    after its last row. Several threads may ask at once, about in order.
    """

    def __init__(self, laid: Sequence[Laid], folder: Path, colour: Colour):
        self._folder, self._colour = folder, colour
        self._rows: Counter[tuple] = Counter()
        for each in laid:
            self._rows[_key(each)] += each.place.height
        self._left = self._rows.copy()
        self._open: dict[tuple, Callable[[int, int], np.ndarray]] = {}
        self._lock, self._one_at_a_time = Lock(), Lock()

    def rows(self, laid: Laid, first: int, last: int) -> np.ndarray:
        """Rows of a print as it lies: (rows, width, 3), uint8 or uint16."""
        key = _key(laid)
        with self._one_at_a_time:
            if key not in self._open:
                self._open[key] = self._source(laid)
            source = self._open[key]
        part = source(first, last)
        with self._lock:
            self._left[key] -= last - first
            if self._left[key] <= 0:
                self._open.pop(key, None)
                self._left[key] = self._rows[key]  # for a writer that begins again
        return part

    def _source(self, laid: Laid) -> Callable[[int, int], np.ndarray]:
        striped = StripReader.of(laid.picture)
        if striped and laid.recipe is None and not laid.turned:
            return striped.rows
        pixels = Pixels(striped.all_rows(), 1) if striped else decode(laid.picture)
        if pixels.doubt:
            raise LabError(
                f"may be damaged ({pixels.doubt}): look at it, and export it again.",
                about=laid.picture.path.name,
            )
        wide, high = laid.place.width, laid.place.height
        if laid.recipe is None:
            return _Aside(self._folder, high, wide, _as_it_lies(pixels, laid.turned)).rows
        wide, high = laid.recipe.pixels
        upright = prepared_rows(laid.picture, pixels, laid.recipe, self._colour)
        aside = _Aside(self._folder, high, wide, upright)
        if not laid.turned:
            return aside.rows
        del pixels, upright
        whole = aside.rows(0, high)
        return _Aside(self._folder, wide, high, lambda a, b: np.rot90(whole[:, a:b], -1)).rows


def _key(laid: Laid) -> tuple:
    return laid.picture.path, laid.turned, laid.recipe and laid.recipe.raster


def _as_it_lies(pixels: Pixels, turned: bool) -> Callable[[int, int], np.ndarray]:
    """Rows of a picture on the sheet: a turned one's are columns of it, from the left."""
    width, height = pixels.shape

    def rows(first: int, last: int) -> np.ndarray:
        region = (first, 0, last, height) if turned else (0, first, width, last)
        held = pixels.held(region)
        part = pixels.levels(region) if held is None else held
        return np.rot90(part, -1) if turned else part

    return rows


class _Aside:
    """Rows put aside in a file that has no name, and is gone with the process at the latest."""

    def __init__(self, folder: Path, high: int, wide: int, make: Callable[[int, int], np.ndarray]):
        self._file = tempfile.TemporaryFile(dir=folder)  # noqa: SIM115  closed with the last reader
        self._wide, self._lock = wide, Lock()
        for top in range(0, high, _BAND):
            part = np.ascontiguousarray(make(top, min(high, top + _BAND)))
            self._dtype = part.dtype
            self._file.write(part.data)
        self._file.flush()

    def rows(self, first: int, last: int) -> np.ndarray:
        line = self._wide * 3 * self._dtype.itemsize
        with self._lock:
            self._file.seek(first * line, os.SEEK_SET)
            data = self._file.read((last - first) * line)
        return np.frombuffer(data, self._dtype).reshape(last - first, self._wide, 3)
