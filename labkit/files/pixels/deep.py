"""Pixels of 16 bits a channel, as arrays: turned upright, laid on white, resampled, and reduced at last."""

from collections.abc import Callable

import numpy as np
from PIL import Image

MOST = 65535
"""White: the largest number of 16 bits."""

UPRIGHT: dict[int, Callable[[np.ndarray], np.ndarray]] = {
    2: lambda values: values[:, ::-1],
    3: lambda values: values[::-1, ::-1],
    4: lambda values: values[::-1],
    5: lambda values: values.swapaxes(0, 1),
    6: lambda values: values.swapaxes(0, 1)[:, ::-1],
    7: lambda values: values.swapaxes(0, 1)[::-1, ::-1],
    8: lambda values: values.swapaxes(0, 1)[::-1],
}
"""What undoes each orientation of Exif 2.3 and TIFF 6.0, section 8, on (rows, columns, …)."""


def to_8_bits(values: np.ndarray) -> np.ndarray:
    """8 bits a channel from 8 or 16, to the nearest level (65535 is 255)."""
    if values.dtype == np.uint8:
        return values
    wide = values.astype(np.uint32)  # (255 v + 32895) / 65536 rounds down to the nearest of v / 257
    wide *= 255
    wide += 32895
    wide >>= 16
    return wide.astype(np.uint8)


def to_16_bits(values: np.ndarray) -> np.ndarray:
    """16 bits a channel from 8 or 16, in this machine's order of bytes (255 is 65535)."""
    wide = values.astype(np.uint16, copy=False)
    return wide * np.uint16(257) if values.dtype == np.uint8 else wide


def on_white(values: np.ndarray) -> np.ndarray:
    """Grey (rows, columns, 1) or RGB of 16 bits, its alpha, if it has one last, laid on white."""
    if values.shape[2] in (1, 3):
        return values
    alpha = values[..., -1:].astype(np.uint32)
    mixed = values[..., :-1] * alpha + MOST * (MOST - alpha)
    return ((mixed + MOST // 2) // MOST).astype(np.uint16)


def resized(
    values: np.ndarray, size: tuple[int, int], box: tuple[float, float, float, float]
) -> np.ndarray:
    """The ``box`` of (rows, columns, channels) of 16 bits as ``size`` (width, height) pixels, by Lanczos.

    Channel by channel in floating point, which Pillow resamples without rounding to 8 bits.
    """
    made = np.empty((size[1], size[0], values.shape[2]), np.uint16)
    for channel in range(values.shape[2]):
        plane = Image.fromarray(values[..., channel].astype(np.float32))
        resampled = np.asarray(plane.resize(size, Image.Resampling.LANCZOS, box=box))
        made[..., channel] = np.clip(np.rint(resampled), 0, MOST)
    return made
