"""Sizes and times of lossless packing. What is timed is not asserted, only that it is there."""

import io

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.teaching.packed import MEASURED, WAYS, _reduced, measure
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.files.sheets import shipped

PLAIN, LZW, LZW_DIFFERENCED, DEFLATE, _ = WAYS


@pytest.fixture(scope="module")
def photo(tmp_path_factory):
    """A part of our harbour, pixel for pixel."""
    file = tmp_path_factory.mktemp("photo") / "part.png"
    with Image.open(demo_pictures()[0].file) as opened:
        opened.crop((1500, 1200, 1900, 1500)).save(file)
    return read_picture(file)


def sizes(picture, depth=8, white=0) -> dict[str, int]:
    measured = measure(picture, shipped(), depth, white)
    for each in measured["ways"].values():
        assert each["to_pack"] >= 0
        assert each["to_open"] >= 0
    return {name: each["bytes"] for name, each in measured["ways"].items()}


def test_not_packed_it_takes_every_byte(photo):
    assert measure(photo, shipped(), 8, 0)["pixels"] == (300, 225)
    assert sizes(photo)[PLAIN] == 300 * 225 * 3
    assert sizes(photo, 16)[PLAIN] == 300 * 225 * 3 * 2


def test_on_a_photo_the_order_is_the_one_that_the_lesson_tells(photo):
    found = sizes(photo)
    assert found[LZW_DIFFERENCED] < found[DEFLATE] < found[LZW] < found[PLAIN]


def test_16_bits_hold_more_than_8_and_plain_lzw_makes_them_larger(photo):
    deep = _reduced(photo, shipped(), 16)
    assert len(np.unique(deep)) > 256
    found = sizes(photo, 16)
    assert found[LZW] > found[PLAIN]
    assert found[LZW_DIFFERENCED] < found[PLAIN]


def test_white_takes_its_whole_size_unpacked_and_next_to_nothing_packed(photo):
    without, with_white = sizes(photo), sizes(photo, white=75)
    assert with_white[PLAIN] == pytest.approx(4 * without[PLAIN], rel=0.01)
    assert with_white[LZW_DIFFERENCED] < 1.15 * without[LZW_DIFFERENCED]


@pytest.mark.parametrize("depth", [8, 16])
def test_another_writer_comes_to_like_sizes(photo, depth):
    """tifffile 2026.3.3 with imagecodecs writes the same strips with the same predictor."""
    rgb, found = _reduced(photo, shipped(), depth), sizes(photo, depth)
    for name, compression in ((LZW_DIFFERENCED, "lzw"), (PLAIN, None)):
        made = io.BytesIO()
        tifffile.imwrite(
            made, rgb, photometric="rgb", compression=compression, predictor=bool(compression),
            rowsperstrip=64, metadata=None,
        )  # fmt: skip
        assert len(made.getvalue()) == pytest.approx(found[name], rel=0.02)


def test_large_pictures_are_measured_in_part_and_small_ones_whole(tmp_path):
    large = read_picture(make.picture(tmp_path / "large.png", size=(1400, 900)))
    assert measure(large, shipped(), 8, 0)["pixels"] == MEASURED
    small = read_picture(make.picture(tmp_path / "small.png", size=(1, 2)))
    assert measure(small, shipped(), 8, 0)["pixels"] == (1, 2)
