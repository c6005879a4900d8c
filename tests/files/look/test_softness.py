"""Pictures of scikit-image, sharp as they come and soft once they are enlarged, however they are saved."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from skimage import data

from labkit.files.look.softness import LEAST, find_soft
from labkit.files.look.tiles import detailed_tiles
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

SHARP = (
    "coffee",
    "chelsea",
    "rocket",
    "brick",
    "grass",
    "gravel",
    "coins",
    "page",
)
FIRM = ("rocket", "brick", "grass", "gravel", "coins", "hubble_deep_field")
"""Whose coarse detail is strong enough to measure by once they are enlarged four times."""


def picture(name: str) -> Image.Image:
    return Image.fromarray(getattr(data, name)()).convert("RGB")


def enlarged(image: Image.Image, times: float, way=Image.Resampling.BICUBIC) -> Image.Image:
    return image.resize((round(image.width * times), round(image.height * times)), way)


def soft(image: Image.Image, quality: int | None = None) -> float:
    if quality:
        made = BytesIO()
        image.save(made, "JPEG", quality=quality)
        image = Image.open(made).convert("RGB")
    return find_soft(detailed_tiles(Pixels(np.asarray(image), 1), PixelBox(0, 0, *image.size)))


@pytest.mark.parametrize("name", SHARP)
@pytest.mark.parametrize("quality", [None, 60])
def test_a_sharp_picture_is_not_soft(name, quality):
    assert soft(picture(name), quality) == 0


@pytest.mark.parametrize("name", FIRM)
@pytest.mark.parametrize("quality", [None, 85])
def test_one_enlarged_four_times_is_soft_by_about_that(name, quality):
    """What a filter softens at the edge of what can be held is not all lost, so it is told a little low."""
    assert 2.4 <= soft(enlarged(picture(name), 4), quality) <= 4.2


@pytest.mark.parametrize("name", FIRM)
def test_a_greater_enlargement_is_told_as_greater(name):
    assert soft(enlarged(picture(name), 6)) > soft(
        enlarged(picture(name), 3, Image.Resampling.LANCZOS)
    )


def test_an_enlarged_one_made_small_again_is_sharp():
    assert soft(enlarged(enlarged(picture("rocket"), 4), 1 / 4, Image.Resampling.LANCZOS)) == 0


@pytest.mark.parametrize("size", [(1, 1), (LEAST - 1, 900), (LEAST, LEAST)])
@pytest.mark.parametrize("colour", ["white", "grey"])
def test_flat_and_small_pictures_are_never_soft(size, colour):
    assert soft(Image.new("RGB", size, colour)) == 0
