"""What a picture file says of itself, read from its header without decoding a pixel."""

import logging
import mmap
import re
import struct
import warnings
import zlib
from codecs import getincrementaldecoder
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from io import BytesIO
from itertools import islice
from numbers import Rational
from pathlib import Path
from threading import RLock
from typing import BinaryIO

from PIL import Image, ImageCms
from PIL.AvifImagePlugin import AvifImageFile
from PIL.BmpImagePlugin import BmpImageFile
from PIL.GifImagePlugin import GifImageFile
from PIL.Jpeg2KImagePlugin import Jpeg2KImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.PpmImagePlugin import PpmImageFile
from PIL.TiffImagePlugin import TiffImageFile
from PIL.WebPImagePlugin import WebPImageFile

from labkit.errors import LabError
from labkit.geometry.length import MM_PER_INCH, Length, decimal

LEAST_PPI, MOST_PPI = 2, 20_000
"""A stated resolution outside these means nothing (common practice, no source)."""

WHOLE_WITHIN = Fraction(13, 1000)
"""Half a pixel per metre is 0.0127 ppi: a rounded figure this near a whole ppi means the whole ppi."""

_PER_METRE = MM_PER_INCH / 1000
_PER_CENTIMETRE = MM_PER_INCH / 10
_ORIENTATION, _X, _Y, _UNIT = 274, 282, 283, 296
_MOST_BYTES = 64 << 20
"""No profile or note in a header is as large as this."""
_MOST_PAGES = 1000
"""Counted no further: a damaged file may point round in a circle."""


@dataclass(frozen=True)
class Picture:
    """A picture file: its facts, and no pixels.

    ``kind`` is the format found in the content, whatever the name ends in: JPEG, PNG, TIFF, WebP,
    HEIC, AVIF, GIF, BMP, JPEG 2000 or PPM. ``pixels`` (width, height) and ``ppi`` (across, down; exact;
    None where the file states none) are as the picture is shown, turned as ``orientation`` (1–8, Exif
    tag 274) says. ``mode`` is Pillow's word for the
    colours in the file ("RGB", "L", "CMYK", …) and ``depth`` the bits a channel stored there, which may
    be more than Pillow keeps. ``profile`` is the embedded ICC profile and ``profile_name`` its
    description; of a damaged one only ``profile_fault`` tells. ``pages`` counts
    pictures or frames, but not thumbnails. ``layers``: an editor's layers are kept inside;
    ``alpha``: part of it may be transparent, or it carries channels besides its colours.
    """

    path: Path
    kind: str
    pixels: tuple[int, int]
    mode: str
    depth: int
    profile: bytes | None = field(default=None, repr=False)
    profile_name: str = ""
    profile_fault: str = ""
    ppi: tuple[Fraction, Fraction] | None = None
    orientation: int = 1
    pages: int = 1
    layers: bool = False
    alpha: bool = False

    @property
    def stored(self) -> tuple[int, int]:
        """Width and height in pixels as the picture lies in the file, before it is turned."""
        return self.pixels[::-1] if self.orientation >= 5 else self.pixels

    @property
    def size(self) -> tuple[Length, Length] | None:
        """Width and height at 100 %, exact; None when the file does not state a resolution."""
        if self.ppi is None:
            return None
        width, height = (
            Length(count / ppi) for count, ppi in zip(self.pixels, self.ppi, strict=True)
        )
        return width, height

    @property
    def megapixels(self) -> float:
        """Millions of pixels."""
        return self.pixels[0] * self.pixels[1] / 1e6

    def sentence(self, first: str = "in") -> str:
        """The facts in words, lengths with the unit ``first`` ("in" or "mm") in front."""
        told = ", ".join([self.kind, "{} × {} pixels".format(*self.pixels), *self._words()])
        if self.size is None:
            return f"{self.path.name}: {told}; it states no resolution, so it has no size yet."
        width, height = (side.both(first) for side in self.size)
        return f"{self.path.name}: {told}, so {width} by {height} at 100 %."

    def _words(self) -> Iterator[str]:
        if self.ppi:
            yield " × ".join(dict.fromkeys(decimal(ppi, 2) for ppi in self.ppi)) + " ppi"
        if colours := _COLOUR_WORDS.get(self.mode):
            yield colours
        if self.depth not in (1, 8):
            yield f"{self.depth} bits a channel"
        yield self.profile_name or ("damaged profile" if self.profile_fault else "no profile")
        if self.pages > 1:
            yield f"{self.pages} pages"
        if self.layers:
            yield "layers"
        if self.alpha:
            yield "transparency"

    def __str__(self) -> str:
        return self.sentence()

    def _repr_pretty_(self, printer, cycle):
        printer.text(str(self))


_COLOUR_WORDS = {
    "1": "black and white", "L": "grey", "LA": "grey", "I": "grey", "I;16": "grey", "F": "grey",
    "P": "colour table", "PA": "colour table", "CMYK": "CMYK", "LAB": "Lab",
}  # fmt: skip


def open_picture(path: str | Path, *, max_pixels: int | None = None) -> Picture:
    """Read the facts of a picture file; the file is opened for reading only, and closed again.

    ``max_pixels`` refuses a picture with more pixels than that. LabError, always in one sentence, for
    a file that is missing, a folder, empty, unreadable, not a picture, damaged, or too large.
    """
    path = Path(path)
    with _opened(path) as file:
        head = file.read(_HEAD)
        if not head:
            raise LabError(
                f"“{path.name}” is empty (0 bytes): copy it again from where it came from."
            )
        kind = _kind(path.name, head)
        file.seek(0)
        try:
            with warnings.catch_warnings(action="ignore"):
                picture = _picture(path, kind, **_READERS[kind](file))
        except LabError as error:
            raise LabError(f"“{path.name}” {error}") from None
        except Exception as error:  # readers raise whatever they like on a damaged file
            raise LabError(
                f"“{path.name}” begins like a {kind} file, but its header is damaged, cut short or of "
                "a rare kind: copy it again from where it came from, or export it anew as TIFF."
            ) from error
    if max_pixels is not None and picture.pixels[0] * picture.pixels[1] > max_pixels:
        raise LabError(_too_large(path.name, picture.pixels, max_pixels))
    return picture


def _picture(
    path: Path, kind: str, *, stored, orientation=1, ppi=None, icc=None, **facts
) -> Picture:
    """The picture as shown, from what its header says of it as stored."""
    if not all(isinstance(side, int) and side > 0 for side in stored):
        raise ValueError("no size")
    turned = orientation >= 5
    profile, name, fault = _read_profile(icc)
    return Picture(
        path=path,
        kind=kind,
        pixels=stored[::-1] if turned else stored,
        profile=profile,
        profile_name=name,
        profile_fault=fault,
        ppi=ppi[::-1] if ppi and turned else ppi,
        orientation=orientation,
        **facts,
    )


def _too_large(name: str, size: tuple[int, int], most: int) -> str:
    has, limit = (decimal(Fraction(count, 10**6), 3) for count in (size[0] * size[1], most))
    return (
        f"“{name}” has {has} megapixels ({size[0]} × {size[1]}), more than the {limit} megapixels "
        "allowed: make it smaller, or have the limit raised."
    )


def _opened(path: Path) -> BinaryIO:
    try:
        if path.is_dir():
            raise LabError(f"“{path}” is a folder: give the name of one picture in it.")
        if path.exists() and not path.is_file():
            raise LabError(f"“{path}” is a device and not a file: give the name of a picture.")
        return path.open("rb")
    except PermissionError:
        raise LabError(
            f"you are not allowed to read “{path}”: ask whoever owns it, or copy it to your own folder."
        ) from None
    except (OSError, ValueError) as error:
        if isinstance(error, LabError):
            raise
        raise LabError(
            f"there is no file “{path}”: look at the spelling, the ending and the folder."
        ) from None


# What kind of file it is, from its first bytes.

_HEAD = 1024

_PICTURES = (
    (0, b"\xff\xd8\xff", "JPEG"), (0, b"\x89PNG\r\n\x1a\n", "PNG"),
    (0, b"II*\0", "TIFF"), (0, b"MM\0*", "TIFF"), (0, b"II+\0", "TIFF"), (0, b"MM\0+", "TIFF"),
    (8, b"WEBP", "WebP"), (0, b"GIF87a", "GIF"), (0, b"GIF89a", "GIF"),
    (0, b"\0\0\0\x0cjP  ", "JPEG 2000"), (0, b"\xff\x4f\xff\x51", "JPEG 2000"),
)  # fmt: skip

_RAW = ("a camera raw file", "develop it, and save a TIFF or a JPEG")
_LAYERED = (
    "a layered working file of an image editor",
    "flatten it there, and save a copy as TIFF",
)
_ARCHIVE = ("a compressed archive", "unpack it, and open the picture inside")
_VIDEO = ("a video", "hand in a still picture")
_SOUND = ("a sound recording", "open a picture")
_EXPORT = "export the picture from it as TIFF, PNG or JPEG"

_OTHERS = (
    (8, b"CR\x02", _RAW), (8, b"CCD-RAW", _RAW), (0, b"IIRO", _RAW), (0, b"IIRS", _RAW),
    (0, b"MMOR", _RAW), (0, b"IIU\0", _RAW), (0, b"FOVb", _RAW),
    (0, b"8BPS", _LAYERED), (4, b" xcf ", _LAYERED),
    (0, b"%PDF", ("a PDF document", _EXPORT)), (0, b"%!PS", ("a PostScript drawing", _EXPORT)),
    (0, b"PK\x03\x04", ("a ZIP archive or an office document", "take the picture out of it")),
    (0, b"\xd0\xcf\x11\xe0", ("an office document", "take the picture out of it")),
    (0, b"\x1f\x8b", _ARCHIVE), (0, b"7z\xbc\xaf", _ARCHIVE), (0, b"Rar!", _ARCHIVE),
    (0, b"BZh", _ARCHIVE), (0, b"\xfd7zXZ", _ARCHIVE), (257, b"ustar", _ARCHIVE),
    (0, b"\x1a\x45\xdf\xa3", _VIDEO), (8, b"AVI ", _VIDEO), (0, b"\0\0\x01\xba", _VIDEO),
    (8, b"WAVE", _SOUND), (0, b"ID3", _SOUND), (0, b"fLaC", _SOUND), (0, b"OggS", _SOUND),
    (0, b"\xff\x0a", ("a JPEG XL picture", "save it as TIFF or PNG")),
    (0, b"\0\0\0\x0cJXL ", ("a JPEG XL picture", "save it as TIFF or PNG")),
)  # fmt: skip

_HEIF_BRANDS = {
    b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1",
}  # fmt: skip

_BMP_HEADERS = (12, 40, 52, 56, 64, 108, 124)
"""Their sizes in bytes: two letters alone would be too little to go by."""


def _kind(name: str, head: bytes) -> str:
    for at, magic, other in _OTHERS:
        if head.startswith(magic, at):
            raise _not_a_picture(name, *other)
    for at, magic, kind in _PICTURES:
        if head.startswith(magic, at):
            return kind
    if head[4:8] == b"ftyp":
        return _boxed_kind(name, head)
    if head[:2] == b"BM" and int.from_bytes(head[14:18], "little") in _BMP_HEADERS:
        return "BMP"
    if re.match(rb"P[1-6]\s", head):
        return "PPM"
    if text := _as_text(head):
        raise _not_a_picture(name, *_text_kind(text))
    raise LabError(
        f"“{name}” is no kind of picture known here: open a TIFF, PNG, JPEG, WebP or HEIC file."
    )


def _boxed_kind(name: str, head: bytes) -> str:
    """The kind of an ISO 14496-12 file, by the brands in its first box."""
    end = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[at : at + 4] for at in range(8, end, 4) if at != 12}
    if brands & {b"avif", b"avis"}:
        return "AVIF"
    if brands & _HEIF_BRANDS:
        return "HEIC"
    raise _not_a_picture(name, *(_RAW if b"crx " in brands else _VIDEO))


def _as_text(head: bytes) -> str:
    """The head as text, "" when it is none."""
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return head.decode("utf-16", "replace")
    try:
        text = getincrementaldecoder("utf-8")().decode(head)  # the last letter may be cut through
    except UnicodeDecodeError:
        return ""
    return text if all(sign >= " " or sign in "\t\n\r\f" for sign in text) else ""


def _text_kind(text: str) -> tuple[str, str]:
    start = text.lstrip("\ufeff \t\r\n").lower()
    if "<svg" in start:
        return "a drawing made of lines (SVG)", _EXPORT
    if start.startswith(("<!doctype html", "<html")):
        return "a web page", "save the picture itself from that page"
    return "a text file", "open the picture itself"


def _not_a_picture(name: str, what: str, advice: str) -> LabError:
    return LabError(f"“{name}” is not a picture that can be printed but {what}: {advice}.")


# The facts of each kind, as they are stored.


def _jpeg(file: BinaryIO) -> dict:
    """The first picture of the file; a second one embedded by a telephone is no page of its own."""
    found = JpegImageFile(file, "")
    orientation, exif_ppi = _exif(found.info.get("exif"))
    x, y = found.info.get("jfif_density", (0, 0))
    unit = found.info.get("jfif_unit")  # JFIF 1.02, p. 5: 1 inch, 2 centimetre, 0 aspect only
    jfif_ppi = _ppi(x, y, {1: Fraction(1), 2: _PER_CENTIMETRE}.get(unit))
    icc = (found.info["icc_profile"] or b"") if "icc_profile" in found.info else None
    return {
        "stored": found.size,
        "mode": found.mode,
        "depth": 8,
        "ppi": jfif_ppi or exif_ppi,
        "icc": icc,
        "orientation": orientation,
    }


def _png(file: BinaryIO) -> dict:
    file.seek(8)
    kept = {b"IHDR", b"pHYs", b"iCCP", b"tRNS", b"eXIf", b"acTL"}
    found, count = _chunks(file, kept, png=True)
    width, height, bits, colours = struct.unpack_from(">IIBB", found[b"IHDR"])
    if not count[b"IDAT"]:
        raise EOFError("no picture data")
    mode = {0: {1: "1", 16: "I;16"}.get(bits, "L"), 2: "RGB", 3: "P", 4: "LA", 6: "RGBA"}[colours]
    x, y, unit = struct.unpack(">IIB", found.get(b"pHYs", b"").ljust(9, b"\0")[:9])
    orientation, exif_ppi = _exif(found.get(b"eXIf"))
    return {
        "stored": (width, height),
        "mode": mode,
        "depth": 8 if mode == "P" else bits,  # ISO 15948: the sample depth of a colour table is 8
        "ppi": _ppi(x, y, _PER_METRE if unit == 1 else None) or exif_ppi,
        "icc": _inflated(found[b"iCCP"]) if b"iCCP" in found else None,
        "orientation": orientation,
        "pages": max(1, int.from_bytes(found.get(b"acTL", b"")[:4], "big")),
        "alpha": mode in ("LA", "RGBA") or b"tRNS" in found,
    }


def _inflated(chunk: bytes) -> bytes:
    """The profile of an iCCP chunk: a name, a zero, the method, then deflated; b"" when damaged."""
    try:
        return zlib.decompressobj().decompress(chunk[chunk.index(b"\0") + 2 :], _MOST_BYTES)
    except (ValueError, zlib.error):
        return b""


def _webp(file: BinaryIO) -> dict:
    file.seek(12)
    kept = {b"VP8X", b"VP8 ", b"VP8L", b"ICCP", b"EXIF"}
    found, count = _chunks(file, kept, png=False)
    if extended := found.get(b"VP8X"):
        width, height = (int.from_bytes(extended[at : at + 3], "little") + 1 for at in (4, 7))
        alpha = bool(extended[0] & 0x10)
    elif lossless := found.get(b"VP8L"):
        bits = int.from_bytes(lossless[1:5], "little")
        width, height = (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
        alpha = bool(bits >> 28 & 1)
    else:
        width, height = (side & 0x3FFF for side in struct.unpack_from("<HH", found[b"VP8 "], 6))
        alpha = False
    orientation, ppi = _exif(found.get(b"EXIF"))
    return {
        "stored": (width, height),
        "mode": "RGBA" if alpha else "RGB",
        "depth": 8,
        "ppi": ppi,
        "icc": found.get(b"ICCP"),
        "orientation": orientation,
        "pages": max(1, count[b"ANMF"]),
        "alpha": alpha,
    }


def _chunks(file: BinaryIO, kept: set[bytes], *, png: bool) -> tuple[dict[bytes, bytes], Counter]:
    """The data of the first of each kept chunk, and how many there are of each.

    PNG puts the length first and a check sum last; RIFF puts the name first, and pads to even.
    """
    found, count = {}, Counter()
    while len(start := file.read(8)) == 8:
        name, length = (start[4:], start[:4]) if png else (start[:4], start[4:])
        length = int.from_bytes(length, "big" if png else "little")
        end = file.tell() + length + (4 if png else length % 2)
        if name in kept and name not in found and length <= _MOST_BYTES:
            found[name] = file.read(length)
        count[name] += 1
        file.seek(end)
    return found, count


_LAYERS = re.compile(rb"(?:8BIM(?:Layr|Lr16|Lr32)|MIB8(?:ryaL|61rL|23rL))(?!\0{4})")
"""A block of layers with something in it: for 8, 16 and 32 bits, in either byte order."""
_LAYER_TAG, _PROFILE_TAG, _RAW_TAG, _PARTS_TAG = 37724, 34675, 50706, 330
_RAW_COLOURS = (32803, 34892)
_REDUCED, _MASK = 1, 4


def _tiff(file: BinaryIO) -> dict:
    """TIFF 6.0 and BigTIFF; tags are read as they stand, so that resolutions stay exact."""
    from tifffile import TiffFile

    with _quiet("tifffile"), TiffFile(file) as tiff:
        page, *others = islice(tiff.pages, _MOST_PAGES)
        tags = page.tags
        _refuse_other_tiff(page, others)
        mode, channels = _tiff_mode(page)
        bits = tags.valueof(258, 1)
        icc = tags.get(_PROFILE_TAG)
        layers = tags.get(_LAYER_TAG)
        return {
            "stored": (page.imagewidth, page.imagelength),
            "mode": mode,
            "depth": 8 if mode in ("P", "PA") else max(bits) if isinstance(bits, tuple) else bits,
            "ppi": _tagged_ppi(tags.valueof),
            "icc": _tag_bytes(icc) if icc else None,
            "orientation": _orientation(tags.valueof(_ORIENTATION)),
            "pages": 1 + sum(not other.subfiletype & (_REDUCED | _MASK) for other in others),
            "layers": layers is not None and _has_layers(file, layers),
            "alpha": page.samplesperpixel > channels,
        }


@contextmanager
def _quiet(library: str) -> Iterator[None]:
    """No lines on the screen about damage that is told of in a sentence anyway."""
    handler = logging.NullHandler()
    logging.getLogger(library).addHandler(handler)
    try:
        yield
    finally:
        logging.getLogger(library).removeHandler(handler)


def _refuse_other_tiff(page, others) -> None:
    raw = page.photometric in _RAW_COLOURS or _RAW_TAG in page.tags
    if raw or (page.subfiletype & _REDUCED and _PARTS_TAG in page.tags):
        raise LabError("is not a picture that can be printed but {}: {}.".format(*_RAW))
    if page.subfiletype & _REDUCED and any(not other.subfiletype & _REDUCED for other in others):
        raise LabError("begins with a thumbnail of the picture: save it again as a plain TIFF.")


_TIFF_COLOURS = {2: "RGB", 5: "CMYK", 6: "YCbCr", 8: "LAB", 9: "LAB"}
_OWN_RGB = (6, 7)
"""JPEG inside TIFF: its decoder turns YCbCr into RGB."""


def _tiff_mode(page) -> tuple[str, int]:
    """Pillow's word for the colours, and how many channels they take (TIFF 6.0, tag 262)."""
    photometric, samples = int(page.photometric), page.samplesperpixel
    alpha = any(kind in (1, 2) for kind in page.extrasamples)
    if photometric in (0, 1) or (photometric == 6 and samples == 1):
        return ("LA" if alpha else _grey_mode(page)), 1
    if photometric == 3:
        return ("PA" if alpha else "P"), 1
    mode = _TIFF_COLOURS.get(photometric, "")
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


def _grey_mode(page) -> str:
    if page.sampleformat == 3:
        return "F"
    words = {1: "1", 8: "L", 16: "I;16"}
    return next((word for bits, word in words.items() if page.bitspersample <= bits), "I")


def _tag_bytes(tag) -> bytes:
    value = tag.value if tag.count <= _MOST_BYTES else b""
    return value if isinstance(value, bytes) else b""


def _has_layers(file: BinaryIO, tag) -> bool:
    """Whether layers lie in tag 37724; the tag alone may hold other notes of the editor.

    The keys are those of psdtags 2023.2.8; that one of them means layers is common practice.
    """
    with mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as whole:
        return bool(_LAYERS.search(whole, tag.valueoffset, tag.valueoffset + tag.count))


def _heic(file: BinaryIO) -> dict:
    """The plugin turns the picture upright itself, so the orientation is always 1."""
    from pi_heif import open_heif

    found = open_heif(file)
    _, ppi = _exif(found.info.get("exif"))
    return {
        "stored": found.size,
        "mode": found.mode.replace("a", "A"),
        "depth": found.info["bit_depth"],
        "ppi": ppi,
        "icc": found.info.get("icc_profile"),
        "pages": len(found),
        "alpha": found.has_alpha,
    }


def _plain(plugin: type, depth: Callable = lambda file, found: 8) -> Callable[[BinaryIO], dict]:
    """A reader by Pillow's class of that kind, called itself: Image.open would add its own limits."""

    def read(file: BinaryIO) -> dict:
        found = plugin(file, "")
        orientation, exif_ppi = _exif(found.info.get("exif"))
        x, y = found.info.get("dpi", (0, 0))
        ppi = _bmp_ppi(file) if plugin is BmpImageFile else _ppi(x, y, Fraction(1))
        mode = "I;16" if found.mode.startswith("I;16") else found.mode
        return {
            "stored": found.size,
            "mode": mode,
            "depth": 1 if mode == "1" else depth(file, found),
            "ppi": ppi or exif_ppi,
            "icc": found.info.get("icc_profile"),
            "orientation": orientation,
            "pages": getattr(found, "n_frames", 1),
            "alpha": mode.endswith("A") or "transparency" in found.info,
        }

    return read


def _bmp_ppi(file: BinaryIO) -> tuple[Fraction, Fraction] | None:
    file.seek(14)
    header = file.read(32)
    x, y = struct.unpack_from("<ii", header, 24) if header[0] >= 40 else (0, 0)
    return _ppi(x, y, _PER_METRE)


def _avif_depth(file: BinaryIO, found: Image.Image) -> int:
    """From the av1C box: after its marker and profile come tier, high depth, twelve bits."""
    file.seek(0)
    start = file.read(65536)
    at = start.find(b"av1C")
    flags = start[at + 6] if 0 <= at < len(start) - 6 else 0
    return (12 if flags & 0x20 else 10) if flags & 0x40 else 8


def _jpeg_2000_depth(file: BinaryIO, found: Image.Image) -> int:
    """From the SIZ marker (ISO 15444-1): bits less one, the first bit telling of signs."""
    file.seek(0)
    start = file.read(65536)
    return (start[start.index(b"\xff\x4f\xff\x51") + 42] & 0x7F) + 1


def _ppm_depth(file: BinaryIO, found: Image.Image) -> int:
    args = found.tile[0].args
    most = args[-1] if isinstance(args, tuple) and isinstance(args[-1], int) else 255
    return 16 if most > 255 or found.mode.startswith("I") else 8


_READERS = {
    "JPEG": _jpeg,
    "PNG": _png,
    "TIFF": _tiff,
    "WebP": _webp,
    "HEIC": _heic,
    "GIF": _plain(GifImageFile),
    "BMP": _plain(BmpImageFile),
    "AVIF": _plain(AvifImageFile, _avif_depth),
    "JPEG 2000": _plain(Jpeg2KImageFile, _jpeg_2000_depth),
    "PPM": _plain(PpmImageFile, _ppm_depth),
}


# What several kinds have in common.


def _exif(data: bytes | None) -> tuple[int, tuple[Fraction, Fraction] | None]:
    """Orientation and resolution of a block of Exif; those of no block when it cannot be read."""
    tags = Image.Exif()
    try:
        tags.load(data or b"")
        return _orientation(tags.get(_ORIENTATION)), _tagged_ppi(tags.get)
    except Exception:  # a damaged block says nothing, and the picture is there all the same
        return 1, None


def _orientation(value) -> int:
    return int(value) if value in range(1, 9) else 1


def _tagged_ppi(value_of: Callable) -> tuple[Fraction, Fraction] | None:
    """TIFF 6.0, section 8, and Exif 2.3: unit 2 (the default) inch, 3 centimetre, 1 aspect only."""
    unit = {2: Fraction(1), 3: _PER_CENTIMETRE}.get(value_of(_UNIT, 2))
    return _ppi(value_of(_X), value_of(_Y), unit)


def _ppi(x, y, times: Fraction | None) -> tuple[Fraction, Fraction] | None:
    """Two stored numbers as exact ppi: ``times`` makes inches of their unit, None means it has none.

    Numbers held as floats, or not counted by the inch, are roundings: where a whole ppi lies within
    ``WHOLE_WITHIN`` it was meant.
    """
    across, down = _number(x), _number(y)
    if times is None or across is None or down is None:
        return None
    ppi = across * times, down * times
    if times != 1 or isinstance(x, float):
        ppi = tuple(round(p) if abs(p - round(p)) <= WHOLE_WITHIN else p for p in ppi)
    if not all(LEAST_PPI <= p <= MOST_PPI for p in ppi):
        return None
    return Fraction(ppi[0]), Fraction(ppi[1])


def _number(value) -> Fraction | None:
    if isinstance(value, Rational):  # Pillow's own are not in lowest terms, and would stay so
        value = value.numerator, value.denominator
    try:
        return Fraction(*value) if isinstance(value, tuple) else Fraction(value)
    except (TypeError, ValueError, ZeroDivisionError, OverflowError):
        return None


def _read_profile(icc: bytes | None) -> tuple[bytes | None, str, str]:
    """The profile if it is sound, its name, and else what is wrong with it."""
    if icc is None:
        return None, "", ""
    try:
        found = ImageCms.ImageCmsProfile(BytesIO(icc)).profile
    except (OSError, ImageCms.PyCMSError):
        return None, "", f"the embedded profile is damaged ({len(icc)} bytes)"
    return icc, (found.profile_description or "").strip() or "unnamed profile", ""


# The same files decoded.

_PLUGINS = {
    "JPEG": JpegImageFile, "PNG": PngImageFile, "TIFF": TiffImageFile, "WebP": WebPImageFile,
    "GIF": GifImageFile, "BMP": BmpImageFile, "AVIF": AvifImageFile, "JPEG 2000": Jpeg2KImageFile,
    "PPM": PpmImageFile,
}  # fmt: skip
_AS_STORED = {
    2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM, 5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE, 8: Image.Transpose.ROTATE_270,
}  # fmt: skip
"""What undoes the turning that Pillow does to a TIFF, and to nothing else."""


def pillow_image(path: str | Path) -> Image.Image:
    """The first page decoded whole by Pillow, as it lies in the file, however many pixels it has.

    Only the plugin for what the content is gets to see it. Raises whatever that plugin raises; LabError
    for what :func:`open_picture` refuses by the first bytes.
    """
    path = Path(path)
    with _opened(path) as file, _no_pixel_limit():
        kind = _kind(path.name, file.read(_HEAD))
        file.seek(0)
        image = _plugin(kind)(file, "")
        turned = image.tag_v2.get(_ORIENTATION, 1) if kind == "TIFF" else 1
        image.load()
    return image.transpose(_AS_STORED[turned]) if turned in _AS_STORED else image


def _plugin(kind: str) -> type:
    if kind == "HEIC":
        from pi_heif import HeifImageFile

        return HeifImageFile
    return _PLUGINS[kind]


_ONE_AT_A_TIME = RLock()


@contextmanager
def _no_pixel_limit() -> Iterator[None]:
    """Pillow's own limit, which is one for the whole process, lifted and put back."""
    with _ONE_AT_A_TIME:
        limit = Image.MAX_IMAGE_PIXELS
        Image.MAX_IMAGE_PIXELS = None
        try:
            yield
        finally:
            Image.MAX_IMAGE_PIXELS = limit
