"""Where in a picture a crop comes from, whatever was done to it on the way."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.look.cropped import STRETCHED, find_crop
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.proportion import WHOLE, Crop
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.properties import a_few, examples

WITHIN = 0.005
DRAWING = make.drawing().resize((900, 600))
WHICH = ("drawing", "harbour", "clock")


@pytest.fixture(scope="module")
def images():
    ours = [Image.open(demo.file).convert("RGB").reduce(3) for demo in demo_pictures()]
    return {"drawing": DRAWING, "harbour": ours[0], "clock": ours[1]}


def pixels(image: Image.Image) -> Pixels:
    return Pixels(np.asarray(image.convert("RGB")), 1)


def sheet_with(part: Image.Image, size=(160, 200)) -> tuple[Pixels, PixelBox]:
    """A sheet with a part of a picture on it, scaled to a box."""
    sheet = Image.new("RGB", (400, 300), "white")
    sheet.paste(part.convert("RGB").resize(size), (70, 40))
    return pixels(sheet), PixelBox(70, 40, *size)


def crop_of(image: Image.Image, shape: float, size: float, left: float, top: float):
    """A part of that shape, ``size`` of the largest; left and top as shares of what is spare."""
    wide = min(image.width, image.height * shape) * size
    high = wide / shape
    x, y = (image.width - wide) * left, (image.height - high) * top
    box = tuple(round(side) for side in (x, y, x + wide, y + high))
    shares = (x / image.width, y / image.height, wide / image.width, high / image.height)
    return image.crop(box), shares


@pytest.mark.parametrize("name", WHICH)
@pytest.mark.parametrize("size", [1, 0.5])
@pytest.mark.parametrize("place", a_few([(0.3, 0.6), (0, 0), (1, 1)]))
def test_any_crop_is_found_again(images, name, size, place):
    part, shares = crop_of(images[name], 4 / 5, size, *place)
    crop, unlike = find_crop(*sheet_with(part), pixels(images[name]))
    assert unlike == ""
    found = [float(side) for side in (crop.left, crop.top, crop.width, crop.height)]
    assert found == pytest.approx(shares, abs=WITHIN)


@given(st.floats(0.5, 1), st.floats(0, 1), st.floats(0, 1))
@examples(8)
def test_it_stays_inside_the_picture_and_of_the_boxs_shape(size, left, top):
    part, _ = crop_of(DRAWING, 4 / 5, size, left, top)
    crop, _ = find_crop(*sheet_with(part), pixels(DRAWING))
    assert 0 <= crop.left <= crop.left + crop.width <= 1 + Fraction(1, 10**9)
    assert 0 <= crop.top <= crop.top + crop.height <= 1 + Fraction(1, 10**9)
    assert float(crop.width * 900 / (crop.height * 600)) == pytest.approx(4 / 5)


def test_the_whole_picture_is_a_crop_too():
    crop, unlike = find_crop(*sheet_with(DRAWING, (180, 120)), pixels(DRAWING))
    assert unlike == ""
    assert float(crop.lost) == pytest.approx(0, abs=2 * WITHIN)


def test_a_crop_that_was_made_darker_or_smeared_is_still_found(images):
    part, shares = crop_of(images["harbour"], 4 / 5, 1, 0.3, 0)
    darker = part.resize((40, 50)).point(lambda level: level * 0.95)
    crop, unlike = find_crop(*sheet_with(darker), pixels(images["harbour"]))
    assert unlike == ""
    assert float(crop.left) == pytest.approx(shares[0], abs=0.02)


@pytest.mark.parametrize("name", WHICH)
def test_a_squeezed_picture_is_stretched(images, name):
    upright = images[name].width > images[name].height
    size = (160, 200) if upright else (200, 160)
    assert find_crop(*sheet_with(images[name], size), pixels(images[name])) == (WHOLE, STRETCHED)


FLIP = Image.Transpose


@pytest.mark.parametrize("name", ["drawing", "clock"])
@pytest.mark.parametrize(
    ("how", "told"),
    [
        (FLIP.FLIP_LEFT_RIGHT, "mirrored"),
        (FLIP.ROTATE_180, "upside-down"),
        (FLIP.FLIP_TOP_BOTTOM, "flipped"),
    ],
)
def test_a_crop_the_wrong_way_round(images, name, how, told):
    part, _ = crop_of(images[name], 4 / 5, 1, 0.3, 0.3)
    assert find_crop(*sheet_with(part.transpose(how)), pixels(images[name]))[1] == told


@pytest.mark.parametrize(("on_it", "asked"), [("harbour", "clock"), ("clock", "harbour")])
def test_another_picture(images, on_it, asked):
    part, _ = crop_of(images[on_it], 4 / 5, 1, 0.3, 0.3)
    assert find_crop(*sheet_with(part), pixels(images[asked]))[1] == "other"


def test_a_plain_tint_is_another_picture(images):
    grey = Image.new("RGB", (80, 100), (120, 120, 120))
    assert find_crop(*sheet_with(grey), pixels(images["harbour"]))[1] == "other"


def test_a_few_pixels_are_enough_to_look():
    small = make.drawing()
    part = small.crop((20, 0, 50, 38))
    crop, unlike = find_crop(*sheet_with(part, (30, 38)), pixels(small))
    assert unlike == ""
    assert isinstance(crop, Crop)
