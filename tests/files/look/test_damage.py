"""Rows that are no picture, and signs of damage: torn files are told, borders and dark grounds never."""

from io import BytesIO

import imagecodecs
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from labkit.files.look.damage import hole, lost_rows, sign_of_damage, steps_in_paper
from labkit.files.pixels.decode import Pixels
from tests.files import make
from tests.properties import examples

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


@pytest.mark.parametrize("share", [0.3, 0.9])
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


@examples(60)
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
@examples(40)
def test_a_picture_of_few_pixels_is_looked_at_without_harm(width, height):
    assert lost(np.full((height, width, 3), 128, np.uint8)) == 0


# A hole in the middle


@examples(60)
@given(start=st.floats(0.2, 0.7), rows=st.floats(2.2, 30))
def test_zeros_in_the_middle_of_plain_bytes(start, rows):
    values = sheet()
    flat, line = values.reshape(-1), 400 * 3
    at = int(len(flat) * start)
    end = at + int(rows * line)
    flat[at:end] = 0
    first, last = -(-at // line), end // line
    found = hole(Pixels(values, 1))
    is_whole_rows = at % line > line - 3 or (at % line == 0 and end % line < 3)
    assert found == (first, last - first) or (is_whole_rows and found is None)
    assert hole(Pixels(values, 6)) == found  # as it is stored


@pytest.mark.parametrize(
    "values",
    [
        photo(),
        sheet(),
        sheet(paper=BLACK),
        under(sheet(), 30, BLACK),
        np.concatenate([under(sheet(), 30, BLACK), sheet()]),  # a bar from edge to edge
        np.zeros((200, 200, 3), np.uint8),
    ],
)
def test_what_is_no_hole(values):
    assert hole(Pixels(np.ascontiguousarray(values), 1)) is None


def test_a_dark_frame_within_a_sheet_is_no_hole():
    values = sheet()
    values[100:140, :200] = 0  # black to the left edge of the sheet alone
    assert hole(Pixels(values, 1)) is None


# Signs of damage in a picture that was saved again


def saved_again(values: np.ndarray, quality: int) -> np.ndarray:
    made = BytesIO()
    Image.fromarray(values).save(made, "JPEG", quality=quality)
    return imagecodecs.jpeg8_decode(made.getvalue())


@pytest.mark.parametrize(("turns", "side"), list(enumerate(["bottom", "right", "top", "left"])))
@pytest.mark.parametrize("quality", [None, 75])
@pytest.mark.parametrize("share", [0.1, 0.8])
def test_grey_and_smears_are_signs(share, quality, turns, side):
    for fill in ("grey", "smear"):
        values, first = photo(), round(240 * (1 - share))
        values[first:] = 128 if fill == "grey" else values[first - 1]
        values = np.ascontiguousarray(np.rot90(values, turns))
        told = sign_of_damage(saved_again(values, quality) if quality else values)
        assert told["variant"] == ("grey-fill" if fill == "grey" else "line-repeated")
        assert told["side"] == side
        assert told["share"] == f"{share:.0%}" or quality


@pytest.mark.parametrize(
    "values",
    [
        photo(),
        np.full((200, 200, 3), 128, np.uint8),  # all grey
        np.tile(photo()[:1], (240, 1, 1)),  # stripes from top to bottom
        under(photo(), 60, WHITE),
        under(photo(), 60, BLACK),
        under(photo(), 60, (96, 96, 96)),
        under(photo(), 8, GREY),  # a thin grey rule
        np.pad(photo(), ((30, 30), (30, 30), (0, 0)), constant_values=128),  # a grey mount
    ],
)
def test_what_is_no_sign(values):
    assert sign_of_damage(values) is None


def with_a_changed_byte(values: np.ndarray) -> np.ndarray:
    """What a decoder makes of a JPEG with another number in the middle, as far as its paper goes."""
    torn = saved_again(values, 90).astype(int)
    torn[152:] = np.clip(torn[152:] - (0, 0, 2), 0, 255)
    torn[144:152, 200:] = np.clip(torn[144:152, 200:] - (0, 0, 2), 0, 255)
    return torn.astype(np.uint8)


def test_paper_that_turns_into_another_colour_at_a_row_of_blocks():
    assert steps_in_paper(Pixels(with_a_changed_byte(sheet()), 1))
    assert not steps_in_paper(Pixels(saved_again(sheet(), 90), 1))
    two_tones = sheet()
    two_tones[150:, :15] = two_tones[250:, -15:] = 250  # at rows apart
    assert not steps_in_paper(Pixels(two_tones, 1))
    assert not steps_in_paper(Pixels(photo(), 1))
    assert not steps_in_paper(Pixels(np.full((8, 8, 3), 255, np.uint8), 1))


def test_a_coloured_foot_is_no_step_in_the_paper():
    """White above and grey below, or a pale footer: so large a step is drawn."""
    for foot in (120, 225):
        values = sheet()
        values[312:] = foot
        assert not steps_in_paper(Pixels(saved_again(values, 95), 1))
