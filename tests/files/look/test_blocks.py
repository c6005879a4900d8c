"""Blocks of a JPEG packed hard, on pictures of scikit-image: seen in what it was saved as since."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from skimage import data

from labkit.files.look.blocks import shows_blocks
from labkit.files.look.tiles import detailed_tiles
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

PICTURES = ("coffee", "chelsea", "rocket", "brick", "gravel")


def picture(name: str) -> np.ndarray:
    values = getattr(data, name)()
    return values if values.ndim == 3 else np.dstack([values] * 3)


def packed(values: np.ndarray, quality: int) -> np.ndarray:
    made = BytesIO()
    Image.fromarray(values).save(made, "JPEG", quality=quality)
    return np.asarray(Image.open(made).convert("RGB"))


def on_a_sheet(values: np.ndarray, left: int = 37, top: int = 61) -> tuple[Pixels, PixelBox]:
    """On white, with no seam where it would be if the sheet had been packed."""
    high, wide = values.shape[:2]
    sheet = np.full((high + 200, wide + 200, 3), 255, np.uint8)
    sheet[top : top + high, left : left + wide] = values
    return Pixels(sheet, 1), PixelBox(left, top, wide, high)


@pytest.mark.parametrize("name", PICTURES)
def test_blocks_of_hard_packing_are_seen(name):
    assert shows_blocks(detailed_tiles(*on_a_sheet(packed(picture(name), 10))))
    large = Image.fromarray(picture(name)).resize((1024, 1024), Image.Resampling.BICUBIC)
    assert shows_blocks(detailed_tiles(*on_a_sheet(packed(np.asarray(large), 20))))


@pytest.mark.parametrize(
    "name", [*PICTURES, "grass", "immunohistochemistry", "retina", "page", "coins"]
)
def test_a_picture_as_it_came_shows_none(name):
    assert not shows_blocks(detailed_tiles(*on_a_sheet(picture(name))))


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("quality", [80, 90, 95])
def test_nor_does_one_packed_with_care(name, quality):
    assert not shows_blocks(detailed_tiles(*on_a_sheet(packed(picture(name), quality))))


def test_they_are_gone_once_it_was_made_smaller():
    small = Image.fromarray(packed(picture("coffee"), 20)).resize(
        (300, 300), Image.Resampling.LANCZOS
    )
    assert not shows_blocks(detailed_tiles(*on_a_sheet(np.asarray(small))))


@pytest.mark.parametrize("size", [(1, 1), (40, 300), (64, 64)])
def test_flat_and_small_pictures_are_looked_at_without_harm(size):
    values = np.full((size[1], size[0], 3), 128, np.uint8)
    assert not shows_blocks(detailed_tiles(*on_a_sheet(values)))
