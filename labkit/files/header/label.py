"""The resolution a file states, as the very bytes that state it."""

import struct
from fractions import Fraction
from pathlib import Path

from labkit.geometry.length import millimetres, nearest

JFIF = slice(13, 18)
"""Where a JFIF file keeps it: unit, across, down (JFIF 1.02, p. 5; counted from 0)."""

_METRE = millimetres(1000)
_INCH, _PER_METRE = 1, 1


def jfif_bytes(ppi: int) -> bytes:
    """In a JPEG: 1 for the inch, then two numbers of two bytes, across and down (JFIF 1.02, p. 5).

    >>> jfif_bytes(300).hex(" ")
    '01 01 2c 01 2c'
    """
    return struct.pack(">BHH", _INCH, ppi, ppi)


def png_bytes(ppi: int) -> bytes:
    """In a PNG: pixels per metre across and down, then 1 for the metre (PNG 1.2, 4.2.4.2).

    >>> png_bytes(300).hex(" ")
    '00 00 2e 23 00 00 2e 23 01'
    """
    per_metre = nearest(_METRE.inches * Fraction(ppi))
    return struct.pack(">IIB", per_metre, per_metre, _PER_METRE)


def tiff_bytes(ppi: int) -> bytes:
    """In a TIFF: XResolution, a fraction of two numbers, low byte first (TIFF 6.0, section 8).

    >>> tiff_bytes(300).hex(" ")
    '2c 01 00 00 01 00 00 00'
    """
    return struct.pack("<II", ppi, 1)


def jfif_start(file: Path) -> bytes:
    """The first 20 bytes of a JFIF file, its stated resolution among them; b"" for any other."""
    with file.open("rb") as opened:
        start = opened.read(20)
    return start if start[:4] == b"\xff\xd8\xff\xe0" and start[6:11] == b"JFIF\0" else b""


def relabelled(start: bytes, ppi: int) -> bytes:
    """The start of a JFIF file once it states ``ppi``: five bytes change, and nothing else does."""
    return start[: JFIF.start] + jfif_bytes(ppi) + start[JFIF.stop :]
