"""The ways a print file is packed, none of which loses anything: one strip in, one strip out."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import numpy as np


@dataclass(frozen=True)
class Packing:
    """A TIFF compression: its ``word`` for tifffile, whether pixels are differenced first (TIFF 6.0,
    section 14), and what it may grow to at worst."""

    word: str | None
    differenced: bool
    worst: Fraction
    encode: Callable[[np.ndarray], bytes]
    decode: Callable[[bytes, int], bytes]
    """Stored bytes and the most that come out of them; ValueError for bytes that were never packed so."""

    def raw(self, rows: np.ndarray) -> np.ndarray:
        """What is packed of rows of pixels, uint8 or uint16: each pixel less the one before it."""
        rows = rows.astype(rows.dtype.newbyteorder("<"), copy=False)
        if not self.differenced:
            return rows
        less = rows.copy()
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


def _undeflate(stored: bytes, most: int) -> bytes:
    import imagecodecs

    try:
        return imagecodecs.deflate_decode(stored, out=most)
    except imagecodecs.DeflateError as fault:
        raise ValueError from fault


PACKINGS = {
    "LZW": Packing("lzw", True, Fraction(3, 2), _lzw, _unlzw),
    "Deflate": Packing("adobe_deflate", True, Fraction(101, 100), _deflate, _undeflate),
    "none": Packing(None, False, Fraction(1), np.ndarray.tobytes, lambda stored, most: stored),
}
"""By the words that a Picture has for them. LZW has a code of at most 12 bits for each byte (TIFF 6.0,
section 13); deflate stores what it cannot pack, with a few bytes more for each block (RFC 1951)."""
