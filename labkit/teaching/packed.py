"""How large a picture is in a file, and how long packing it takes, by each lossless way: measured anew each
time, in a guarded child."""

from time import perf_counter

import numpy as np
from PIL import Image

from labkit.files.header.picture import Picture
from labkit.files.pixels.conversion import conversion
from labkit.files.pixels.decode import decode
from labkit.files.writing.packing import PACKINGS, differenced
from labkit.room.rules import Room

MEASURED = (900, 600)
"""The most pixels that are measured, across and down."""
WAYS = {
    "not packed": ("", False),
    "LZW": ("LZW", False),
    "LZW with differencing": ("LZW", True),
    "deflate": ("Deflate", False),
    "deflate with differencing": ("Deflate", True),
}
"""Each way: one of our packings, and whether each pixel is first taken less the one before it."""
_ROWS = 64
_LARGER = 4 / 3


def measure(picture: Picture, room: Room, depth: int, white: int) -> dict:
    """In a guarded child: ``pixels`` measured, and by each of :data:`WAYS` its ``bytes``, and the seconds
    that it takes ``to_pack`` and ``to_open``.

    The middle of the picture, reduced to at most :data:`MEASURED` pixels, with ``depth`` bits a channel (8,
    16), in the middle of a sheet of which ``white`` per cent (0 to 75) are white.
    """
    rgb = _reduced(picture, room, depth)
    rgb = _on_white(rgb, white)
    strips = [np.ascontiguousarray(rgb[top : top + _ROWS]) for top in range(0, len(rgb), _ROWS)]
    return {
        "pixels": rgb.shape[1::-1],
        "ways": {name: _way(strips, *way) for name, way in WAYS.items()},
    }


def _way(strips: list[np.ndarray], packing: str, difference: bool) -> dict:
    start = perf_counter()
    if packing:
        encode, decode_one = PACKINGS[packing].encode, PACKINGS[packing].decode
    else:
        encode, decode_one = np.ndarray.tobytes, lambda stored, most: stored
    stored = [encode(differenced(each) if difference else each) for each in strips]
    packed = perf_counter()
    for each, strip in zip(stored, strips, strict=True):
        raw = np.frombuffer(decode_one(each, strip.nbytes), strip.dtype).reshape(strip.shape)
        if difference:
            np.cumsum(raw, axis=1, dtype=strip.dtype)
    opened = perf_counter()
    size = sum(map(len, stored))
    return {"bytes": size, "to_pack": packed - start, "to_open": opened - packed}


def _reduced(picture: Picture, room: Room, depth: int) -> np.ndarray:
    """The middle, each pixel made of several, so that 16 bits hold more than 8 do."""
    to_rgb, pixels = conversion(picture, room.colour), decode(picture)
    wide, high = (
        min(side, round(most * _LARGER)) for side, most in zip(pixels.shape, MEASURED, strict=True)
    )
    left, top = (pixels.shape[0] - wide) // 2, (pixels.shape[1] - high) // 2
    region = pixels.region((left, top, left + wide, top + high))
    rgb = np.asarray(to_rgb.rgb(to_rgb.resizable(region)), np.float32)
    size = max(1, round(wide / _LARGER)), max(1, round(high / _LARGER))
    channels = [
        np.asarray(Image.fromarray(rgb[..., at]).resize(size, Image.Resampling.LANCZOS))
        for at in range(3)
    ]
    values, most = np.dstack(channels) / 255, 2**depth - 1
    return np.clip(values * most, 0, most).round().astype(f"u{depth // 8}")


def _on_white(rgb: np.ndarray, white: int) -> np.ndarray:
    high, wide = rgb.shape[:2]
    times = (1 - white / 100) ** -0.5
    sheet = np.full(
        (round(high * times), round(wide * times), 3), np.iinfo(rgb.dtype).max, rgb.dtype
    )
    top, left = (sheet.shape[0] - high) // 2, (sheet.shape[1] - wide) // 2
    sheet[top : top + high, left : left + wide] = rgb
    return sheet
