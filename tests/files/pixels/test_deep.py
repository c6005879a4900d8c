"""Arrays of 16 bits a channel: upright, on white, resampled, reduced; against Pillow and by hand."""

from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from labkit.files.pixels import deep
from labkit.files.pixels.decode import Pixels

RANDOM = np.random.default_rng(6)


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("channels", [1, 3])
def test_a_part_is_upright_as_pillow_turns_it(orientation, channels):
    """Exif 2.3, tag 274; 8 bits, so that Pillow can turn the same."""
    values = RANDOM.integers(0, 256, (6, 9, channels), np.uint8)
    pixels = Pixels(values.squeeze(), orientation)
    width, height = pixels.shape
    region = (1, 2, width - 1, height)
    held = pixels.held(region)
    assert held.shape == (height - 2, width - 2, channels)
    assert np.array_equal(held.squeeze(), np.asarray(pixels.region(region)))


def test_what_pillow_holds_is_no_array():
    pixels = Pixels(Image.new("CMYK", (4, 4)), 1)
    assert (pixels.depth, pixels.held((0, 0, 2, 2))) == (8, None)


@pytest.mark.parametrize(("dtype", "depth"), [(np.uint8, 8), (np.uint16, 16), (">u2", 16)])
def test_the_depth_that_is_held(dtype, depth):
    assert Pixels(np.zeros((2, 2), dtype), 1).depth == depth


@pytest.mark.parametrize("dtype", ["u1", "<u2", ">u2"])
def test_8_and_16_bits_of_any_order_become_16(dtype):
    made = deep.to_16_bits(np.array([0, 1, 255], dtype))
    assert made.dtype == np.uint16
    assert made.tolist() == ([0, 257, 65535] if dtype == "u1" else [0, 1, 255])


def test_there_and_back_every_level_of_8_bits():
    levels = np.arange(256, dtype=np.uint8)
    assert np.array_equal(deep.to_8_bits(deep.to_16_bits(levels)), levels)


def test_alpha_is_laid_on_white_to_the_nearest_level():
    values = RANDOM.integers(0, 65536, (20, 20, 4), np.uint16)
    values[0, :3] = [(5, 6, 7, 0), (5, 6, 7, 65535), (0, 0, 0, 32768)]
    made = deep.on_white(values)
    assert made[0, :3].tolist() == [[65535] * 3, [5, 6, 7], [32767] * 3]
    *colours, alpha = values[3, 4].tolist()
    share = Fraction(alpha, 65535)
    wanted = [share * colour + (1 - share) * 65535 for colour in colours]
    assert all(
        abs(got - exact) <= Fraction(1, 2) for got, exact in zip(made[3, 4], wanted, strict=True)
    )


def test_what_has_no_alpha_is_left_alone():
    for channels in (1, 3):
        values = RANDOM.integers(0, 65536, (4, 4, channels), np.uint16)
        assert deep.on_white(values) is values


def lanczos(values: np.ndarray, size: int, left: float, right: float) -> np.ndarray:
    """A row resampled by the definition: sinc(x) sinc(x/3) within 3 of the middle, at the coarser scale."""
    step = (right - left) / size
    wide = max(1, step)
    middles = left + (np.arange(size) + 0.5) * step
    off = (np.arange(len(values)) + 0.5 - middles[:, None]) / wide
    weights = np.where(np.abs(off) < 3, np.sinc(off) * np.sinc(off / 3), 0)
    return weights @ values / weights.sum(1)


@pytest.mark.parametrize("size", [7, 29, 64])
def test_lanczos_by_its_definition_to_one_level_of_65536(size):
    row = RANDOM.integers(20000, 45000, 40).astype(np.uint16)
    values = np.tile(row[None, :, None], (3, 1, 1))
    made = deep.resized(values, (size, 3), (2.5, 0, 38.25, 3))
    assert np.abs(made[1, :, 0] - lanczos(row, size, 2.5, 38.25)).max() < 1


def test_what_shoots_over_stops_at_black_and_white():
    values = np.zeros((8, 40, 3), np.uint16)
    values[:, 20:] = 65535
    made = deep.resized(values, (100, 20), (0, 0, 40, 8))
    assert (made.dtype, made.shape) == (np.uint16, (20, 100, 3))
    assert (made.min(), made.max()) == (0, 65535)
    assert np.all(made[:, :40] < 20000)
    assert np.all(made[:, 60:] > 45000)
