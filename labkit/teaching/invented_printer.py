"""A picture as an invented printer prints it: its colour managed once, twice, and not at all.

The printer is made up for teaching and is no measurement of any. In linear light it prints colours too
dull and too dark; managing them means to send it the opposite of what it does.
"""

import json
from pathlib import Path

import numpy as np
from PIL import Image

from labkit.files.header.picture import Picture
from labkit.files.look.address import address_of
from labkit.files.pixels.conversion import conversion
from labkit.files.pixels.decode import decode
from labkit.files.writing.strips import preview
from labkit.room.rules import Room

PRINTS = ("file", "once", "never", "twice")
"""The tiles of the strip, from left to right: the file itself, and the three prints of it."""
TILE = 400
"""The longest side of a tile, in pixels."""
DARKER, DULLER = 1.5, 0.35
"""What the invented printer does: a power of the light, and the share of it that turns grey."""

_GREY = np.array([0.2126, 0.7152, 0.0722])
"""The luminance of linear red, green and blue: IEC 61966-2-1, the second row of its matrix."""


def printed(light: np.ndarray) -> np.ndarray:
    """What comes out on paper when ``light`` is sent: linear, from 0 to 1, rows × columns × 3, float64."""
    grey = (light @ _GREY)[..., None]
    return (light + DULLER * (grey - light)) ** DARKER


def managed(light: np.ndarray) -> np.ndarray:
    """What has to be sent so that ``light`` comes out, both as in :func:`printed`; the nearest there is where
    nothing would do."""
    undarkened = light ** (1 / DARKER)
    grey = (undarkened @ _GREY)[..., None]
    return np.clip(grey + (undarkened - grey) / (1 - DULLER), 0, 1)


def keep_prints(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`PRINTS` as a ``data:`` address, the ``shape`` of
    a tile in pixels, and how light and how colourful each is, in levels of 255.

    Lightness is the mean of all levels, colourfulness the mean step from a pixel's strongest channel to
    its weakest.
    """
    small = preview(decode(picture), conversion(picture, room.colour), TILE)
    light = to_light(np.asarray(small))
    sent_once = managed(light)
    tiles = {
        "file": np.asarray(small),
        "once": to_levels(printed(sent_once)),
        "never": to_levels(printed(light)),
        "twice": to_levels(printed(managed(sent_once))),
    }
    strip = Image.fromarray(np.hstack([tiles[name] for name in PRINTS]))
    told = {
        "strip": address_of(strip, 90),
        "shape": small.size,
        "light": {name: float(tile.mean()) for name, tile in tiles.items()},
        "colour": {name: float(np.ptp(tile, axis=2).mean()) for name, tile in tiles.items()},
    }
    kept.write_text(json.dumps(told), encoding="utf-8")


def to_light(levels: np.ndarray) -> np.ndarray:
    """Levels of sRGB (uint8, of any shape) as linear light, float64: IEC 61966-2-1."""
    part = np.arange(256) / 255
    table = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return table[levels]


def to_levels(light: np.ndarray) -> np.ndarray:
    """Linear light as levels of sRGB, the nearest of 256, uint8."""
    part = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return (part * 255 + 0.5).astype(np.uint8)
