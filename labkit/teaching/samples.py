"""Samples made of a picture to look at closely: enlarged crops, and the block of a blind sheet.

The child functions decode a stranger's file; what they make goes into a file, and no pixels come back.
"""

import json
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.files.look.address import data_address
from labkit.files.pixels.conversion import Conversion, conversion
from labkit.files.pixels.decode import Pixels, decode
from labkit.room.rules import Room

TILE, TIMES = 200, 4
"""The side of a crop in pixels, and how many times it is reduced and enlarged again."""
FILTERS = {
    "nearest": Image.Resampling.NEAREST,
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
}
STRIP = ("original", *FILTERS, *(f"{name}, lost" for name in FILTERS))
"""The crops of the strip, from left to right."""

BLOCK, SAMPLE = (2250, 3000), (1080, 864)
"""A blind sheet's block, 7.5 × 10 in at 300 ppi, and each of its samples, in pixels."""
BLOCK_PPI = 300
_SAMPLES_AT = tuple((x, y) for y in (0, 1008, 2016) for x in (0, 1170))
_LETTER = 84


def enlarged(picture: Picture, room: Room, kept: Path) -> None:
    """In a guarded child: keep, as JSON, the strip of crops as a ``data:`` address, and what each lost.

    ``lost`` is the mean difference from the original, in levels of 255, by filter; ``detail`` the
    strength of the picture by fineness, for the original and for each filter: see :func:`_detail`.
    """
    crop = busiest(picture, room, (TILE, TILE))[0]
    small = crop.resize((TILE // TIMES, TILE // TIMES), Image.Resampling.LANCZOS)
    again = {name: small.resize(crop.size, way) for name, way in FILTERS.items()}
    exact = np.asarray(crop, float)
    off = {name: np.asarray(image, float) - exact for name, image in again.items()}
    tiles = [np.asarray(crop), *map(np.asarray, again.values()), *map(_grey, off.values())]
    made = BytesIO()
    Image.fromarray(np.hstack(tiles)).save(made, "PNG")
    told = {
        "strip": data_address(made.getvalue(), "png"),
        "lost": {name: float(np.abs(less).mean()) for name, less in off.items()},
        "detail": {
            name: _detail(np.asarray(image.convert("L"), float))
            for name, image in {"original": crop, **again}.items()
        },
    }
    kept.write_text(json.dumps(told), encoding="utf-8")


def blind_block(picture: Picture, room: Room, order: Sequence[int], kept: Path) -> None:
    """In a guarded child: keep, as a TIFF, six times the same crop, each at the ppi ``order`` gives it,
    labelled A to F.

    Each is reduced to its ppi and enlarged to the sheet's again, as a printer would do it.
    """
    crop, to_rgb = busiest(picture, room, SAMPLE)
    block = Image.new("RGB", BLOCK, "white")
    draw, type_ = ImageDraw.Draw(block), ImageFont.load_default(size=_LETTER)
    for letter, ppi, (left, top) in zip("ABCDEF", order, _SAMPLES_AT, strict=True):
        block.paste(at_ppi(crop, ppi), (left, top))
        draw.text((left, top + SAMPLE[1] + 12), letter, fill="black", font=type_)
    ppi = (BLOCK_PPI, BLOCK_PPI)
    block.save(kept, "TIFF", compression="tiff_lzw", dpi=ppi, icc_profile=to_rgb.profile)


def at_ppi(crop: Image.Image, ppi: int) -> Image.Image:
    """A crop of :data:`BLOCK_PPI` as it looks with fewer pixels per inch, in as many pixels as before."""
    if ppi == BLOCK_PPI:
        return crop
    size = tuple(max(1, round(side * ppi / BLOCK_PPI)) for side in crop.size)
    return crop.resize(size, Image.Resampling.LANCZOS).resize(crop.size, Image.Resampling.BICUBIC)


def busiest(picture: Picture, room: Room, size: tuple[int, int]) -> tuple[Image.Image, Conversion]:
    """The crop of ``size`` with the most fine detail among some that cover the picture, in RGB.

    LabError for a picture that is smaller.
    """
    if picture.pixels[0] < size[0] or picture.pixels[1] < size[1]:
        raise LabError(
            f"{picture.path.name} has {picture.pixels[0]} × {picture.pixels[1]} pixels, and this takes "
            f"{size[0]} × {size[1]}: choose a larger picture in 00-start-here."
        )
    to_rgb, pixels = conversion(picture, room.colour), decode(picture)
    spots = [(x, y) for x in _starts(pixels, size, 0) for y in _starts(pixels, size, 1)]
    crops = (_crop(pixels, to_rgb, spot, size) for spot in spots)
    return max(crops, key=_business), to_rgb


def _starts(pixels: Pixels, size: tuple[int, int], axis: int) -> list[int]:
    spare = pixels.shape[axis] - size[axis]
    count = min(8, spare // (size[axis] // 2) + 1)
    return sorted({spare * step // max(1, count - 1) for step in range(count)})


def _crop(pixels: Pixels, to_rgb: Conversion, spot, size) -> Image.Image:
    region = (*spot, spot[0] + size[0], spot[1] + size[1])
    return to_rgb.rgb(to_rgb.resizable(pixels.region(region)))


def _business(crop: Image.Image) -> float:
    """The mean step from one pixel to the next."""
    return float(np.abs(np.diff(np.asarray(crop.convert("L"), float))).mean())


def _grey(off: np.ndarray) -> np.ndarray:
    """Differences as a picture: middle grey where there is none, doubled elsewhere."""
    return np.clip(128 + 2 * off, 0, 255).astype(np.uint8)


def _detail(grey: np.ndarray) -> list[float]:
    """The mean strength of a square picture at each fineness, from one wave across it to half its
    pixels, in levels: rings of its spectrum."""
    waves = np.abs(np.fft.fft2(grey - grey.mean())) / grey.size
    across = np.fft.fftfreq(len(grey)) * len(grey)
    ring = np.hypot(across[:, None], across[None, :]).round().astype(int)
    sums = np.bincount(ring.ravel(), waves.ravel())
    counts = np.bincount(ring.ravel())
    return [float(each) for each in (sums / counts)[1 : len(grey) // 2 + 1]]
