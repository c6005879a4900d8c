"""Rows of a TIFF read strip by strip, so that a large print is never in memory whole."""

import struct
from threading import Lock

import numpy as np

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.files.header.tiff_reader import open_tiff
from labkit.files.pixels.bands import Bands
from labkit.files.pixels.decode import Region
from labkit.files.pixels.deep import to_8_bits

_MOST_BYTES = 1 << 22
"""Of a strip as it is unpacked: one larger than that is no help."""
_LZW = 5
"""TIFF 6.0, section 13."""
_BAND = 64
"""Rows that are cut to size at a time."""
_KEPT = 4
"""Strips that stay unpacked, as threads ask for neighbouring rows."""


class _Stored:
    """The strips of a file as they lie on the disk, unpacked one at a time."""

    def __init__(self, picture: Picture, page):
        self._name, self._page = picture.path.name, page
        self._file = open(picture.path, "rb")  # noqa: SIM115  closed when nobody needs the rows any more
        self._lock = Lock()

    def strip(self, first: int, last: int) -> np.ndarray:
        """The one that begins at row ``first`` and ends before ``last``."""
        page = self._page
        number = first // page.rowsperstrip
        with self._lock:
            self._file.seek(page.dataoffsets[number])
            stored = self._file.read(page.databytecounts[number])
        try:
            strip = _unpacked(page, stored, number)[: last - first]
            if strip.shape != (last - first, page.imagewidth, 3):
                raise ValueError
        except Exception:
            raise LabError(
                "is damaged or cut short (its data make no sense to a decoder): copy or export it again.",
                "damaged",
                about=self._name,
            ) from None
        return strip


class StripReader:
    """The rows of a flat RGB TIFF of 8 or 16 bits a channel, whose pixels lie in strips.

    ``rows(first, last)`` gives those from first to last: (rows, width, 3), uint8 or uint16; a strip is
    unpacked once for all who ask for some of it about then. LabError for a damaged one.
    """

    def __init__(self, picture: Picture, page):
        self._page = page
        stored = _Stored(picture, page)
        self.rows = Bands(stored.strip, page.rowsperstrip, page.imagelength, _KEPT).rows

    @classmethod
    def of(cls, picture: Picture) -> "StripReader | None":
        """A reader for this picture; None where its pixels lie in another way."""
        if picture.kind != "TIFF" or picture.orientation != 1 or picture.planar:
            return None
        from tifffile import PHOTOMETRIC, TIFF

        with open_tiff(picture.path) as tiff:
            page = tiff.pages[0]
        plain = (
            page.photometric == PHOTOMETRIC.RGB
            and page.samplesperpixel == 3
            and (page.imagewidth, page.imagelength) == picture.pixels
            and page.dtype in (np.uint8, np.uint16)
            and not page.is_tiled
            and page.compression in TIFF.DECOMPRESSORS
            and page.imagewidth * page.rowsperstrip * 3 * page.dtype.itemsize <= _MOST_BYTES
            and len(page.dataoffsets) == -(-page.imagelength // page.rowsperstrip)
            and all(page.databytecounts)
        )
        return cls(picture, page) if plain else None

    def all_rows(self) -> np.ndarray:
        """The whole picture, without the file as it is packed in memory beside it."""
        page = self._page
        whole = np.empty((page.imagelength, page.imagewidth, 3), page.dtype)
        for first in range(0, page.imagelength, page.rowsperstrip):
            last = min(page.imagelength, first + page.rowsperstrip)
            whole[first:last] = self.rows(first, last)
        return whole


def _unpacked(page, stored: bytes, number: int) -> np.ndarray:
    """The rows of a stored strip. Of LZW by libtiff, one and a half times as quick as others here, which is
    given the strip as a file of its own."""
    if page.compression != _LZW or page.predictor not in (1, 2):
        return page.decode(stored, number)[0][0]
    import imagecodecs

    high = min(page.rowsperstrip, page.imagelength - number * page.rowsperstrip)
    return imagecodecs.tiff_decode(_alone(page, high, len(stored)) + stored)


def _alone(page, high: int, size: int) -> bytes:
    """The beginning of a TIFF of one strip ``high`` rows high (TIFF 6.0, sections 2 and 6), as which ``size``
    bytes follow."""
    order = page.parent.byteorder
    bits = page.dtype.itemsize * 8
    entries = 11
    after = 8 + 2 + 12 * entries + 4
    fields = [
        (256, 4, 1, page.imagewidth), (257, 4, 1, high), (258, 3, 3, after), (259, 3, 1, _LZW),
        (262, 3, 1, 2), (273, 4, 1, after + 6), (277, 3, 1, 3), (278, 4, 1, high),
        (279, 4, 1, size), (284, 3, 1, 1), (317, 3, 1, page.predictor),
    ]  # fmt: skip
    made = (b"II" if order == "<" else b"MM") + struct.pack(f"{order}HIH", 42, 8, entries)
    for tag, kind, count, value in fields:
        is_short = kind == 3 and count == 1
        made += struct.pack(f"{order}HHI", tag, kind, count)
        made += struct.pack(
            f"{order}{'HH' if is_short else 'I'}", *((value, 0) if is_short else (value,))
        )
    return made + struct.pack(f"{order}I3H", 0, bits, bits, bits)


class StripPixels:
    """As much of :class:`~labkit.files.pixels.decode.Pixels` as it takes to look over a sheet of ours that is
    too large to be decoded: a few strips are in memory at a time."""

    doubt = ""

    def __init__(self, reader: StripReader, shape: tuple[int, int]):
        self._reader, self.shape = reader, shape

    @classmethod
    def of(cls, picture: Picture) -> "StripPixels | None":
        """Those of a picture; None where its pixels lie in another way."""
        reader = StripReader.of(picture)
        return reader and cls(reader, picture.pixels)

    def levels(self, region: Region) -> np.ndarray:
        """A part as RGB of 8 bits: (rows, columns, 3), uint8."""
        left, top, right, bottom = region
        parts = [
            to_8_bits(self._reader.rows(first, min(bottom, first + _BAND))[:, left:right])
            for first in range(top, bottom, _BAND)
        ]
        return parts[0] if len(parts) == 1 else np.concatenate(parts)

    def sample(self, region: Region, step: int) -> np.ndarray:
        """Every ``step``-th pixel of a part each way."""
        left, top, right, bottom = region
        rows = range(top, bottom, step)
        return np.stack([self.levels((left, y, right, y + 1))[0, ::step] for y in rows])
