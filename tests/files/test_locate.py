"""Where the picture sits on a sheet, and whether it is the right one."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from labkit.files import locate as module
from labkit.files.decode import Pixels
from labkit.files.locate import DIFFERENCE, SPECK, locate, unlike
from labkit.geometry.proportion import WHOLE, Crop
from labkit.geometry.raster import PixelBox
from tests.files import make

SHEET = (120, 90)


def sheet_with(box: PixelBox, ink=(60, 90, 30), surround=(255, 255, 255), size=SHEET) -> Pixels:
    """A sheet of one colour with a box of another on it."""
    values = np.empty((size[1], size[0], 3), np.uint8)
    values[:] = surround
    values[box.top : box.bottom, box.left : box.right] = ink
    return Pixels(values, 1)


BOX = PixelBox(20, 15, 60, 40)


@given(
    left=st.integers(1, 50),
    top=st.integers(1, 40),
    width=st.integers(SPECK + 1, 60),
    height=st.integers(SPECK + 1, 45),
    level=st.integers(0, 255 - DIFFERENCE - 1),
)
@settings(max_examples=60, deadline=None)
def test_any_box_is_found_to_the_pixel(left, top, width, height, level):
    box = PixelBox(left, top, width, height)
    found = locate(sheet_with(box, (level, 255, 255)))
    assert found.box == box
    assert found.surround == (255, 255, 255)
    assert found.light_edges == ()


@given(top=st.integers(1, 30), height=st.integers(4, 50), band=st.integers(1, 40))
@settings(max_examples=40, deadline=None)
def test_it_does_not_matter_where_a_band_ends(top, height, band):
    box = PixelBox(20, top, 30, height)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "_BAND", band)
        assert locate(sheet_with(box)).box == box


def test_a_picture_over_the_whole_sheet_is_its_own_surround():
    found = locate(sheet_with(PixelBox(0, 0, *SHEET)))
    assert (found.box, found.surround) == (None, (60, 90, 30))


@pytest.mark.parametrize("surround", [(255, 255, 255), (244, 244, 240), (0, 0, 0)])
def test_the_surround_is_whatever_lies_along_the_edges(surround):
    found = locate(sheet_with(BOX, (120, 200, 90), surround))
    assert (found.box, found.surround) == (BOX, surround)


def test_a_picture_that_touches_two_edges_does_not_hide_the_surround():
    box = PixelBox(0, 0, 55, 40)
    found = locate(sheet_with(box))
    assert (found.box, found.surround) == (box, (255, 255, 255))


@pytest.mark.parametrize(("level", "found"), [(255 - DIFFERENCE, None), (254 - DIFFERENCE, BOX)])
def test_ink_differs_by_more_than_the_noise_of_a_jpeg(level, found):
    assert locate(sheet_with(BOX, (level, level, level))).box == found


def test_a_difference_in_one_channel_is_ink():
    for channel in range(3):
        ink = [255, 255, 255]
        ink[channel] = 200
        assert locate(sheet_with(BOX, tuple(ink))).box == BOX


def test_an_empty_sheet_has_no_picture():
    found = locate(sheet_with(PixelBox(0, 0, 0, 0)))
    assert (found.box, found.light_edges) == (None, ())


def test_specks_are_no_picture():
    sheet = sheet_with(BOX)
    values = sheet.levels((0, 0, *SHEET)).copy()
    values[3, 3 : 3 + SPECK] = 0
    values[80 : 80 + SPECK, 110] = 0
    assert locate(Pixels(values, 1)).box == BOX
    values[85, 100 : 100 + SPECK + 1] = 0
    assert locate(Pixels(values, 1)).box != BOX


def test_marks_are_left_out_with_the_pixel_round_them_that_rounding_may_add():
    marks = [PixelBox(2, 5, 12, 1), PixelBox(105, 70, 1, 12)]
    values = sheet_with(BOX).levels((0, 0, *SHEET)).copy()
    for mark in marks:
        values[mark.top - 1 : mark.bottom + 1, mark.left - 1 : mark.right + 1] = 0
    assert locate(Pixels(values, 1), marks).box == BOX
    assert locate(Pixels(values, 1)).box == PixelBox(20, 4, 87, 51)


def test_marks_in_a_later_band_are_left_out_too(monkeypatch):
    monkeypatch.setattr(module, "_BAND", 16)
    mark = PixelBox(2, 60, 1, 25)
    values = sheet_with(BOX).levels((0, 0, *SHEET)).copy()
    values[mark.top : mark.bottom, mark.left] = 0
    assert locate(Pixels(values, 1), [mark]).box == BOX


@pytest.mark.parametrize("side", ["left", "top", "right", "bottom"])
def test_an_edge_nearly_as_light_as_the_paper_is_named(side):
    values = sheet_with(BOX).levels((0, 0, *SHEET)).copy()
    lines = {
        "left": (slice(BOX.top + 10, BOX.bottom), BOX.left),
        "top": (BOX.top, slice(BOX.left + 10, BOX.right)),
        "right": (slice(BOX.top + 10, BOX.bottom), BOX.right - 1),
        "bottom": (BOX.bottom - 1, slice(BOX.left + 10, BOX.right)),
    }
    values[lines[side]] = 250
    found = locate(Pixels(values, 1))
    assert (found.box, found.light_edges) == (BOX, (side,))


def test_a_sheet_that_is_to_be_turned_is_read_upright():
    """Orientation 6: what is stored lies on its left side."""
    upright = sheet_with(BOX).levels((0, 0, *SHEET))
    assert locate(Pixels(np.ascontiguousarray(np.rot90(upright)), 6)).box == BOX


@pytest.mark.parametrize("mode", ["L", "RGBA", "P"])
def test_any_mode_can_be_looked_at(mode):
    image = Image.fromarray(sheet_with(BOX, (60, 60, 60)).levels((0, 0, *SHEET))).convert(mode)
    assert locate(Pixels(image, 1)).box == BOX


# Whether it is the right picture


PICTURE = Pixels(np.asarray(make.drawing()), 1)


def on_sheet(image: Image.Image, box: PixelBox = BOX) -> Pixels:
    sheet = Image.new("RGB", SHEET, "white")
    sheet.paste(image.convert("RGB").resize((box.width, box.height)), (box.left, box.top))
    return Pixels(np.asarray(sheet), 1)


def test_the_right_picture_has_nothing_unlike():
    assert unlike(on_sheet(make.drawing()), BOX, PICTURE, WHOLE) == ""


@pytest.mark.parametrize("size", [(30, 20), (90, 60), (60, 41), (5, 4)])
def test_its_size_does_not_matter(size):
    box = PixelBox(10, 10, *size)
    assert unlike(on_sheet(make.drawing(), box), box, PICTURE, WHOLE) == ""


FLIP = Image.Transpose


@pytest.mark.parametrize(
    ("how", "told"),
    [
        (FLIP.FLIP_LEFT_RIGHT, "it is mirrored"),
        (FLIP.ROTATE_180, "it is upside down"),
        (FLIP.FLIP_TOP_BOTTOM, "it is flipped top to bottom"),
        (FLIP.ROTATE_90, "it is another one"),
    ],
)
def test_a_picture_the_wrong_way_round(how, told):
    assert unlike(on_sheet(make.drawing().transpose(how)), BOX, PICTURE, WHOLE) == told


def test_another_picture():
    other = Image.new("RGB", make.SIZE, (30, 160, 40))
    assert unlike(on_sheet(other), BOX, PICTURE, WHOLE) == "it is another one"


def test_a_picture_like_its_mirror_image_is_the_right_one():
    even = Image.new("RGB", (60, 40), (200, 40, 40))
    assert unlike(on_sheet(even), BOX, Pixels(np.asarray(even), 1), WHOLE) == ""


def test_only_the_part_that_was_asked_for_is_compared():
    half = Fraction(1, 2)
    crop = Crop(half, half, half, half)
    part = make.drawing().crop((30, 20, 60, 40))
    assert unlike(on_sheet(part), BOX, PICTURE, crop) == ""
    assert unlike(on_sheet(part), BOX, PICTURE, WHOLE) == "it is another one"


def test_averages_are_those_of_the_areas():
    """Rows of a whole number of pixels each, so the mean of an array says what is right."""
    pixels = Pixels(np.random.default_rng(1).integers(0, 256, (48, 24, 3)).astype(np.uint8), 1)
    values = pixels.levels((0, 0, 24, 48)).reshape(12, 4, 12, 2, 3).mean((1, 3))
    assert np.abs(module.patches(pixels, (0, 0, 24, 48)) - values).max() <= 1
