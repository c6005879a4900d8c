"""A sheet in strips: the picture resampled and converted, laid on white, with its corner marks."""

import numpy as np
from PIL import Image

from labkit.files.pixels import deep
from labkit.files.pixels.bands import Bands
from labkit.files.pixels.conversion import Conversion
from labkit.files.pixels.decode import Pixels, Region
from labkit.files.pixels.tone import Tone
from labkit.geometry.layout import Layout
from labkit.geometry.raster import Raster, mark_boxes

STRIP_BYTES = 1 << 20
"""Raw bytes of a strip: enough rows to resample in one go, few enough to hold several in memory."""

_BAND = 64
"""Rows of the picture that a preview is made of at a time."""

_RESAMPLED, _KEPT = 32, 6
"""Rows that are resampled at a time, whatever the strips, and how many such bands are kept for the strips
that share one. Pillow rounds where it begins, so other bands would give some pixels another level."""

_FILTER = Image.Resampling.LANCZOS
_SUPPORT = 3
"""Pixels a Lanczos window reaches to either side, at the coarser of the two scales."""

Box = tuple[float, float, float, float]
"""Left, top, right, bottom in pixels and parts of them."""

BLACK = 0
CHANNELS = 3


def rows_per_strip(width: int, depth: int = 8) -> int:
    """How many rows of a sheet ``width`` pixels wide, ``depth`` bits a channel, make a strip."""
    return max(1, STRIP_BYTES * 8 // (width * CHANNELS * depth))


class PictureRows:
    """The rows of a picture in the colours of the print file, at the depth they are held at; at 16 bits
    where ``depth`` asks for that."""

    def __init__(self, pixels: Pixels, conversion: Conversion, raster: Raster, depth: int):
        self._pixels, self._conversion = pixels, conversion
        self._raster, self._depth = raster, depth
        self.made = raster.made or (raster.picture.width, raster.picture.height)

    def as_it_is(self, first: int, last: int) -> np.ndarray:
        """Rows of the part that is printed, pixel for pixel."""
        left, top, right, _ = self._raster.source
        return self._converted((left, top + first, right, top + last), last - first, None)

    def resampled(self, first: int, last: int) -> np.ndarray:
        """Rows of the whole picture as it is resampled."""
        left, top, right, bottom = self._raster.source
        scale = (bottom - top) / self.made[1]
        reach = _SUPPORT * max(1.0, scale) + 1
        start, end = top + first * scale, top + last * scale
        width, height = self._pixels.shape
        rows = max(0, int(start - reach)), min(height, int(end + reach) + 1)
        columns = max(0, int(left - reach)), min(width, int(right + reach) + 1)
        box = (left - columns[0], start - rows[0], right - columns[0], min(end, height) - rows[0])
        return self._converted((columns[0], rows[0], columns[1], rows[1]), last - first, box)

    def _converted(self, region: Region, rows: int, box: Box | None) -> np.ndarray:
        """A part of the picture in the colours of the print file; the ``box`` in it resampled to so many
        rows, or all of it as it is."""
        if max(self._pixels.depth, self._depth) == 16:
            held = self._pixels.held(region)
            if held is not None:
                return self._deep(held, rows, box)
        return self._plain(region, rows, box)

    def _deep(self, held: np.ndarray, rows: int, box: Box | None) -> np.ndarray:
        values = deep.on_white(deep.to_16_bits(held))
        if box is not None:
            values = deep.resized(values, (self.made[0], rows), box)
        return self._conversion.rgb_16(values)

    def _plain(self, region: Region, rows: int, box: Box | None) -> np.ndarray:
        is_as_it_lies = box is None and self._conversion.keeps_rgb
        as_it_lies = self._pixels.rgb(region) if is_as_it_lies else None
        if as_it_lies is not None:
            return as_it_lies
        part = self._conversion.resizable(self._pixels.region(region))
        if box is not None:
            part = part.resize((self.made[0], rows), _FILTER, box=box)
        return np.asarray(self._conversion.rgb(part))


class SheetStrips:
    """The rows of a finished sheet, any span of them made when it is asked for.

    ``depth``: the bits a channel that come out, 8 or 16. Whatever is held at 16, or comes out so, is
    resampled and converted at 16. Memory follows the picture, never the sheet. Several threads may ask
    at once. ``tone`` is done to the picture last of all, to neither paper nor marks.
    """

    def __init__(
        self,
        pixels: Pixels,
        conversion: Conversion,
        layout: Layout,
        raster: Raster,
        depth: int = 8,
        tone: Tone | None = None,
    ):
        self.depth = depth
        self._raster = raster
        self._tone = tone
        self._marks = mark_boxes(layout, raster.ppi)
        self._picture = PictureRows(pixels, conversion, raster, depth)
        self._bands = Bands(self._picture.resampled, _RESAMPLED, self._picture.made[1], _KEPT)

    def blank(self, count: int) -> np.ndarray:
        """So many rows of bare paper."""
        dtype = np.uint8 if self.depth == 8 else np.uint16
        return np.full((count, self._raster.sheet[0], CHANNELS), np.iinfo(dtype).max, dtype)

    def is_blank(self, top: int, bottom: int) -> bool:
        """Whether nothing is printed on rows ``top`` to ``bottom``."""
        inked = [self._raster.picture, *self._marks]
        return not any(box.top < bottom and top < box.bottom for box in inked)

    def rows(self, top: int, bottom: int) -> np.ndarray:
        """Rows ``top`` to ``bottom`` of the sheet: (rows, width, 3), uint8 or uint16."""
        sheet = self.blank(bottom - top)
        for mark in self._marks:  # first, so that rounding never puts one over the picture's edge
            sheet[max(0, mark.top - top) : max(0, mark.bottom - top), mark.left : mark.right] = (
                BLACK
            )
        place = self._raster.picture
        first, last = max(top, place.top), min(bottom, place.bottom)
        if first < last:
            part = self._toned_rows(first - place.top, last - place.top)
            sheet[first - top : last - top, place.left : place.right] = part
        return sheet

    def _toned_rows(self, first: int, last: int) -> np.ndarray:
        """Rows of the picture as they lie on the sheet, at the depth of the sheet."""
        made = self._picture_rows(first, last)
        if self._tone:
            made = self._tone(made)
        return deep.to_8_bits(made) if self.depth == 8 else deep.to_16_bits(made)

    def _picture_rows(self, first: int, last: int) -> np.ndarray:
        """The same at the depth they are held at."""
        if not self._raster.resampled:
            return self._picture.as_it_is(first, last)
        window = self._raster.window
        if window is None:
            return self._bands.rows(first, last)
        rows = self._bands.rows(window.top + first, window.top + last)
        return rows[:, window.left : window.right]


def preview(pixels: Pixels, conversion: Conversion, longest: int) -> Image.Image:
    """The whole picture, upright and in RGB, averaged down so that no side exceeds ``longest``.

    Of a large picture every so many pixels are averaged, at least two by two for each that is left.
    """
    pixels = pixels.thinned(max(1, max(pixels.shape) // (2 * longest)))
    width, height = pixels.shape
    factor = max(1, -(-max(width, height) // longest))
    band = max(1, _BAND // factor) * factor
    small = Image.new("RGB", (-(-width // factor), -(-height // factor)))
    for top in range(0, height, band):
        part = conversion.resizable(pixels.region((0, top, width, min(height, top + band))))
        small.paste(conversion.rgb(part.reduce(factor)), (0, top // factor))
    return small
