"""The header of a TIFF or BigTIFF: TIFF 6.0, and which of its pictures is the one to print."""

import logging
import mmap
import re
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from labkit.errors import LabError
from labkit.files.header.facts import Header
from labkit.files.header.kind import RAW, not_a_picture
from labkit.files.header.stored import MOST_BYTES, tagged

if TYPE_CHECKING:
    from tifffile import TiffFile, TiffPage, TiffTag

    from labkit.files.header.picture import Picture

_MOST_PAGES, _MOST_TAGS = 1000, 4096
"""Counted no further: a damaged file may point round in a circle, or tell of tags without end."""

_BITS, _PACKING, _PARTS, _PROFILE, _LAYERS, _RAW = 258, 259, 330, 34675, 37724, 50706
_REDUCED, _MASK = 1, 4
"""Bits of tag 254: a thumbnail of another picture, and a mask of one."""

_SENSOR_COLOURS = (32803, 34892)
"""ISO 12234-2 (TIFF/EP) and DNG 1.4: a colour filter array, and what is made of one."""

_SENSOR_PACKINGS = (32767, 34713, 65535)
"""Packings (tag 259) that only cameras' raw files use, as tifffile 2026.3.3 lists them."""

_COLOURS = {2: "RGB", 5: "CMYK", 6: "YCbCr", 8: "LAB", 9: "LAB"}
_OWN_RGB = (6, 7)
"""JPEG inside TIFF: its decoder turns YCbCr into RGB."""

_PACKINGS = {
    1: "none", 2: "CCITT", 3: "CCITT Group 3", 4: "CCITT Group 4", 5: "LZW", 6: "JPEG", 7: "JPEG",
    8: "Deflate", 32773: "PackBits", 32946: "Deflate", 33003: "JPEG 2000", 33005: "JPEG 2000",
    34712: "JPEG 2000", 34892: "JPEG", 34925: "LZMA", 50000: "Zstandard", 50001: "WebP",
    50002: "JPEG XL", 52546: "JPEG XL", 34887: "LERC", 34933: "PNG",
}  # fmt: skip
"""Words for tag 259: TIFF 6.0, sections 3, 9 to 11, 13 and 22, its supplements, and libtiff's own."""

_WAVELETS = (33003, 33005, 34712)
_WEBP = 50001
_NEWER = (50002, 52546)
"""JPEG XL, which is taken to lose: to tell, it would have to be decoded."""

_LAYER = re.compile(rb"(?:8BIM(?:Layr|Lr16|Lr32)|MIB8(?:ryaL|61rL|23rL))(?!\0{4})")
"""A block of layers with something in it: for 8, 16 and 32 bits, in either byte order.

The keys are those of psdtags 2023.2.8; that one of them means layers is common practice.
"""


@contextmanager
def open_tiff(file: BinaryIO | Path) -> "Iterator[TiffFile]":
    """A TIFF by tifffile, without its lines on the screen: damage is told of in our own sentences."""
    from tifffile import TiffFile

    log, silence = logging.getLogger("tifffile"), logging.NullHandler()
    log.addHandler(silence)
    try:
        with TiffFile(file) as tiff:
            yield tiff
    finally:
        log.removeHandler(silence)


def description(picture: "Picture") -> str:
    """What a TIFF says it is (tag 270 of its first page); "" where it says nothing, or is another file."""
    if picture.kind != "TIFF":
        return ""
    with open_tiff(picture.path) as tiff:
        told = tiff.pages[0].tags.get(270)
        return told.value if told and isinstance(told.value, str) else ""


def read_tiff(file: BinaryIO, page: int = 1) -> Header:
    """Tags are read as they stand, so that resolutions stay exact.

    LabError, wanting the file's name in front, for a camera's raw file, for a thumbnail in front of
    the picture, and for colours that nothing here prints.
    """
    with open_tiff(file) as tiff:
        first, *others = islice(tiff.pages, _MOST_PAGES)
        _refuse_other_pictures(first, others)
        pictures = pages_to_print(tiff)
        page = pictures[min(page, len(pictures)) - 1]
        tags = page.tags
        mode, channels = _mode(page)
        bits, packing = tags.valueof(_BITS, 1), int(tags.valueof(_PACKING, 1))
        return Header(
            size=(page.imagewidth, page.imagelength),
            mode=mode,
            depth=8 if mode in ("P", "PA") else max(bits) if isinstance(bits, tuple) else bits,
            icc=_profile(tags.get(_PROFILE))
            if _PROFILE in tags
            else _lost_profile(file, tiff, page),
            pages=len(pictures),
            layers=_has_layers(file, tags.get(_LAYERS)),
            alpha=page.samplesperpixel > channels
            or any(other.subfiletype & _MASK for other in others),
            packing=_PACKINGS.get(packing, f"packing {packing}"),
            lossy=_is_lossy(file, page, packing),
            big=tiff.is_bigtiff,
            byte_order="little" if tiff.byteorder == "<" else "big",
            planar=page.planarconfig == 2 and page.samplesperpixel > 1,
            **tagged(tags.valueof),
        )


def pages_to_print(tiff: "TiffFile") -> "list[TiffPage]":
    """The first page, and all others but thumbnails and masks."""
    first, *others = islice(tiff.pages, _MOST_PAGES)
    return [first, *(other for other in others if not other.subfiletype & (_REDUCED | _MASK))]


def rounds_off(codestream: bytes) -> bool:
    """Whether a JPEG 2000 codestream uses the wavelet that loses (ISO 15444-1, A.6.1: COD, SPcod).

    The last byte of COD is 0 for the 9-7 irreversible filter, 1 for the reversible one.
    """
    at = 2
    while codestream[at : at + 2] != b"\xff\x52":
        length = int.from_bytes(codestream[at + 2 : at + 4], "big")
        if length < 2 or at >= len(codestream):
            return False
        at += 2 + length
    return codestream[at + 13 : at + 14] == b"\0"


def _is_lossy(file: BinaryIO, page: "TiffPage", packing: int) -> bool:
    if _PACKINGS.get(packing) == "JPEG" or packing in _NEWER:
        return True
    if packing not in (*_WAVELETS, _WEBP) or not page.dataoffsets:
        return False
    file.seek(page.dataoffsets[0])
    start = file.read(1024)
    return b"VP8 " in start[:64] if packing == _WEBP else rounds_off(start)


def _refuse_other_pictures(page: "TiffPage", others: "list[TiffPage]") -> None:
    is_thumbnail = page.subfiletype & _REDUCED
    is_raw = (
        page.photometric in _SENSOR_COLOURS
        or page.compression in _SENSOR_PACKINGS
        or _RAW in page.tags
    )
    if is_raw or (is_thumbnail and _PARTS in page.tags):
        raise not_a_picture(*RAW)
    if is_thumbnail and any(not other.subfiletype & _REDUCED for other in others):
        raise LabError("begins with a thumbnail of the picture: save it again as a plain TIFF.")


def _mode(page: "TiffPage") -> tuple[str, int]:
    """Pillow's word for the colours (tag 262), and how many channels they take."""
    photometric, samples = int(page.photometric), page.samplesperpixel
    alpha = any(kind in (1, 2) for kind in page.extrasamples)
    if photometric in (0, 1) or (photometric == 6 and samples == 1):
        return ("LA" if alpha else _grey_mode(page)), 1
    if photometric == 3:
        return ("PA" if alpha else "P"), 1
    mode = _COLOURS.get(photometric, "")
    channels = 4 if mode == "CMYK" else 3
    untold = samples - channels - len(page.extrasamples)  # RGB with one more channel is common
    if not mode or samples < channels or untold > (mode == "RGB"):
        raise LabError(
            f"keeps its colours in a way that cannot be printed here ({samples} channels, photometric "
            f"{photometric}): convert it to RGB, and save it again as TIFF."
        )
    if mode == "YCbCr" and page.compression in _OWN_RGB:
        mode = "RGB"
    return ("RGBA" if mode == "RGB" and (alpha or untold) else mode), channels


def _grey_mode(page: "TiffPage") -> str:
    if page.sampleformat == 3:  # IEEE floating point
        return "F"
    words = {1: "1", 8: "L", 16: "I;16"}
    return next((word for bits, word in words.items() if page.bitspersample <= bits), "I")


def _lost_profile(file: BinaryIO, tiff: "TiffFile", page: "TiffPage") -> bytes | None:
    """b"" where the directory of a page names a profile that lies beyond the end of the file, None where it
    names none (TIFF 6.0, section 2: entries of 12 bytes; of 20 in a BigTIFF)."""
    count, size = ("Q", 20) if tiff.is_bigtiff else ("H", 12)
    file.seek(page.offset)
    (entries,) = struct.unpack(tiff.byteorder + count, file.read(struct.calcsize(count)))
    listed = file.read(size * min(entries, _MOST_TAGS))
    codes = (listed[at : at + 2] for at in range(0, len(listed), size))
    return b"" if struct.pack(f"{tiff.byteorder}H", _PROFILE) in codes else None


def _profile(tag: "TiffTag") -> bytes:
    """ICC.1, annex B: the whole profile, as type 7; b"" where it is none by its size or type."""
    value = tag.value if tag.count <= MOST_BYTES else b""
    return value if isinstance(value, bytes) else b""


def _has_layers(file: BinaryIO, tag: "TiffTag | None") -> bool:
    """Whether layers lie in tag 37724; the tag alone may hold other notes of the editor."""
    if tag is None:
        return False
    with mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as whole:
        return bool(_LAYER.search(whole, tag.valueoffset, tag.valueoffset + tag.count))
