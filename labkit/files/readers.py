"""The header of each kind of picture, one reader a kind, by the standard of that kind.

A reader is given an open file of its kind and returns a ``Header``, without decoding a pixel; it may
raise anything when the header is damaged.
"""

import struct
import zlib
from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import BinaryIO

from PIL import Image

from labkit.files.header import (
    MOST_BYTES,
    PER_CENTIMETRE,
    PER_INCH,
    PER_METRE,
    Header,
    Ppi,
    exact_ppi,
    exif,
)
from labkit.files.pillow import pillow_file
from labkit.files.tiff_reader import read_tiff


def read_png(file: BinaryIO) -> Header:
    """ISO 15948, clause 11; eXIf and acTL, the count of frames, by its third edition."""
    file.seek(8)
    kept = {b"IHDR", b"pHYs", b"iCCP", b"tRNS", b"eXIf", b"acTL"}
    found, count = _chunks(file, kept, png=True)
    width, height, bits, colours = struct.unpack_from(">IIBB", found[b"IHDR"])
    if not count[b"IDAT"]:
        raise EOFError("no picture data")
    grey = {1: "1", 16: "I;16"}.get(bits, "L")
    mode = {0: grey, 2: "RGB", 3: "P", 4: "LA", 6: "RGBA"}[colours]
    orientation, exif_ppi = exif(found.get(b"eXIf"))
    return Header(
        size=(width, height),
        mode=mode,
        depth=8 if mode == "P" else bits,  # the sample depth of a colour table is always 8
        ppi=_png_ppi(found.get(b"pHYs", b"")) or exif_ppi,
        icc=_inflated(found[b"iCCP"]) if b"iCCP" in found else None,
        orientation=orientation,
        pages=max(1, int.from_bytes(found.get(b"acTL", b"")[:4], "big")),
        alpha=mode in ("LA", "RGBA") or b"tRNS" in found,
    )


def _png_ppi(physical: bytes) -> Ppi | None:
    """pHYs: pixels per unit across and down; unit 1 is the metre, 0 states a shape only."""
    if len(physical) < 9:
        return None
    across, down, unit = struct.unpack_from(">IIB", physical)
    return exact_ppi(across, down, PER_METRE if unit == 1 else None)


def _inflated(chunk: bytes) -> bytes:
    """The profile of an iCCP chunk: a name, a zero, the method, then deflated; b"" when damaged."""
    try:
        return zlib.decompressobj().decompress(chunk[chunk.index(b"\0") + 2 :], MOST_BYTES)
    except (ValueError, zlib.error):
        return b""


def read_webp(file: BinaryIO) -> Header:
    """RFC 9649 for the container, VP8X and VP8L; RFC 6386, section 9.1, for VP8."""
    file.seek(12)
    kept = {b"VP8X", b"VP8 ", b"VP8L", b"ICCP", b"EXIF"}
    found, count = _chunks(file, kept, png=False)
    if extended := found.get(b"VP8X"):
        size = tuple(int.from_bytes(extended[at : at + 3], "little") + 1 for at in (4, 7))
        alpha = bool(extended[0] & 0x10)
    elif lossless := found.get(b"VP8L"):
        bits = int.from_bytes(lossless[1:5], "little")
        size = (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
        alpha = bool(bits >> 28 & 1)
    else:
        size = tuple(side & 0x3FFF for side in struct.unpack_from("<HH", found[b"VP8 "], 6))
        alpha = False
    orientation, ppi = exif(found.get(b"EXIF"))
    return Header(
        size=size,
        mode="RGBA" if alpha else "RGB",
        ppi=ppi,
        icc=found.get(b"ICCP"),
        orientation=orientation,
        pages=max(1, count[b"ANMF"]),
        alpha=alpha,
    )


def _chunks(file: BinaryIO, kept: set[bytes], *, png: bool) -> tuple[dict[bytes, bytes], Counter]:
    """The data of the first of each kept chunk, and how many there are of each.

    PNG puts the length first and a check sum last; RIFF puts the name first, and pads to even.
    """
    found, count = {}, Counter()
    while len(start := file.read(8)) == 8:
        name, length = (start[4:], start[:4]) if png else (start[:4], start[4:])
        length = int.from_bytes(length, "big" if png else "little")
        end = file.tell() + length + (4 if png else length % 2)
        if name in kept and name not in found and length <= MOST_BYTES:
            found[name] = file.read(length)
        count[name] += 1
        file.seek(end)
    return found, count


def _stated_ppi(file: BinaryIO, found: Image.Image) -> Ppi | None:
    return exact_ppi(*found.info.get("dpi", (0, 0)), PER_INCH)


def _always_8(file: BinaryIO, found: Image.Image) -> int:
    return 8


def _by_pillow(
    file: BinaryIO,
    kind: str,
    *,
    ppi: Callable[..., Ppi | None] = _stated_ppi,
    depth: Callable[..., int] = _always_8,
) -> Header:
    """A kind whose header Pillow reads well; ``ppi`` and ``depth`` fill in what it rounds or drops."""
    found = pillow_file(file, kind)
    icc = (found.info["icc_profile"] or b"") if "icc_profile" in found.info else None
    orientation, exif_ppi = exif(found.info.get("exif"))
    mode = "I;16" if found.mode.startswith("I;16") else found.mode.replace("a", "A")
    return Header(
        size=found.size,
        mode=mode,
        depth=1 if mode == "1" else depth(file, found),
        ppi=ppi(file, found) or exif_ppi,
        icc=icc,
        orientation=orientation,
        pages=getattr(found, "n_frames", 1),
        alpha=mode.endswith("A") or "transparency" in found.info,
    )


def _jpeg_ppi(file: BinaryIO, found: Image.Image) -> Ppi | None:
    """JFIF 1.02, p. 5: unit 1 is the inch, 2 the centimetre, 0 states a shape of the pixels only."""
    unit = {1: PER_INCH, 2: PER_CENTIMETRE}.get(found.info.get("jfif_unit"))
    return exact_ppi(*found.info.get("jfif_density", (0, 0)), unit)


def _bmp_ppi(file: BinaryIO, found: Image.Image) -> Ppi | None:
    """Pixels per metre, in all headers but the oldest, of 12 bytes."""
    file.seek(14)
    header = file.read(32)
    across, down = struct.unpack_from("<ii", header, 24) if header[0] >= 40 else (0, 0)
    return exact_ppi(across, down, PER_METRE)


def _heic_depth(file: BinaryIO, found: Image.Image) -> int:
    return found.info["bit_depth"]


def _avif_depth(file: BinaryIO, found: Image.Image) -> int:
    """AV1 in ISO base media files: the third byte of av1C holds tier, high depth, twelve bits."""
    start = _start(file)
    at = start.find(b"av1C")
    flags = start[at + 6] if 0 <= at < len(start) - 6 else 0
    return (12 if flags & 0x20 else 10) if flags & 0x40 else 8


def _jpeg_2000_depth(file: BinaryIO, found: Image.Image) -> int:
    """ISO 15444-1, A.5.1: the SIZ marker has bits less one, the first bit telling of signs."""
    start = _start(file)
    return (start[start.index(b"\xff\x4f\xff\x51") + 42] & 0x7F) + 1


def _start(file: BinaryIO) -> bytes:
    file.seek(0)
    return file.read(65536)


def _ppm_depth(file: BinaryIO, found: Image.Image) -> int:
    """Netpbm: a largest value above 255 takes two bytes."""
    args = found.tile[0].args
    most = args[-1] if isinstance(args, tuple) and isinstance(args[-1], int) else 255
    return 16 if most > 255 or found.mode.startswith("I") else 8


READERS: dict[str, Callable[[BinaryIO], Header]] = {
    # of a telephone's JPEG the first picture: the second, embedded one is no page of its own
    "JPEG": partial(_by_pillow, kind="JPEG", ppi=_jpeg_ppi),
    "PNG": read_png,
    "TIFF": read_tiff,
    "WebP": read_webp,
    # its plugin turns the picture upright, and its Exif with it
    "HEIC": partial(_by_pillow, kind="HEIC", depth=_heic_depth),
    "AVIF": partial(_by_pillow, kind="AVIF", depth=_avif_depth),
    "GIF": partial(_by_pillow, kind="GIF"),
    "BMP": partial(_by_pillow, kind="BMP", ppi=_bmp_ppi),
    "JPEG 2000": partial(_by_pillow, kind="JPEG 2000", depth=_jpeg_2000_depth),
    "PPM": partial(_by_pillow, kind="PPM", depth=_ppm_depth),
}
"""By the kind that :func:`labkit.files.kind.kind_of` tells."""
