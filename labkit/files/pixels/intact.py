"""Damage that a decoder passes over without a word, looked for in how the file is built.

Every function here raises ValueError with a few words on what is missing, and returns nothing when it
finds nothing; it decodes no pixel.
"""

import math
import re
from mmap import mmap
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tifffile import TiffPage

_STUFFED = re.compile(rb"\xff[^\x00]")
"""Inside the pixels of a JPEG every byte FF that is no marker is followed by a zero (ITU-T T.81, F.1.2.3)."""
_START, _END, _SCAN, _TABLES, _INTERVAL = 0xD8, 0xD9, 0xDA, 0xC4, 0xDD
_SEQUENTIAL, _PROGRESSIVE = {0xC0, 0xC1, 0xC9}, {0xC2, 0xCA}
_RESTARTS = range(0xD0, 0xD8)
_NO_SEGMENT = {bytes([code]) for code in (0x00, 0x01, 0xFF, *_RESTARTS)}
_BETWEEN_SCANS = {_TABLES, 0xCC, _END, _SCAN, 0xDB, 0xDC, _INTERVAL, 0xFE, *range(0xE0, 0xF0)}
_ZEROS = bytes(64)
"""More than two whole blocks with every coefficient at -1, by the tables that this is looked for with."""

_JPEG_IN_TIFF = 7
_ZERO_END = bytes(1024)
"""Packed pixels never end in so many zeros (our own judgement): a copy broke off."""


class Broken(ValueError):
    """Something in a file is missing or makes no sense: what, in a few plain words."""


class _Part(NamedTuple):
    """A component of a JPEG's frame: how finely it is sampled each way."""

    across: int
    down: int


class _Jpeg:
    """What the headers of a JPEG have said so far; IndexError where they are too short to say it."""

    def __init__(self) -> None:
        self.size = (0, 0)
        self.parts: dict[int, _Part] = {}
        self.is_sequential = self.is_progressive = False
        self.interval = 0
        self.first_symbols: dict[int, int] = {}
        self.missing: dict[int, list[int]] = {}
        """Of each component: how many bits of its 64 coefficients are still to come, 16 for all."""

    def read(self, marker: int, data: bytes) -> None:
        """Take in a segment that is no scan (ITU-T T.81, B.2.2 to B.2.4)."""
        if marker in _SEQUENTIAL | _PROGRESSIVE:
            self.is_sequential, self.is_progressive = (
                marker in _SEQUENTIAL,
                marker in _PROGRESSIVE,
            )
            self.size = int.from_bytes(data[3:5], "big"), int.from_bytes(data[1:3], "big")
            starts = range(6, 6 + 3 * data[5], 3)
            self.parts = {data[at]: _Part(data[at + 1] >> 4, data[at + 1] & 15) for at in starts}
            self.missing = {number: [16] * 64 for number in self.parts}
        elif marker == _INTERVAL:
            self.interval = int.from_bytes(data[:2], "big")
        elif marker == _TABLES:
            while len(data) > 17:
                self.first_symbols[data[0]] = data[17]
                data = data[17 + sum(data[1:17]) :]

    def scan(self, header: bytes) -> "tuple[list[_Part], bool]":
        """The components in a scan, and whether zeros alone cannot stand for pixels in it."""
        count = header[0]
        if len(header) < 4 + 2 * count:
            raise IndexError
        chosen = {header[1 + 2 * i]: header[2 + 2 * i] for i in range(count)}
        first, last, bits = header[1 + 2 * count : 4 + 2 * count]
        for number in chosen.keys() & self.missing.keys():
            self.missing[number][first : last + 1] = [bits & 15] * (last + 1 - first)
        table = 0x10 | next(iter(chosen.values())) & 15
        no_zeros = self.is_sequential and self.first_symbols.get(table, 0) != 0
        return [part for number, part in self.parts.items() if number in chosen], no_zeros

    def restarts(self, parts: list[_Part]) -> int:
        """How many restart markers a scan of these components has, at the least (A.2 and E.1.4)."""
        if not self.interval or not parts or 0 in self.size or any(0 in part for part in parts):
            return 0
        most = [max(sampled) for sampled in zip(*self.parts.values(), strict=True)]
        unit = (8 * most[0], 8 * most[1])
        if len(parts) == 1:
            unit = (8 * most[0] // parts[0].across, 8 * most[1] // parts[0].down)
        across, down = (math.ceil(side / each) for side, each in zip(self.size, unit, strict=True))
        return math.ceil(across * down / self.interval) - 1


def refuse_broken_jpeg(data: "mmap | bytes") -> int:
    """Where a JPEG's first picture ends, its last marker and all; ValueError for one in which something
    is missing (ITU-T T.81, annex B).

    Codecs fill what is missing with grey and say nothing. Told are: no end, restart markers out of
    turn or too few, a marker where there can be none, a run of zeros that cannot stand for pixels, and
    scans of a progressive picture that never came.
    """
    jpeg, at, scans = _Jpeg(), 2, 0
    while True:
        marker, at = _next_marker(data, at, "the end of the picture" if scans else "")
        if marker == _END:
            break
        length = int.from_bytes(data[at : at + 2], "big")
        segment = data[at + 2 : at + length]
        at += length
        try:
            if marker != _SCAN:
                jpeg.read(marker, segment)
                continue
            parts, no_zeros = jpeg.scan(segment)
        except (IndexError, StopIteration):
            raise Broken("its header is damaged") from None
        end = _scan_end(data, at, jpeg, parts)
        if no_zeros and data.find(_ZEROS, at, end) >= 0:
            raise Broken("a run of zeros stands in the middle of it")
        at, scans = end, scans + 1
    if not scans:
        raise Broken("the file ends before the picture")
    kept = range(64) if jpeg.is_progressive else range(1)
    if any(missing[k] for missing in jpeg.missing.values() for k in kept):
        raise Broken("the last passes of the picture are missing")
    return at


def _next_marker(data, at: int, missing: str) -> tuple[int, int]:
    """The next marker that begins a segment, and where that begins."""
    while (at := data.find(b"\xff", at)) >= 0 and data[at + 1 : at + 2] in _NO_SEGMENT:
        at += 1
    if at < 0 or at + 2 > len(data) or (data[at + 1] != _END and at + 4 > len(data)):
        raise Broken(f"{missing} is missing" if missing else "the file ends before the picture")
    return data[at + 1], at + 2


def _scan_end(data, at: int, jpeg: _Jpeg, parts: list[_Part]) -> int:
    """Where the pixels that begin ``at`` end."""
    restarts = 0
    while found := _STUFFED.search(data, at):  # finditer would keep the file mapped
        marker, at = found[0][1], found.end()
        if marker == 0xFF:  # fill bytes in front of a marker
            at -= 1
            continue
        if marker not in _RESTARTS:
            break
        if not jpeg.interval or marker != _RESTARTS[restarts % 8]:
            raise Broken("a part in the middle of it is missing")
        restarts += 1
    if not found:
        raise Broken("the end of the picture is missing")
    if marker not in _BETWEEN_SCANS:
        raise Broken("something else stands in the middle of it")
    if restarts < jpeg.restarts(parts):
        raise Broken("parts of it are missing")
    return found.start()


def refuse_holes(page: "TiffPage", data: "mmap | bytes") -> None:
    """Broken for a TIFF whose strips or tiles are not all in the file ``data``, or, packed as JPEG,
    are broken.

    The library shows a hole as black.
    """
    wanted = math.prod(page.chunked)
    starts, sizes = page.dataoffsets[:wanted], page.databytecounts[:wanted]
    there = sum(0 < at < len(data) and size > 0 for at, size in zip(starts, sizes, strict=False))
    if there < wanted:
        what = "tiles" if page.is_tiled else "strips"
        raise Broken(f"{wanted - there} of its {wanted} {what} cannot be found")
    if page.compression == _JPEG_IN_TIFF:
        for at, size in zip(starts, sizes, strict=True):
            refuse_broken_jpeg(data[at : at + size])


def refuse_zero_end(data: "mmap | bytes", kind: str) -> None:
    """Broken for a WebP, HEIC or AVIF whose pixels end in nothing but zeros.

    Their decoders make something of them: patches of one colour, or noise.
    """
    ends = _webp_ends(data) if kind == "WebP" else _boxed_ends(data)
    for start, end in ends:
        if end - start > len(_ZERO_END) and data[end - len(_ZERO_END) : end] == _ZERO_END:
            raise Broken("its end is nothing but zeros")


def _webp_ends(data):
    """Where the pixels of a WebP lie (RFC 9649, 2.3)."""
    at = 12
    while len(start := data[at : at + 8]) == 8:
        end = at + 8 + int.from_bytes(start[4:], "little")
        if start[:4] in (b"VP8 ", b"VP8L", b"ANMF"):
            yield at + 8, min(end, len(data))
        at = end + end % 2


def _boxed_ends(data):
    """Where the media data of HEIC and AVIF lie (ISO 14496-12, 4.2 and 8.1.1)."""
    at = 0
    while len(start := data[at : at + 16]) >= 8:
        size = int.from_bytes(start[:4], "big")
        size = int.from_bytes(start[8:], "big") if size == 1 else size or len(data) - at
        if start[4:8] == b"mdat":
            yield at + 8, min(at + size, len(data))
        at += max(size, 8)
