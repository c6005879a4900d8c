"""What a picture file says of itself, read from its header without decoding a pixel."""

import warnings
from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from fractions import Fraction
from os.path import exists, isdir, isfile
from pathlib import Path
from typing import BinaryIO

from labkit.errors import LabError
from labkit.files.header.kind import kind_of
from labkit.files.header.profile import sound_profile
from labkit.files.header.readers import READERS
from labkit.files.header.stored import Header, Ppi
from labkit.geometry.length import Length, decimal


@dataclass(frozen=True)
class Picture:
    """A picture file: its facts, and no pixels.

    ``kind`` is the format found in the content, whatever the name ends in: JPEG, PNG, TIFF, WebP,
    HEIC, AVIF, GIF, BMP, JPEG 2000 or PPM. ``pixels`` (width, height) and ``ppi`` (across, down; exact;
    None where the file states none) are as the picture is shown, turned as ``orientation`` (1–8, Exif
    tag 274) says. ``mode`` is Pillow's word for the colours in the file ("RGB", "L", "CMYK", …) and
    ``depth`` the bits a channel stored there, which may be more than Pillow keeps. ``profile`` is the
    embedded ICC profile and ``profile_name`` its description; of one that is damaged or cannot be used
    only ``profile_fault`` tells. ``pages`` counts pictures or frames, but not thumbnails; ``animated``:
    they follow each other in time. ``layers``: an editor's layers are kept inside; ``alpha``: part of it
    may be transparent, or it carries channels besides its colours.

    ``packing`` says how a TIFF packs its pixels ("LZW", "none", "Deflate", "JPEG", …; "" for other
    kinds) and ``lossy`` that detail was lost in packing, HEIC and AVIF always being taken to lose.
    Of a TIFF besides: ``big``, a BigTIFF; ``byte_order``, "little" or "big"; ``planar``, each colour in
    a plane of its own. ``shape_only``: numbers stand where a resolution should, but without a unit, so
    that they tell the shape of a pixel at most. ``software``, ``artist`` and ``title`` are what the tags
    of TIFF or Exif say (305, 315, 269), "" where they say nothing. ``other_ppi`` is another resolution
    that Exif states, and ``quality`` how hard a JPEG was packed, of 100, by its tables; 0 for other kinds.
    """

    path: Path
    kind: str
    pixels: tuple[int, int]
    mode: str
    depth: int
    profile: bytes | None = field(default=None, repr=False)
    profile_name: str = ""
    profile_fault: str = ""
    ppi: Ppi | None = None
    orientation: int = 1
    pages: int = 1
    animated: bool = False
    layers: bool = False
    alpha: bool = False
    packing: str = ""
    lossy: bool = False
    big: bool = False
    byte_order: str = ""
    planar: bool = False
    shape_only: bool = False
    software: str = ""
    artist: str = ""
    title: str = ""
    other_ppi: Ppi | None = None
    quality: int = 0

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
    def colours(self) -> str:
        """Its colours in a word: RGB, grey, CMYK, Lab, colour table, or black and white."""
        return _COLOUR_WORDS.get(self.mode, "RGB")

    @property
    def profile_class(self) -> str:
        """What the profile describes: "mntr" a display, "scnr" an input, "prtr" a printer … (ICC.1 §7.2.5);
        "" without one."""
        return (self.profile or b"")[12:16].decode("latin-1")

    @property
    def profile_space(self) -> str:
        """The colours it is for, in four signs: "RGB ", "GRAY", "CMYK" … (ICC.1 §7.2.6); "" without one."""
        return (self.profile or b"")[16:20].decode("latin-1")

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
        if self.colours != "RGB":
            yield self.colours
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
        try:
            picture = _read(path, file)
            if max_pixels is not None:
                _refuse_more_pixels(picture.pixels, max_pixels)
        except LabError as error:
            raise LabError(f"“{path.name}” {error}", error.code) from None
    return picture


def _opened(path: Path) -> BinaryIO:
    if isdir(path):
        raise LabError(f"“{path}” is a folder: give the name of one picture in it.")
    if exists(path) and not isfile(path):
        raise LabError(f"“{path}” is a device and not a file: give the name of a picture.")
    try:
        return path.open("rb")
    except PermissionError:
        raise LabError(
            f"you are not allowed to read “{path}”: ask whoever owns it, or copy it to your own folder."
        ) from None
    except (OSError, ValueError):
        raise LabError(
            f"there is no file “{path}”: look at the spelling, the ending and the folder."
        ) from None


def _read(path: Path, file: BinaryIO) -> Picture:
    """The picture as shown, from what its header says of it as stored."""
    kind = kind_of(file)
    try:
        with warnings.catch_warnings(action="ignore"):
            header = READERS[kind](file)
        if not all(isinstance(side, int) and side > 0 for side in header.size):
            raise ValueError("no size")
        profile, name, fault = sound_profile(header.icc)
    except LabError:
        raise
    except Exception as error:  # readers raise whatever they like on a damaged file
        raise LabError(
            f"begins like a {kind} file, but its header is damaged, cut short or of a rare kind: "
            "copy it again from where it came from, or export it anew as TIFF.",
            "damaged",
        ) from error

    def turned(pair):
        return pair[::-1] if pair and header.orientation >= 5 else pair

    return Picture(
        path=path,
        kind=kind,
        pixels=turned(header.size),
        profile=profile,
        profile_name=name,
        profile_fault=fault,
        ppi=turned(header.ppi),
        other_ppi=turned(header.other_ppi),
        **{fact: getattr(header, fact) for fact in _KEPT},
    )


_KEPT = {field.name for field in fields(Header)} - {"size", "ppi", "other_ppi", "icc"}
"""The facts that are the same however a picture is turned."""


def _refuse_more_pixels(size: tuple[int, int], most: int) -> None:
    count = size[0] * size[1]
    if count > most:
        has, limit = (decimal(Fraction(pixels, 10**6), 3) for pixels in (count, most))
        raise LabError(
            f"has {has} megapixels ({size[0]} × {size[1]}), more than the {limit} megapixels "
            "allowed: make it smaller, or have the limit raised.",
            "too-large",
        )
