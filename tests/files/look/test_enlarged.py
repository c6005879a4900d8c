"""Whether a picture was enlarged: pictures of scikit-image, enlarged here and left alone.

How many are found of many more is measured by ``python -m tests.bench enlarged``.
"""

from io import BytesIO

import numpy as np
import pytest
import skimage.data
from PIL import Image, ImageFilter

from labkit.files.look import enlarged as module
from labkit.files.look.enlarged import LEAST, Enlarged, find_enlarged
from labkit.files.look.tiles import detailed_tiles
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox
from tests.files import make

FILTERS = ("NEAREST", "BILINEAR", "BICUBIC", "LANCZOS")


def photo(name: str = "coffee", side: int = 256) -> Image.Image:
    return Image.fromarray(getattr(skimage.data, name)()).convert("RGB").crop((0, 0, side, side))


def scaled(image: Image.Image, factor: float, filter_: str = "BICUBIC") -> Image.Image:
    size = tuple(round(side * factor) for side in image.size)
    return image.resize(size, Image.Resampling[filter_])


def as_jpeg(image: Image.Image, quality: int) -> Image.Image:
    held = BytesIO()
    image.save(held, "JPEG", quality=quality)
    return Image.open(held).convert("RGB")


def found(image: Image.Image) -> Enlarged | None:
    return find_enlarged(detailed_tiles(Pixels(np.asarray(image), 1), PixelBox(0, 0, *image.size)))


def strongest(image: Image.Image) -> float:
    """Where the line is that stands out most, in cycles a pixel."""
    box = PixelBox(0, 0, *image.size)
    tiles = detailed_tiles(Pixels(np.asarray(image), 1), box)
    lines = module._lines([module._direction(tiles), module._direction([t.T for t in tiles])])
    return float(module._CYCLES[lines.argmax()])


@pytest.mark.parametrize(
    ("factor", "cycles"),
    [(1.25, 1 / 5), (1.5, 1 / 3), (1.75, 3 / 7), (2, 1 / 2), (2.5, 2 / 5), (3, 1 / 3), (4, 1 / 4)],
)
def test_the_line_is_where_interpolation_puts_it(factor, cycles):
    """1/N cycles a pixel, and 1 - 1/N below two times: A. C. Gallagher, CRV 2005, and by arithmetic."""
    assert strongest(scaled(photo(side=300), factor)) == pytest.approx(cycles, abs=1 / 500)


def test_a_picture_known_to_have_every_pixel_doubled():
    """scikit-image's moon is 256 x 256 pixels, each of them four times."""
    moon = skimage.data.moon()
    assert (moon[::2] == moon[1::2]).all()
    assert (moon[:, ::2] == moon[:, 1::2]).all()
    assert found(Image.fromarray(moon).convert("RGB")) == Enlarged(2, "likely")


@pytest.mark.parametrize("filter_", FILTERS)
@pytest.mark.parametrize("factor", [2, 3, 4])
def test_an_enlarged_picture_is_found_with_its_factor(factor, filter_):
    told = found(scaled(photo(side=400 if factor == 2 else 256), factor, filter_))
    assert told.factor == pytest.approx(factor, rel=0.03)


@pytest.mark.parametrize("filter_", FILTERS)
def test_one_and_a_half_times_is_kept_apart_from_three(filter_):
    assert found(scaled(photo(side=512), 1.5, filter_)).factor == 1.5


@pytest.mark.parametrize("times", [2, 3, 4, 5, 6, 8])
def test_repeated_pixels_are_counted(times):
    few = np.asarray(photo("coffee", 128))
    assert found(Image.fromarray(few.repeat(times, 0).repeat(times, 1))).factor == times


def test_every_fourth_pixel_repeated_is_not_taken_for_five_times():
    """The trace of 1.25 is that of 5: what tells them apart is how many columns repeat."""
    assert found(scaled(photo(side=400), 1.25, "NEAREST")).factor == 1.25


def test_what_is_enlarged_and_then_saved_as_a_good_jpeg_is_found_too():
    assert found(as_jpeg(scaled(photo("chelsea"), 2), 95)).factor == 2


@pytest.mark.parametrize("name", ["rocket", "chelsea", "coffee", "brick", "gravel", "page"])
def test_pictures_as_they_are(name):
    assert found(photo(name, 500)) is None


@pytest.mark.parametrize(
    "change",
    [
        lambda image: scaled(image, 0.5, "LANCZOS"),
        lambda image: scaled(image, 0.75, "BICUBIC"),
        lambda image: as_jpeg(image, 60),
        lambda image: as_jpeg(image, 85).crop((3, 5, 512, 512)),
        lambda image: scaled(as_jpeg(image, 60), 0.75),
        lambda image: image.filter(ImageFilter.GaussianBlur(2)),
        lambda image: as_jpeg(image.filter(ImageFilter.GaussianBlur(1)), 85),
        lambda image: as_jpeg(image.filter(ImageFilter.GaussianBlur(2)), 60),
    ],
)
@pytest.mark.parametrize("name", ["brick", "immunohistochemistry"])
def test_what_has_been_done_to_a_picture_is_not_taken_for_enlarging(name, change):
    assert found(change(photo(name, 512))) is None


def test_a_picture_stretched_in_one_direction_alone_is_not_called_enlarged():
    image = photo()
    assert found(image.resize((512, 256), Image.Resampling.BICUBIC)) is None
    assert found(image.resize((256, 512), Image.Resampling.BICUBIC)) is None


def filled_in(image: Image.Image) -> Image.Image:
    """As a camera has it: red and green, green and blue by turns, and the mean of the neighbours between."""
    values = np.asarray(image).astype(float)
    seen = np.zeros_like(values)
    seen[0::2, 0::2, 0] = seen[0::2, 1::2, 1] = seen[1::2, 0::2, 1] = seen[1::2, 1::2, 2] = 1
    sums = np.pad([values * seen, seen], ((0, 0), (1, 1), (1, 1), (0, 0)))
    sums = sums[:, :-2] + 2 * sums[:, 1:-1] + sums[:, 2:]
    sums = sums[:, :, :-2] + 2 * sums[:, :, 1:-1] + sums[:, :, 2:]
    return Image.fromarray((sums[0] / sums[1]).round().astype(np.uint8))


@pytest.mark.parametrize("name", ["grass", "gravel"])
def test_a_camera_that_fills_in_two_colours_of_three(name):
    """The mean of the neighbours is what enlarging twice would give, but not in every colour alike."""
    assert found(filled_in(photo(name, 512))) is None
    assert found(as_jpeg(filled_in(photo(name, 512)), 95)) is None


ACROSS, DOWN = np.meshgrid(np.arange(480), np.arange(360))


@pytest.mark.parametrize(
    "drawn",
    [
        np.full((360, 480), 255),
        np.zeros((360, 480)),
        ACROSS // 3 + DOWN // 3,
        np.where((ACROSS % 5 == 0) | (DOWN % 5 == 0), 60, 250),
        (ACROSS // 6 + DOWN // 6) % 2 * 200 + 20,
        128 + 100 * np.sin(ACROSS * 2 * np.pi / 5) * np.sin(DOWN * 2 * np.pi / 5),
        np.random.default_rng(1).integers(0, 256, (360, 480)),
    ],
    ids=["white", "black", "slopes", "graph paper", "squares", "dots", "noise"],
)
def test_what_no_photograph_is_in(drawn):
    assert found(Image.fromarray(drawn.astype(np.uint8)).convert("RGB")) is None


@pytest.mark.parametrize("size", [(640, 480), (600, 450), (400, 300)])
def test_slopes_whose_bands_are_equally_wide_both_ways(size):
    assert found(make.drawing(size)) is None


def on_sheet(image: Image.Image, left: int, top: int) -> tuple[Pixels, PixelBox]:
    sheet = Image.new("RGB", (image.width + 2 * left, image.height + 2 * top), "white")
    sheet.paste(image, (left, top))
    return Pixels(np.asarray(sheet), 1), PixelBox(left, top, *image.size)


@pytest.mark.parametrize("corner", [(0, 0), (7, 11), (101, 53)])
def test_it_does_not_matter_where_on_the_sheet_the_picture_sits(corner):
    assert find_enlarged(detailed_tiles(*on_sheet(scaled(photo(), 2), *corner))).factor == 2
    assert find_enlarged(detailed_tiles(*on_sheet(photo(), *corner))) is None


def test_a_picture_that_starts_within_a_pixel_of_the_smaller_one():
    assert found(scaled(photo(), 3).crop((1, 2, 700, 701))).factor == 3


def test_the_smallest_picture_of_which_anything_is_told():
    doubled = scaled(photo("grass"), 2)
    assert found(doubled.crop((0, 0, LEAST, LEAST))).factor == 2
    assert found(doubled.crop((0, 0, LEAST - 1, 500))) is None
    assert found(doubled.crop((0, 0, 500, LEAST - 1))) is None
    assert found(doubled.crop((0, 0, 500, LEAST))).factor == 2


def test_a_large_picture_is_measured_where_it_has_detail():
    large = Image.new("RGB", (1536, 1536), (250, 250, 250))
    large.paste(scaled(photo(), 2), (1024, 0))
    assert found(large).factor == 2


@pytest.mark.parametrize("mode", ["L", "RGBA"])
def test_any_mode_and_any_turn(mode):
    """Orientation 6: what is stored lies on its left side."""
    stored = scaled(photo(), 2).crop((0, 0, 512, 400)).convert(mode)
    told = find_enlarged(detailed_tiles(Pixels(stored, 6), PixelBox(0, 0, 400, 512)))
    assert told.factor == 2


def test_sixteen_bits():
    values = np.asarray(scaled(photo(), 2)).astype(np.uint16) * 257
    assert find_enlarged(detailed_tiles(Pixels(values, 1), PixelBox(0, 0, 512, 512))).factor == 2


def test_a_weak_trace_is_told_as_perhaps():
    noise = np.random.default_rng(1).normal(0, 2, (512, 512, 3))
    values = np.asarray(scaled(photo(), 2)) + noise
    told = found(Image.fromarray(np.clip(values, 0, 255).astype(np.uint8)))
    assert told == Enlarged(2, "perhaps")
