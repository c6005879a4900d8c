"""The ways a print file is packed, none of which loses anything: one strip in, one strip out."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import numpy as np


@dataclass(frozen=True)
class Packing:
    """A TIFF compression after horizontal differencing: its ``word`` for tifffile, and the share of its raw
    size that it may grow to at worst."""

    word: str
    worst: Fraction
    encode: Callable[[np.ndarray], bytes]
    decode: Callable[[bytes, int], bytes]
    """Stored bytes and the most that come out of them; ValueError for bytes that were never packed so."""


def differenced(rows: np.ndarray) -> np.ndarray:
    """TIFF 6.0, section 14: each pixel less the one before it; uint8 or uint16, the lower byte first."""
    less = rows.astype(rows.dtype.newbyteorder("<"))
    less[:, 1:] -= rows[:, :-1]
    return less


def _lzw(raw: np.ndarray) -> bytes:
    import imagecodecs

    return imagecodecs.lzw_encode(raw.view(np.uint8))


def _unlzw(stored: bytes, most: int) -> bytes:
    import imagecodecs

    try:
        return imagecodecs.lzw_decode(stored, out=most)
    except imagecodecs.LzwError as fault:
        raise ValueError from fault


def _deflate(raw: np.ndarray) -> bytes:
    import imagecodecs

    return imagecodecs.deflate_encode(raw.view(np.uint8))


def _deflate_quickly(raw: np.ndarray) -> bytes:
    import imagecodecs

    return imagecodecs.deflate_encode(raw.view(np.uint8), level=1)


def _undeflate(stored: bytes, most: int) -> bytes:
    import imagecodecs

    try:
        return imagecodecs.deflate_decode(stored, out=most)
    except imagecodecs.DeflateError as fault:
        raise ValueError from fault


QUICKLY = "Deflate, quickly"
"""Deflate at its quickest, which is larger and quicker made; whoever reads it sees no difference."""
PACKINGS = {
    "LZW": Packing("lzw", Fraction(3, 2), _lzw, _unlzw),
    "Deflate": Packing("adobe_deflate", Fraction(101, 100), _deflate, _undeflate),
    QUICKLY: Packing("adobe_deflate", Fraction(101, 100), _deflate_quickly, _undeflate),
}
"""By the words that a Picture has for them. LZW has a code of at most 12 bits for each byte (TIFF 6.0,
section 13); deflate stores what it cannot pack, with a few bytes more for each block (RFC 1951)."""
