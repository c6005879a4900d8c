"""What a file states of a picture: the facts that are the same as it is stored and as it is shown."""

from dataclasses import dataclass
from fractions import Fraction

Ppi = tuple[Fraction, Fraction]
"""Pixels per inch across and down, exact."""


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What is stated of a picture besides its size.

    ``mode`` is Pillow's word for the colours in the file ("RGB", "L", "CMYK", …) and ``depth`` the bits a
    channel stored there, which may be more than Pillow keeps. ``ppi`` (across, down; exact) is None where
    the file states none. ``orientation`` (1–8, Exif tag 274) is how it is to be turned. ``pages`` counts
    pictures or frames, but not thumbnails; ``animated``: they follow each other in time. ``layers``: an
    editor's layers are kept inside; ``alpha``: part of it may be transparent, or it carries channels
    besides its colours.

    ``packing`` says how a TIFF packs its pixels ("LZW", "none", "Deflate", "JPEG", …; "" for other
    kinds) and ``lossy`` that detail was lost in packing, HEIC and AVIF always being taken to lose.
    Of a TIFF besides: ``big``, a BigTIFF; ``byte_order``, "little" or "big"; ``planar``, each colour in
    a plane of its own. ``shape_only``: numbers stand where a resolution should, but without a unit, so
    that they tell the shape of a pixel at most. ``software``, ``artist`` and ``title`` are what the tags
    of TIFF or Exif say (305, 315, 269), "" where they say nothing. ``other_ppi`` is another resolution
    that Exif states, and ``quality`` how hard a JPEG was packed, of 100, by its tables; 0 for other kinds.
    """

    mode: str
    depth: int = 8
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


@dataclass(frozen=True, kw_only=True)
class Header(Facts):
    """The facts of one picture of a file as it is stored, before it is turned.

    ``size`` is its width and height in pixels, and ``ppi`` is the same way round; ``icc`` is the
    embedded profile, sound or not: None where there is none, b"" where it cannot be put together.
    """

    size: tuple[int, int]
    icc: bytes | None = None
