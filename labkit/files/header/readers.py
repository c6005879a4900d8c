"""The header of each kind of picture, one reader a kind, by the standard of that kind.

A reader is given an open file of its kind and the number of a page, and returns the ``Header`` of that
page (of the last where there are not so many), as a rule without decoding a pixel; it may raise anything
when the header is damaged.
"""

import struct
import zlib
from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import BinaryIO

from PIL import Image

from labkit.files.header.facts import Header
from labkit.files.header.pillow import pillow_file
from labkit.files.header.stored import (
    MOST_BYTES,
    NO_DENSITY,
    PER_CENTIMETRE,
    PER_INCH,
    PER_METRE,
    Density,
    density,
    exif,
)
from labkit.files.header.tiff_reader import read_tiff, rounds_off


def read_png(file: BinaryIO, page: int = 1) -> Header:
    """ISO 15948, clause 11; eXIf and acTL, the count of frames, by its third edition.

    Every frame is of one size and form, so ``page`` changes nothing; nor does it in a WebP.
    """
    file.seek(8)
    kept = {b"IHDR", b"pHYs", b"iCCP", b"tRNS", b"eXIf", b"acTL"}
    found, count = _chunks(file, kept, png=True)
    width, height, bits, colours = struct.unpack_from(">IIBB", found[b"IHDR"])
    if not count[b"IDAT"]:
        raise EOFError("no picture data")
    grey = {1: "1", 16: "I;16"}.get(bits, "L")
    mode = {0: grey, 2: "RGB", 3: "P", 4: "LA", 6: "RGBA"}[colours]
    frames = max(1, int.from_bytes(found.get(b"acTL", b"")[:4], "big"))
    return Header(
        size=(width, height),
        mode=mode,
        depth=8 if mode == "P" else bits,  # the sample depth of a colour table is always 8
        icc=_inflated(found[b"iCCP"]) if b"iCCP" in found else None,
        pages=frames,
        animated=frames > 1,
        alpha=mode in ("LA", "RGBA") or b"tRNS" in found,
        **exif(found.get(b"eXIf"), _png_density(found.get(b"pHYs", b""))),
    )


def _png_density(physical: bytes) -> Density:
    """pHYs: pixels per unit across and down; unit 1 is the metre, 0 states a shape only."""
    if len(physical) < 9:
        return NO_DENSITY
    across, down, unit = struct.unpack_from(">IIB", physical)
    return density(across, down, PER_METRE if unit == 1 else None)


def _inflated(chunk: bytes) -> bytes:
    """The profile of an iCCP chunk: a name, a zero, the method, then deflated; b"" when damaged."""
    try:
        return zlib.decompressobj().decompress(chunk[chunk.index(b"\0") + 2 :], MOST_BYTES)
    except (ValueError, zlib.error):
        return b""


def read_webp(file: BinaryIO, page: int = 1) -> Header:
    """RFC 9649 for the container, VP8X and VP8L; RFC 6386, section 9.1, for VP8."""
    file.seek(12)
    kept = {b"VP8X", b"VP8 ", b"VP8L", b"ANMF", b"ICCP", b"EXIF"}
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
    first_frame = found.get(b"ANMF", b"")[16:20]  # ALPH stands in front of VP8 only
    return Header(
        size=size,
        mode="RGBA" if alpha else "RGB",
        icc=found.get(b"ICCP"),
        pages=max(1, count[b"ANMF"]),
        animated=count[b"ANMF"] > 1,
        alpha=alpha,
        lossy=b"VP8 " in found or first_frame in (b"VP8 ", b"ALPH"),
        **exif(found.get(b"EXIF")),
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


def _stated_density(file: BinaryIO, found: Image.Image) -> Density:
    return density(*found.info.get("dpi", (0, 0)), PER_INCH)


def _always_8(file: BinaryIO, found: Image.Image) -> int:
    return 8


def _always(file: BinaryIO, found: Image.Image) -> bool:
    return True


def _no_quality(file: BinaryIO, found: Image.Image) -> int:
    return 0


def _never(file: BinaryIO, found: Image.Image) -> bool:
    return False


def _by_pillow(
    file: BinaryIO,
    kind: str,
    *,
    page: int = 1,
    own: Callable[..., Density] = _stated_density,
    depth: Callable[..., int] = _always_8,
    lossy: Callable[..., bool] = _never,
    moves: Callable[..., bool] = _never,
    quality: Callable[..., int] = _no_quality,
) -> Header:
    """A kind whose header Pillow reads well; the rest fills in what it rounds, drops or does not tell:
    the format's ``own`` resolution, and whether several frames are meant to move."""
    found = pillow_file(file, kind)
    pages = getattr(found, "n_frames", 1)
    if page > 1:
        found.seek(min(page, pages) - 1)
    icc = (found.info["icc_profile"] or b"") if "icc_profile" in found.info else None
    mode = "I;16" if found.mode.startswith("I;16") else found.mode.replace("a", "A")
    return Header(
        size=found.size,
        mode=mode,
        depth=1 if mode == "1" else depth(file, found),
        icc=icc,
        pages=pages,
        animated=pages > 1 and moves(file, found),
        alpha=mode.endswith("A") or "transparency" in found.info,
        lossy=lossy(file, found),
        quality=quality(file, found),
        **exif(found.info.get("exif"), own(file, found)),
    )


def _jpeg_density(file: BinaryIO, found: Image.Image) -> Density:
    """JFIF 1.02, p. 5: unit 1 is the inch, 2 the centimetre, 0 states a shape of the pixels only."""
    unit = {1: PER_INCH, 2: PER_CENTIMETRE}.get(found.info.get("jfif_unit"))
    return density(*found.info.get("jfif_density", (0, 0)), unit)


_USUAL_STEPS = 3688
"""The sum of the steps to which brightness is rounded in table K.1 of ITU-T T.81, which is quality 50."""


def _jpeg_quality(file: BinaryIO, found: Image.Image) -> int:
    """How coarsely its first table rounds, on the scale of libjpeg: at quality 50 the steps are those of
    table K.1, from there to 100 they shrink evenly, and below they grow as 50 / quality."""
    steps = found.quantization.get(0)
    if not steps:
        return 0
    coarse = sum(steps) / _USUAL_STEPS
    return max(1, round(100 - 50 * coarse if coarse <= 1 else 50 / coarse))


def _bmp_density(file: BinaryIO, found: Image.Image) -> Density:
    """Pixels per metre, in all headers but the oldest, of 12 bytes."""
    file.seek(14)
    header = file.read(32)
    across, down = struct.unpack_from("<ii", header, 24) if header[0] >= 40 else (0, 0)
    return density(across, down, PER_METRE)


def _is_sequence(file: BinaryIO, found: Image.Image) -> bool:
    """By the brands that ISO 23008-12 keeps for image sequences; other pictures in one file stand still."""
    start = _start(file)
    brands = start[8 : int.from_bytes(start[:4], "big")]
    return any(brand in brands for brand in (b"msf1", b"hevc", b"hevx", b"heim", b"heis"))


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
    return (start[start.index(_CODESTREAM) + 42] & 0x7F) + 1


def _jpeg_2000_loses(file: BinaryIO, found: Image.Image) -> bool:
    start = _start(file)
    return rounds_off(start[start.index(_CODESTREAM) :])


def _start(file: BinaryIO) -> bytes:
    file.seek(0)
    return file.read(65536)


def _ppm_depth(file: BinaryIO, found: Image.Image) -> int:
    """Netpbm: a largest value above 255 takes two bytes."""
    args = found.tile[0].args
    most = args[-1] if isinstance(args, tuple) and isinstance(args[-1], int) else 255
    return 16 if most > 255 or found.mode.startswith("I") else 8


_CODESTREAM = b"\xff\x4f\xff\x51"

READERS: dict[str, Callable[..., Header]] = {
    # of a telephone's JPEG the first picture: the second, embedded one is no page of its own
    "JPEG": partial(
        _by_pillow, kind="JPEG", own=_jpeg_density, lossy=_always, quality=_jpeg_quality
    ),
    "PNG": read_png,
    "TIFF": read_tiff,
    "WebP": read_webp,
    # its plugin turns the picture upright, and its Exif with it
    "HEIC": partial(_by_pillow, kind="HEIC", depth=_heic_depth, lossy=_always, moves=_is_sequence),
    "AVIF": partial(_by_pillow, kind="AVIF", depth=_avif_depth, lossy=_always, moves=_always),
    "GIF": partial(_by_pillow, kind="GIF", moves=_always),
    "BMP": partial(_by_pillow, kind="BMP", own=_bmp_density),
    "JPEG 2000": partial(
        _by_pillow, kind="JPEG 2000", depth=_jpeg_2000_depth, lossy=_jpeg_2000_loses
    ),
    "PPM": partial(_by_pillow, kind="PPM", depth=_ppm_depth),
}
"""By the kind that :func:`labkit.files.header.kind.kind_of` tells."""
