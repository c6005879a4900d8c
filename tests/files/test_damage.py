"""Rows that are fill and no picture: torn files are told, plain borders and dark grounds never."""

from io import BytesIO

import imagecodecs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from labkit.files.damage import lost_rows
from labkit.files.decode import Pixels
from tests.files import make

GREY, BLACK, WHITE = (128, 128, 128), (0, 0, 0), (255, 255, 255)


def photo(size=(320, 240), seed: int = 1) -> np.ndarray:
    """Slopes with noise, so that no two blocks are alike."""
    values = np.asarray(make.drawing(size)).astype(int)
    noise = np.random.default_rng(seed).normal(0, 6, values.shape)
    return np.clip(values + noise, 0, 255).astype(np.uint8)


def sheet(size=(400, 360), at=(30, 30), paper=WHITE) -> np.ndarray:
    """The photo on paper, clear of all its edges."""
    values = np.zeros((size[1], size[0], 3), np.uint8) + np.array(paper, np.uint8)
    picture = photo()
    values[at[1] : at[1] + 240, at[0] : at[0] + 320] = picture
    return values


def lost(values: np.ndarray, orientation: int = 1) -> int:
    return lost_rows(Pixels(np.ascontiguousarray(values), orientation))


def torn_jpeg(values: np.ndarray, share: float, **options) -> np.ndarray:
    """What the codec makes of a JPEG whose pixels were cut and ended: it fills up with grey."""
    made = BytesIO()
    Image.fromarray(values).save(made, "JPEG", quality=88, **options)
    data = made.getvalue()
    start = data.index(b"\xff\xda") + 14
    cut = data[: start + int((len(data) - start) * share)].rstrip(b"\xff")
    return imagecodecs.jpeg8_decode(cut + b"\xff\xd9")


def grey_rows(values: np.ndarray) -> int:
    """How many whole rows at the lower end are mid-grey."""
    is_grey = (np.abs(values.astype(int) - 128) <= 2).all(axis=(1, 2))
    return int(is_grey[::-1].argmin())


@pytest.mark.parametrize("share", [0.3, 0.52, 0.72, 0.9])
@pytest.mark.parametrize("options", [{}, {"subsampling": 0}, {"optimize": True}])
@pytest.mark.parametrize("whole", [photo(), sheet()], ids=["alone", "on a sheet"])
def test_a_jpeg_that_was_cut_and_ended(whole, options, share):
    """Lost are the whole grey rows, and the row of blocks in which it broke off (8 or 16 pixels high)."""
    torn = torn_jpeg(whole, share, **options)
    assert lost(whole) == 0
    found = lost(torn)
    assert grey_rows(torn) + 7 <= found <= grey_rows(torn) + 17


def test_a_cut_in_the_last_row_of_blocks():
    torn = torn_jpeg(photo(), 0.965)
    assert grey_rows(torn) == 0
    assert 0 < lost(torn) <= 16


@settings(max_examples=60, deadline=None)
@given(share=st.floats(0.3, 0.95))
def test_of_plain_bytes_the_rest_is_black(share):
    values = sheet()
    flat = values.reshape(-1)
    at = int(len(flat) * share)
    flat[at:] = 0
    across = at % (400 * 3) // 3
    rows = 360 - at // (400 * 3)
    # within sixteen pixels of an end of the row nothing is sure
    assert lost(values) == rows if 16 <= across < 400 - 30 else lost(values) in (0, rows)


def test_one_block_over_and_over():
    values = photo()
    block = values[:16, :16]
    values[160:] = np.tile(block, (5, 20, 1))
    values[144:160, 96:] = np.tile(block, (1, 14, 1))
    assert lost(values) == 96
    assert lost(values[:, ::-1]) == 0


def test_a_picture_repacked_after_the_loss():
    made = BytesIO()
    Image.fromarray(torn_jpeg(sheet(), 0.5)).save(made, "JPEG", quality=85)
    assert 100 < lost(imagecodecs.jpeg8_decode(made.getvalue())) < 250


def test_a_turned_picture_is_looked_at_as_it_is_stored():
    torn = torn_jpeg(photo(), 0.5)
    assert lost(torn, 6) == lost(torn) > 0


def test_grey_pictures_of_one_channel_and_deep_ones():
    torn = torn_jpeg(photo()[..., 0], 0.5)
    assert torn.ndim == 2
    assert lost(torn) > 50
    assert lost(torn_jpeg(photo(), 0.5).astype(np.uint16) * 257) > 50


# What is no loss


def under(values: np.ndarray, rows: int, colour) -> np.ndarray:
    below = np.zeros((rows, *values.shape[1:]), np.uint8) + np.array(colour, np.uint8)
    return np.concatenate([values, below])


@pytest.mark.parametrize("colour", [WHITE, BLACK, GREY, (250, 240, 230)])
@pytest.mark.parametrize("rows", [1, 8, 16, 37, 160])
def test_a_plain_lower_border_is_none(colour, rows):
    assert lost(under(photo(), rows, colour)) == 0
    assert lost(under(sheet(), rows, colour)) == 0
    assert lost(sheet((400, 300 + rows), paper=colour)) == 0


@pytest.mark.parametrize("colour", [WHITE, BLACK, GREY])
def test_a_flat_picture_is_none(colour):
    assert lost(np.zeros((200, 200, 3), np.uint8) + np.array(colour, np.uint8)) == 0


def test_a_photo_with_a_black_foot_is_none():
    values = photo().astype(int)
    fade = np.linspace(255, -200, 240)[:, None, None]
    assert lost(np.clip(values + np.minimum(fade - 100, 0), 0, 255).astype(np.uint8)) == 0


@pytest.mark.parametrize("angle", [0.05, 0.1, 0.3, 1, -0.1, -1])
@pytest.mark.parametrize("colour", [BLACK, GREY])
def test_a_picture_turned_a_little_on_black_or_grey_is_none(angle, colour):
    image = Image.fromarray(photo())
    for way in (Image.Resampling.NEAREST, Image.Resampling.BICUBIC):
        assert lost(np.asarray(image.rotate(angle, way, expand=True, fillcolor=colour))) == 0


def test_a_bar_with_a_sign_in_it_is_none():
    """The foot of a page: a bar of 24 rows, in it on the left something 16 high."""
    values = under(photo(), 24, GREY)
    values[244:260, 0:100] = (200, 30, 30)
    assert lost(values) == 0


def test_a_chequered_ground_is_none():
    squares = np.indices((240, 320)).sum(axis=0) // 8 % 2
    ground = np.where(
        np.indices((240, 320))[0] // 8 % 2 ^ np.indices((240, 320))[1] // 8 % 2, 255, 204
    )
    assert squares.any()
    values = np.repeat(ground[..., None], 3, axis=2).astype(np.uint8)
    values[40:200, 60:260] = photo((200, 160))
    assert lost(values) == 0


@given(st.integers(1, 70), st.integers(1, 70))
@settings(max_examples=40, deadline=None)
def test_a_picture_of_few_pixels_is_looked_at_without_harm(width, height):
    assert lost(np.full((height, width, 3), 128, np.uint8)) == 0
