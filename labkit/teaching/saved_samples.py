"""A crop saved as JPEG again and again, and a file with layers printed by its switches, made once for a
lesson's apps.

The child functions decode a stranger's file; what they make goes into a file, and no pixels come back.
"""

import json
from io import BytesIO
from itertools import product
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from labkit.files.header.picture import Picture
from labkit.files.look.address import address_of, data_address
from labkit.files.pixels.conversion import conversion
from labkit.files.pixels.decode import decode
from labkit.files.writing.strips import preview
from labkit.room.rules import Room
from labkit.teaching.samples import TILE, busiest

SAVES = (1, 2, 4, 8, 16, 32)
"""After how many times of saving a crop is looked at."""
QUALITIES = {"same": (85,), "other": (85, 95, 88, 92, 86, 90), "shifted": (85,)}
"""The qualities that take turns, by the way it is saved: none is ever below the first; "shifted" loses its
first row and column of pixels before each saving."""
SAVED = (
    "original",
    *(f"{way}, {count}{what}" for way in QUALITIES for count in SAVES for what in ("", ", lost")),
)
"""The crops of :func:`keep_saves`, from left to right."""
LAYERED = tuple(f"{dark}{notes}" for dark, notes in product((0, 1), repeat=2))
"""The prints of :func:`keep_layers`: whether the darker sky is switched on, and whether the notes are."""
_MARGIN = 60
"""Pixels round the crop that are saved with it: it is shifted by up to 32."""
_PRINT = 480
"""The longest side of a print of the layers, in pixels."""


def keep_saves(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`SAVED`, and by way and count how far the saved
    crop is off, as the root of the mean square, in levels of 255.

    LabError for a picture smaller than 320 × 320 pixels.
    """
    side = TILE + 2 * _MARGIN
    whole, _ = busiest(picture, room, (side, side))
    exact = _middle(whole, 0)
    tiles, off = [exact], {}
    for way in QUALITIES:
        off[way] = {}
        for count, saved in _saves(whole, way):
            less = saved.astype(float) - exact
            tiles += [saved, np.clip(128 + 4 * less, 0, 255).astype(np.uint8)]
            off[way][str(count)] = float(np.sqrt((less**2).mean()))
    made = BytesIO()
    Image.fromarray(np.hstack(tiles)).save(made, "WEBP", lossless=True, method=1)
    told = {"strip": data_address(made.getvalue(), "webp"), "off": off}
    kept.write_text(json.dumps(told), encoding="utf-8")


def _saves(whole: Image.Image, way: str):
    """The middle of it after each of so many :data:`SAVES`, uint8."""
    image, qualities, shift = whole, QUALITIES[way], 0
    for count in range(1, SAVES[-1] + 1):
        if way == "shifted":
            image, shift = image.crop((1, 1, *image.size)), count
        made = BytesIO()
        image.save(made, "JPEG", quality=qualities[(count - 1) % len(qualities)])
        image = Image.open(made).convert("RGB")
        if count in SAVES:
            yield count, _middle(image, shift)


def _middle(image: Image.Image, shift: int) -> np.ndarray:
    start = _MARGIN - shift
    return np.asarray(image)[start : start + TILE, start : start + TILE]


def keep_layers(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of :data:`LAYERED`, its shape, and what a file with the
    layers and a flat one take in bytes.

    The prints are made of a TIFF with three layers, a page each, that is written and read again.
    """
    rgb = np.asarray(preview(decode(picture), conversion(picture, room.colour), _PRINT))
    file = _layered(rgb)
    tiles = {name: _printed(file, *(sign == "1" for sign in name)) for name in LAYERED}
    flat = _tiff([tiles["10"]])
    strip = address_of(Image.fromarray(np.hstack(list(tiles.values()))), quality=88)
    told = {
        "strip": strip,
        "shape": rgb.shape[1::-1],
        "bytes": {"layers": len(file), "flat": len(flat)},
    }
    kept.write_text(json.dumps(told), encoding="utf-8")


def _layered(rgb: np.ndarray) -> bytes:
    """A TIFF of three pages with transparency: the picture, a darker sky, notes."""
    high, wide = rgb.shape[:2]
    whole = np.dstack([rgb, np.full((high, wide), 255, np.uint8)])
    sky = np.zeros((high, wide, 4), np.uint8)
    sky[..., 3] = np.clip(150 - np.arange(high) * 260 / high, 0, 255).astype(np.uint8)[:, None]
    return _tiff([whole, sky, np.asarray(_notes(wide, high))])


def _notes(wide: int, high: int) -> Image.Image:
    """Lines of thirds and a ring, as drawn while working."""
    notes, red = Image.new("RGBA", (wide, high)), (213, 40, 0, 255)
    draw = ImageDraw.Draw(notes)
    for third in (1, 2):
        across, down = wide * third // 3, high * third // 3
        draw.line((across, 0, across, high), red, 2)
        draw.line((0, down, wide, down), red, 2)
    draw.ellipse((wide * 0.55, high * 0.4, wide * 0.8, high * 0.75), outline=red, width=4)
    draw.text((wide * 0.06, high * 0.08), "less here?", red, font_size=max(14, wide // 14))
    return notes


def _tiff(pages: list[np.ndarray]) -> bytes:
    import tifffile

    made = BytesIO()
    with tifffile.TiffWriter(made, byteorder="<") as tiff:
        for page in pages:
            extra = ["unassalpha"] if page.shape[2] == 4 else None
            tiff.write(
                page, photometric="rgb", extrasamples=extra, compression="lzw", predictor=True,
                metadata=None, software=False,
            )  # fmt: skip
    return made.getvalue()


def _printed(file: bytes, dark: bool, notes: bool) -> np.ndarray:
    """What comes out of the layers with those switched on, uint8 RGB."""
    import tifffile

    with tifffile.TiffFile(BytesIO(file)) as tiff:
        pages = [Image.fromarray(page.asarray()) for page in tiff.pages]
    made = pages[0]
    for page, is_on in zip(pages[1:], (dark, notes), strict=True):
        made = Image.alpha_composite(made, page) if is_on else made
    return np.asarray(made.convert("RGB"))
