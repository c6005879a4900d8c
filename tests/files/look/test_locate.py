"""Where the picture sits on a sheet, and whether it is the right one."""

import io
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw, ImageFilter

from labkit.files.look.ink import CELL, DIFFERENCE, SPECK
from labkit.files.look.locate import MOST_STRAYS, locate, patches, unlike
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.proportion import WHOLE, Crop
from tests.files import make
from tests.properties import examples

SHEET = (320, 260)
BOX = PixelBox(70, 60, 180, 130)
WHITE = (255, 255, 255)
OFF_WHITE = (244, 242, 236)
DARK = (30, 31, 40)


def sheet_with(box: PixelBox, ink=(60, 90, 30), surround=WHITE, size=SHEET) -> np.ndarray:
    """A sheet of one colour with a box of another on it."""
    values = np.empty((size[1], size[0], 3), np.uint8)
    values[:] = surround
    values[box.top : box.bottom, box.left : box.right] = ink
    return values


def textured(box: PixelBox, seed: int = 0, surround=WHITE, size=SHEET) -> np.ndarray:
    """A sheet with a picture that has something of a photograph's detail."""
    noise = np.random.default_rng(seed).integers(
        20, 180, (box.height // 8 + 1, box.width // 8 + 1, 3)
    )
    picture = Image.fromarray(noise.astype(np.uint8)).resize((box.width, box.height))
    return sheet_with(box, np.asarray(picture), surround, size)


def found_on(values: np.ndarray, marks=()):
    return locate(Pixels(values, 1), marks)


def as_jpeg(values: np.ndarray, quality: int = 85) -> np.ndarray:
    """Saved by Pillow with halved colour, as it does by default, and opened again."""
    made = io.BytesIO()
    Image.fromarray(values).save(made, "JPEG", quality=quality)
    return np.asarray(Image.open(made))


def as_scan(values: np.ndarray, noise: float = 2, slope: float = 4) -> np.ndarray:
    """Blurred, grainy, and lighter on one side: what a scanner makes of it."""
    blurred = np.asarray(Image.fromarray(values).filter(ImageFilter.GaussianBlur(0.7)), float)
    grain = np.random.default_rng(5).normal(0, noise, values.shape)
    light = np.linspace(-slope, slope, values.shape[1])[:, np.newaxis]
    return np.clip(blurred * 0.94 + grain + light, 0, 255).round().astype(np.uint8)


def farthest(box: PixelBox, other: PixelBox) -> int:
    """By how many pixels the worst of the four sides is off."""
    return max(abs(getattr(box, s) - getattr(other, s)) for s in ("left", "top", "right", "bottom"))


# Exactly, on a surround of one colour


@st.composite
def boxes(draw) -> PixelBox:
    """Anywhere on the sheet, at its edges too, but not over all of it."""
    left, top = draw(st.integers(0, SHEET[0] - 5)), draw(st.integers(0, SHEET[1] - 5))
    width = draw(st.integers(4, SHEET[0] - left))
    height = draw(st.integers(4, SHEET[1] - top))
    return PixelBox(left, top, min(width, SHEET[0] - 1), min(height, SHEET[1] - 1))


@given(
    box=boxes(),
    surround=st.tuples(*3 * [st.integers(0, 255)]),
    channel=st.integers(0, 2),
    seed=st.integers(0, 99),
)
@examples(150)
def test_a_picture_whose_edge_is_one_level_off_is_found_to_the_pixel(box, surround, channel, seed):
    """Its edge differs by one level in one channel; within, it is of any levels, the surround's too."""
    rng = np.random.default_rng(seed)
    ink = rng.integers(0, 256, (box.height, box.width, 3), np.uint8)
    ink[rng.random(ink.shape[:2]) < 0.2] = surround
    edge = list(surround)
    edge[channel] += 1 if surround[channel] < 255 else -1
    ink[[0, -1], :] = edge
    ink[:, [0, -1]] = edge
    found = found_on(sheet_with(box, ink, surround))
    assert (found.box, found.surround, found.is_flat) == (box, surround, True)
    assert (found.strays, found.cut) == ((), None)


@given(box=boxes(), seed=st.integers(0, 99))
@examples(60)
def test_one_pixel_in_each_line_of_its_edge_is_enough(box, seed):
    """The rest of its edge is as white as the paper, but all within differs."""
    rng = np.random.default_rng(seed)
    ink = np.full((box.height, box.width, 3), 255, np.uint8)
    ink[1:-1, 1:-1] = 254
    ink[[0, -1], rng.integers(1, box.width - 1)] = 254
    ink[rng.integers(1, box.height - 1), [0, -1]] = 254
    reached = (box.left, box.top, SHEET[0] - box.right, SHEET[1] - box.bottom).count(0)
    if reached < 2:
        assert found_on(sheet_with(box, ink)).box == box


@pytest.mark.parametrize("surround", [WHITE, OFF_WHITE, DARK, (0, 0, 0), (180, 200, 90)])
def test_the_surround_is_whatever_lies_along_the_edges(surround):
    found = found_on(sheet_with(BOX, (120, 20, 90), surround))
    assert (found.box, found.surround, found.is_flat) == (BOX, surround, True)
    assert found.light_edges == ()


def test_an_empty_sheet_has_no_picture():
    for surround in (WHITE, DARK):
        found = found_on(sheet_with(PixelBox(0, 0, 0, 0), surround=surround))
        assert (found.box, found.surround, found.light_edges) == (None, surround, ())


def test_a_sheet_of_one_colour_is_its_own_surround():
    found = found_on(sheet_with(PixelBox(0, 0, *SHEET)))
    assert (found.box, found.surround) == (None, (60, 90, 30))


def test_a_sheet_of_one_pixel():
    assert found_on(np.full((1, 1, 3), 9, np.uint8)).box is None


@pytest.mark.parametrize(
    "box",
    [
        PixelBox(0, 60, 180, 130),
        PixelBox(0, 0, 180, 130),
        PixelBox(0, 60, SHEET[0], 130),
        PixelBox(0, 0, SHEET[0], 200),
        PixelBox(70, 0, 250, SHEET[1]),
    ],
)
@pytest.mark.parametrize("made", [np.asarray, as_jpeg])
def test_a_picture_that_reaches_one_two_or_three_edges(box, made):
    found = found_on(made(textured(box)))
    assert farthest(found.box, box) <= (0 if made is np.asarray else 3)
    assert (found.surround, found.light_edges) == (WHITE, ())
    edges = (0, 0, *SHEET)
    reached = [side == edge for side, edge in zip(_sides(box), edges, strict=True)]
    assert [a == b for a, b in zip(_sides(found.box), edges, strict=True)] == reached


def _sides(box: PixelBox) -> tuple[int, int, int, int]:
    return box.left, box.top, box.right, box.bottom


def test_a_picture_that_reaches_all_four_edges_is_the_whole_sheet():
    found = found_on(textured(PixelBox(0, 0, *SHEET)))
    assert (found.box, found.is_flat) == (PixelBox(0, 0, *SHEET), False)


def test_padding_of_a_pixel_or_two_does_not_hide_the_paper():
    """Scanners pad with exactly white lines; the paper is what lies all round inside them."""
    box = PixelBox(120, 110, 600, 450)
    values = as_scan(textured(box, surround=OFF_WHITE, size=(900, 700)))
    values[:, -2:] = 255
    found = found_on(values)
    assert farthest(found.box, box) <= 1
    assert (max(found.surround) < 240, found.strays) == (True, (PixelBox(898, 0, 2, 700),))


# Noise


@pytest.mark.parametrize("surround", [WHITE, OFF_WHITE, DARK])
@pytest.mark.parametrize("seed", range(6))
def test_jpeg_moves_no_edge_by_more_than_three_pixels(surround, seed):
    """At quality 85, wherever the edges lie in its blocks of 8 and 16 pixels."""
    at = np.random.default_rng(seed).integers(30, 60, 4).tolist()
    box = PixelBox(at[0], at[1], 180 + at[2], 120 + at[3])
    found = found_on(as_jpeg(textured(box, seed, surround)))
    assert farthest(found.box, box) <= 3
    assert max(abs(a - b) for a, b in zip(found.surround, surround, strict=True)) <= 1
    assert found.strays == ()


def test_what_jpeg_leaves_round_an_edge_is_told_from_a_faint_edge():
    """Both are a few levels off the paper in the outermost lines."""
    noisy, faint = as_jpeg(textured(BOX)), textured(BOX)
    faint[BOX.top : BOX.top + 6, BOX.left : BOX.right] = 253
    assert not found_on(noisy).is_flat
    found = found_on(faint)
    assert (found.box, found.is_flat, found.light_edges) == (BOX, True, ("top",))


@pytest.mark.parametrize(
    ("kind", "quality"), [("JPEG", 60), ("JPEG", 75), ("WEBP", 75), ("AVIF", 50)]
)
def test_whatever_packing_smears_an_edge_it_is_found_where_the_file_says_so(kind, quality):
    box = PixelBox(47, 61, 300, 200)
    values = sheet_with(box, size=(430, 330))
    values[box.top : box.bottom, box.left : box.right] = np.asarray(make.drawing((300, 200)))
    packed = io.BytesIO()
    Image.fromarray(values).save(packed, kind, quality=quality)
    smeared = np.asarray(Image.open(packed).convert("RGB"))
    found = locate(Pixels(smeared, 1), is_lossy=True)
    assert farthest(found.box, box) <= 2
    assert found.light_edges == ()


@pytest.mark.parametrize("noise", [1, 2, 3])
def test_a_scan_on_off_white_paper(noise):
    found = found_on(as_scan(textured(BOX, surround=OFF_WHITE), noise))
    assert farthest(found.box, BOX) <= 1
    assert (found.is_flat, found.light_edges, found.strays) == (False, (), ())
    assert farthest_level(found.surround, [level * 0.94 for level in OFF_WHITE]) <= 2


def farthest_level(levels, wanted) -> float:
    return max(abs(a - b) for a, b in zip(levels, wanted, strict=True))


def test_an_empty_scan_has_no_picture():
    found = found_on(as_scan(sheet_with(PixelBox(0, 0, 0, 0))))
    assert (found.box, found.is_flat) == (None, False)


def test_on_a_noisy_surround_an_edge_within_twice_the_tolerance_is_a_guess():
    pale = [level - 30 for level in OFF_WHITE]
    found = found_on(as_scan(sheet_with(BOX, pale, OFF_WHITE)))
    assert farthest(found.box, BOX) <= 3
    assert found.light_edges == ("left", "top", "right", "bottom")


def test_thinly_scattered_noise_is_cleared_away_by_tolerance():
    """Paper that a scanner made white but for a few pixels; its edges are exactly white."""
    values = textured(BOX, size=(900, 900))
    where = np.random.default_rng(2).random(values.shape[:2]) < 3e-3
    where[[0, -1]] = where[:, [0, -1]] = False
    where[BOX.top : BOX.bottom, BOX.left : BOX.right] = False
    values[where] = 250
    found = found_on(values)
    assert (found.box, found.is_flat, found.strays) == (BOX, False, ())


def test_many_dots_are_a_drawing_not_noise():
    values = sheet_with(PixelBox(0, 0, 0, 0), size=(900, 900))
    for at in np.random.default_rng(3).integers(12, 43, (900, 2)) * 20:
        values[at[0] : at[0] + 4, at[1] : at[1] + 4] = 0
    inked = np.flatnonzero((values == 0).any(axis=(1, 2)))
    found = found_on(values)
    assert (found.box.top, found.box.bottom) == (inked[0], inked[-1] + 1)


# What is and what is not picture


def test_a_difference_in_one_channel_is_ink():
    for channel in range(3):
        ink = [255, 255, 255]
        ink[channel] = 200
        assert found_on(sheet_with(BOX, ink)).box == BOX


def test_specks_are_neither_picture_nor_strays():
    values = sheet_with(BOX)
    values[3, 3 : 3 + SPECK] = 0
    values[200 : 200 + SPECK, 310] = 0
    values[BOX.top - 3, BOX.left + 20] = 0
    found = found_on(values)
    assert (found.box, found.strays) == (BOX, ())
    values[3, 3 : 4 + SPECK] = 0
    assert found_on(values).strays == (PixelBox(3, 3, SPECK + 1, 1),)


def test_dust_is_not_picture():
    values = textured(BOX)
    rng = np.random.default_rng(1)
    for x, y in rng.integers(2, (SHEET[0] - 4, 36), (14, 2)):
        values[y : y + 2, x : x + 2] = rng.integers(0, 200)
    found = found_on(values)
    assert found.box == BOX
    assert len(found.strays) > 5
    assert all(stray.bottom < BOX.top for stray in found.strays)


@pytest.mark.parametrize("made", [np.asarray, as_jpeg])
def test_a_caption_is_a_stray(made):
    box = PixelBox(90, 80, 420, 300)
    image = Image.fromarray(textured(box, size=(600, 500)))
    ImageDraw.Draw(image).text((270, 410), "Ada Brook", fill="black")
    found = found_on(made(np.asarray(image)))
    assert farthest(found.box, box) <= (0 if made is np.asarray else 3)
    assert len(found.strays) >= 1
    for stray in found.strays:
        assert box.bottom + 2 * CELL < stray.top < stray.bottom < 440
        assert 250 < stray.left < stray.right < 360


def test_strays_are_told_largest_first_and_at_most_fifty():
    values = textured(BOX, size=(900, 900))
    for at in range(60):
        values[600 + at // 10 * 40 : 604 + at // 10 * 40, 50 + at % 10 * 70 :][:, : 4 + at % 7] = 0
    strays = found_on(values).strays
    areas = [stray.width * stray.height for stray in strays]
    assert len(strays) == MOST_STRAYS == 50
    assert areas == sorted(areas, reverse=True)
    assert areas[0] == 40


def test_several_pictures_are_one_box():
    values = textured(PixelBox(20, 30, 100, 80))
    for box in (PixelBox(180, 40, 60, 90), PixelBox(60, 180, 50, 40)):
        values[box.top : box.bottom, box.left : box.right] = 90
    found = found_on(values)
    assert (found.box, found.strays) == (PixelBox(20, 30, 220, 190), ())


def test_what_lies_between_two_pictures_is_no_stray():
    values = textured(PixelBox(20, 60, 100, 80))
    values[60:140, 200:300] = 90
    values[90:96, 150:156] = 0
    found = found_on(values)
    assert (found.box, found.strays) == (PixelBox(20, 60, 280, 80), ())


def test_small_means_under_three_hundredths_of_the_largest():
    """Of 180 × 130 pixels that is 702: blocks are taken in cells of 8 pixels."""
    for size, is_stray in ((16, True), (32, False)):
        values = sheet_with(BOX)
        values[216 : 216 + size, 16 : 16 + size] = 0
        assert bool(found_on(values).strays) == is_stray


def test_parts_of_an_object_that_touch_are_one():
    image = Image.fromarray(sheet_with(PixelBox(0, 0, 0, 0)))
    draw = ImageDraw.Draw(image)
    draw.ellipse((120, 100, 199, 219), fill=(90, 60, 30))
    draw.line((160, 100, 160, 40), fill=(20, 90, 20), width=2)
    found = found_on(np.asarray(image))
    assert (found.box, found.strays) == (PixelBox(120, 40, 80, 180), ())
    assert found.light_edges == ("left", "top", "right", "bottom")


def test_a_line_round_the_picture_belongs_to_it():
    image = Image.fromarray(textured(BOX))
    ImageDraw.Draw(image).rectangle((40, 30, 279, 219), outline="black", width=2)
    assert found_on(np.asarray(image)).box == PixelBox(40, 30, 240, 190)


def test_a_rim_that_a_scanner_left_does_not():
    values = textured(PixelBox(110, 90, 500, 400), size=(800, 640))
    values[:, -2:] = values[-2:] = 40
    found = found_on(values)
    assert found.box == PixelBox(110, 90, 500, 400)
    assert found.strays == (PixelBox(0, 0, 800, 640),)


# Light edges


@pytest.mark.parametrize("side", ["left", "top", "right", "bottom"])
def test_an_edge_nearly_as_light_as_the_paper_is_named(side):
    values = sheet_with(BOX)
    lines = {
        "left": (slice(BOX.top + 10, BOX.bottom), BOX.left),
        "top": (BOX.top, slice(BOX.left + 10, BOX.right)),
        "right": (slice(BOX.top + 10, BOX.bottom), BOX.right - 1),
        "bottom": (BOX.bottom - 1, slice(BOX.left + 10, BOX.right)),
    }
    values[lines[side]] = 251
    found = found_on(values)
    assert (found.box, found.light_edges) == (BOX, (side,))


@pytest.mark.parametrize(("off", "is_named"), [(4, True), (5, False)])
def test_on_paper_of_one_colour_a_faint_edge_is_sure_if_it_is_so_all_along(off, is_named):
    found = found_on(sheet_with(BOX, 3 * [255 - off]))
    assert found.box == BOX
    assert bool(found.light_edges) == is_named


@pytest.mark.parametrize(("off", "is_named"), [(DIFFERENCE, True), (DIFFERENCE + 1, False)])
def test_where_a_part_of_it_is_white_nearly_as_light_is_within_the_noise_of_a_jpeg(off, is_named):
    values = sheet_with(BOX, 3 * [255 - off])
    values[BOX.top, BOX.left : BOX.left + BOX.width // 4] = 255
    found = found_on(values)
    assert found.box == BOX
    assert (found.light_edges == ("top",)) == is_named


def white_sky(size: tuple[int, int]) -> np.ndarray:
    """A picture whose upper part is white, but for ever more faint pixels towards the ground."""
    width, height = size
    picture = textured(PixelBox(0, 0, width, height), size=size)
    depth = height // 2
    dense = np.linspace(0, 0.4, depth)[:, np.newaxis]
    is_cloud = np.random.default_rng(4).random((depth, width)) < dense
    picture[:depth] = np.where(is_cloud, 250, 255)[..., np.newaxis]
    return picture


def test_a_white_sky_makes_the_place_a_guess():
    found = found_on(sheet_with(BOX, white_sky((BOX.width, BOX.height))))
    assert _sides(found.box)[::2] == _sides(BOX)[::2]
    assert (found.box.bottom, found.light_edges) == (BOX.bottom, ("top",))
    assert BOX.top <= found.box.top < BOX.top + 20


def test_a_picture_alone_does_not_end_where_its_white_sky_begins():
    found = found_on(white_sky(SHEET))
    assert (found.box, found.light_edges) == (PixelBox(0, 0, *SHEET), ("top",))


def test_a_photograph_alone_does_not_end_where_its_even_sky_begins():
    """A grainy blue sky over dark ground, with nothing round it."""
    values = sheet_with(PixelBox(0, 120, SHEET[0], 140), (60, 50, 40), (110, 150, 210))
    found = found_on(as_scan(values, slope=0))
    assert found.box == PixelBox(0, 0, *SHEET)


# Marks, and other forms of pixels


def test_marks_are_left_out_with_the_pixel_round_them_that_rounding_may_add():
    marks = [PixelBox(42, 65, 28, 1), PixelBox(240, 190, 1, 30)]
    values = sheet_with(BOX)
    for mark in marks:
        values[mark.top - 1 : mark.bottom + 1, mark.left - 1 : mark.right + 1] = 0
    found = found_on(values, marks)
    assert (found.box, found.strays, found.cut) == (BOX, (), None)
    assert found_on(values).box == PixelBox(41, 60, 209, 161)


def test_corner_marks_are_found_and_tell_the_trim():
    values = textured(BOX)
    left, top, right, bottom = BOX.left + 12, BOX.top + 12, BOX.right - 12, BOX.bottom - 12
    for x in (left, right):
        values[BOX.top - 30 : BOX.top, x - 1 : x + 1] = 0
        values[BOX.bottom : BOX.bottom + 30, x - 1 : x + 1] = 0
    for y in (top, bottom):
        values[y - 1 : y + 1, BOX.left - 30 : BOX.left] = 0
        values[y - 1 : y + 1, BOX.right : BOX.right + 30] = 0
    found = found_on(values)
    assert (found.box, found.strays) == (BOX, ())
    assert found.cut == (left, top, right, bottom)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_sheet_that_is_to_be_turned_is_read_upright(orientation):
    box = PixelBox(31, 47, 180, 130)
    upright = Image.fromarray(textured(box))
    stored = upright if (back := BACK[orientation]) is None else upright.transpose(back)
    assert locate(Pixels(np.asarray(stored), orientation)).box == box


TURN = Image.Transpose
BACK = {
    1: None,
    2: TURN.FLIP_LEFT_RIGHT,
    3: TURN.ROTATE_180,
    4: TURN.FLIP_TOP_BOTTOM,
    5: TURN.TRANSPOSE,
    6: TURN.ROTATE_90,
    7: TURN.TRANSVERSE,
    8: TURN.ROTATE_270,
}
"""How a picture lies in the file for each orientation (Exif 2.3)."""


@pytest.mark.parametrize("mode", ["L", "RGBA", "P"])
def test_any_mode_can_be_looked_at(mode):
    image = Image.fromarray(sheet_with(BOX, (60, 60, 60))).convert(mode)
    assert locate(Pixels(image, 1)).box == BOX


def test_16_bits_can_be_looked_at():
    values = sheet_with(BOX, (254, 255, 255)).astype(np.uint16) * 257
    assert found_on(values).box == BOX


# Whether it is the right picture


PICTURE = Pixels(np.asarray(make.drawing()), 1)
PLACE = PixelBox(20, 15, 60, 40)


def on_sheet(image: Image.Image, box: PixelBox = PLACE) -> Pixels:
    sheet = Image.new("RGB", (120, 90), "white")
    sheet.paste(image.convert("RGB").resize((box.width, box.height)), (box.left, box.top))
    return Pixels(np.asarray(sheet), 1)


def test_the_right_picture_has_nothing_unlike():
    assert unlike(on_sheet(make.drawing()), PLACE, PICTURE, WHOLE) == ""


@pytest.mark.parametrize("size", [(30, 20), (90, 60), (60, 41), (5, 4)])
def test_its_size_does_not_matter(size):
    box = PixelBox(10, 10, *size)
    assert unlike(on_sheet(make.drawing(), box), box, PICTURE, WHOLE) == ""


FLIP = Image.Transpose


@pytest.mark.parametrize(
    ("how", "told"),
    [
        (FLIP.FLIP_LEFT_RIGHT, "mirrored"),
        (FLIP.ROTATE_180, "upside-down"),
        (FLIP.FLIP_TOP_BOTTOM, "flipped"),
        (FLIP.ROTATE_90, "other"),
    ],
)
def test_a_picture_the_wrong_way_round(how, told):
    assert unlike(on_sheet(make.drawing().transpose(how)), PLACE, PICTURE, WHOLE) == told


def test_another_picture():
    other = Image.new("RGB", make.SIZE, (30, 160, 40))
    assert unlike(on_sheet(other), PLACE, PICTURE, WHOLE) == "other"


def test_a_picture_like_its_mirror_image_is_the_right_one():
    even = Image.new("RGB", (60, 40), (200, 40, 40))
    assert unlike(on_sheet(even), PLACE, Pixels(np.asarray(even), 1), WHOLE) == ""


def test_only_the_part_that_was_asked_for_is_compared():
    half = Fraction(1, 2)
    crop = Crop(half, half, half, half)
    part = make.drawing().crop((30, 20, 60, 40))
    assert unlike(on_sheet(part), PLACE, PICTURE, crop) == ""
    assert unlike(on_sheet(part), PLACE, PICTURE, WHOLE) == "other"


def test_averages_are_those_of_the_areas():
    """Rows of a whole number of pixels each, so the mean of an array says what is right."""
    pixels = Pixels(np.random.default_rng(1).integers(0, 256, (48, 24, 3)).astype(np.uint8), 1)
    values = pixels.levels((0, 0, 24, 48)).reshape(12, 4, 12, 2, 3).mean((1, 3))
    assert np.abs(patches(pixels, (0, 0, 24, 48)) - values).max() <= 1
