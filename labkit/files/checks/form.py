"""Whether anything in the file may change, or be lost, on its way to paper; and how it is packed."""

from collections.abc import Iterator

from labkit.files.checks.findings import Finding, tell
from labkit.files.header.picture import Picture
from labkit.files.look.look import Seen
from labkit.room.rules import Room

_ENDINGS = {
    "JPEG": {"jpg", "jpeg", "jpe", "jfif"},
    "TIFF": {"tif", "tiff"},
    "PNG": {"png", "apng"},
    "WebP": {"webp"},
    "HEIC": {"heic", "heif", "hif"},
    "AVIF": {"avif"},
    "GIF": {"gif"},
    "BMP": {"bmp", "dib"},
    "JPEG 2000": {"jp2", "j2k", "jpx", "jpf", "j2c"},
    "PPM": {"ppm", "pgm", "pbm", "pnm"},
}
"""The endings of each kind, as its standard or common practice has them."""
_RARE = {"Zstandard", "LZMA", "PNG"}
_LOSSLESS = {"none", "LZW", "Deflate", "PackBits", *_RARE} | {
    f"CCITT{group}" for group in ("", " Group 3", " Group 4")
}
"""Packings of a TIFF that lose nothing, whatever they hold, and those of them that few programs open."""
_HARD = 60
"""A JPEG of less quality shows it in print (common practice, no source)."""
_CLASSIC_BYTES = 2**32
"""TIFF 6.0, section 2: places in a classic file are told in 32 bits."""


def packing_findings(picture: Picture, seen: Seen | None, room: Room) -> Iterator[Finding]:
    """What there is to say of the file's form; ``seen`` tells whether its alpha hides anything."""
    ending = picture.path.suffix.removeprefix(".").lower()
    if ending not in _ENDINGS[picture.kind]:
        variant = "" if ending else "none"
        yield tell("wrong-ending", variant=variant, kind=picture.kind, ending=ending)
    if picture.kind != "TIFF":
        yield tell("format", variant="lossy" if picture.lossy else "", kind=picture.kind)
        if picture.quality:
            grade = "look" if picture.quality < _HARD else None
            yield tell("jpeg-quality", grade=grade, quality=picture.quality)
    elif picture.packing not in _LOSSLESS:
        yield tell("compression", packing=picture.packing)
    elif picture.packing not in ("LZW", room.colour.packing_for(picture.depth)):
        variant = "none" if picture.packing == "none" else ""
        grade = "look" if picture.packing in _RARE else None
        yield tell("packing", variant=variant, grade=grade, packing=picture.packing)
    if seen and seen.has_blocks and not 0 < picture.quality < _HARD:
        yield tell("jpeg-blocks")
    if picture.big and picture.path.stat().st_size < _CLASSIC_BYTES // 2:
        yield tell("bigtiff")
    if picture.byte_order == "big" and picture.kind == "TIFF":
        yield tell("byte-order")
    if picture.planar:
        yield tell("separate-planes")
    if picture.layers:
        yield tell("layers")
    if picture.alpha:
        is_opaque = seen is not None and not seen.has_clear
        yield tell("alpha" if is_opaque else "transparency")
    if picture.pages > 1 and not picture.page:
        yield tell("animation" if picture.animated else "several-pages", count=picture.pages)
    if picture.orientation != 1:
        yield tell("turned-flag")
