"""Corner marks told from all other ink: ours, and those of others."""

import io
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image, ImageDraw

from labkit.files.look.locate import Located, locate
from labkit.files.look.marks import LONGEST, SHORTEST, THICKEST, corner_marks, thin_strokes
from labkit.files.pixels.decode import Pixels
from labkit.geometry.box import Box
from labkit.geometry.length import length
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import pixel_box
from labkit.geometry.trim import Trim

SHEET = (620, 560)
PICTURE = PixelBox(130, 120, 350, 300)
CUT = (145, 135, 465, 405)
"""15 px of bleed."""


def picture_on_white() -> Image.Image:
    noise = np.random.default_rng(0).integers(20, 180, (30, 35, 3)).astype(np.uint8)
    sheet = Image.new("RGB", SHEET, "white")
    sheet.paste(
        Image.fromarray(noise).resize((PICTURE.width, PICTURE.height)), (PICTURE.left, PICTURE.top)
    )
    return sheet


def strokes(cut=CUT, offset=15, long=40, thick=2) -> list[PixelBox]:
    """The eight marks of a cut: four upright ones, left to right and top to bottom, then four level."""
    left, top, right, bottom = cut
    half = thick // 2
    upright = [
        PixelBox(x - half, y, thick, long)
        for x in (left, right)
        for y in (top - offset - long, bottom + offset)
    ]
    level = [
        PixelBox(x, y - half, long, thick)
        for y in (top, bottom)
        for x in (left - offset - long, right + offset)
    ]
    return upright + level


def drawn(marks: list[PixelBox], sheet: Image.Image | None = None, colour="black") -> Image.Image:
    sheet = sheet or picture_on_white()
    for mark in marks:
        sheet.paste(colour, (mark.left, mark.top, mark.right, mark.bottom))
    return sheet


def found_on(sheet: Image.Image) -> Located:
    return locate(Pixels(np.asarray(sheet), 1))


# On a sheet


def test_ours_are_found_where_the_trim_is():
    """Drawn from the layout's own boxes at 100 ppi, where 0.25 mm is one pixel."""
    trim = Trim(
        Box(*(length(f"{size}in") for size in ("1.5", "1.4", "3.2", "2.6"))), length("1/8in")
    )
    sheet = Image.new("RGB", SHEET, "white")
    bleed = pixel_box(trim.bleed_box, Fraction(100))
    sheet.paste((90, 60, 120), (bleed.left, bleed.top, bleed.right, bleed.bottom))
    found = found_on(drawn([pixel_box(mark, Fraction(100)) for mark in trim.marks()], sheet))
    assert (found.box, found.strays) == (bleed, ())
    assert found.cut == pytest.approx((150, 140, 470, 400), abs=1)


@pytest.mark.parametrize("thick", [1, 2, 3, 4])
@pytest.mark.parametrize("offset", [15, 18, 25, 40])
def test_thick_or_thin_touching_the_bleed_or_not(thick, offset):
    found = found_on(drawn(strokes(offset=offset, thick=thick)))
    assert (found.box, found.strays, found.is_flat) == (PICTURE, (), True)
    assert found.cut == tuple(line + thick % 2 / 2 for line in CUT)


@pytest.mark.parametrize("long", [SHORTEST, 30, 60])
def test_long_or_short(long):
    found = found_on(drawn(strokes(long=long)))
    assert (found.box, found.cut, found.strays) == (PICTURE, CUT, ())


def test_of_any_colour_that_can_be_seen():
    for colour in ((0, 160, 220), (120, 120, 120)):
        found = found_on(drawn(strokes(), colour=colour))
        assert (found.box, found.cut) == (PICTURE, CUT)


@pytest.mark.parametrize("offset", [15, 25])
def test_after_jpeg(offset):
    made = io.BytesIO()
    drawn(strokes(offset=offset, thick=3)).save(made, "JPEG", quality=85)
    found = found_on(Image.open(made))
    assert found.cut == pytest.approx(CUT, abs=1)
    assert (
        max(abs(getattr(found.box, s) - getattr(PICTURE, s)) for s in ("left", "top", "right")) <= 3
    )
    assert (abs(found.box.bottom - PICTURE.bottom) <= 3, found.strays) == (True, ())


@pytest.mark.parametrize("kept", [(0, 3, 4, 7), (1, 2, 3, 5, 6, 7), (0, 2, 4, 6), range(1, 8)])
def test_each_line_need_be_told_only_once(kept):
    found = found_on(drawn([strokes()[at] for at in kept]))
    assert (found.box, found.cut, found.strays) == (PICTURE, CUT, ())


def test_where_two_lines_only_are_told_no_cut_is_but_the_picture_ends_where_it_ends():
    marks = strokes()[:4]
    found = found_on(drawn(marks))
    assert (found.box, found.cut) == (PICTURE, None)
    assert set(found.strays) == set(marks)


def test_round_a_border_that_stays_on_the_print():
    cut = (90, 80, 520, 460)
    found = found_on(drawn(strokes(cut, offset=10)))
    assert (found.box, found.cut, found.strays) == (PICTURE, cut, ())


def test_that_meet_at_the_corner_they_mark():
    cut = (90, 80, 520, 460)
    found = found_on(drawn(strokes(cut, offset=0)))
    assert (found.box, found.cut, found.strays) == (PICTURE, cut, ())


def test_with_a_caption():
    sheet = drawn(strokes())
    ImageDraw.Draw(sheet).text((250, 480), "Boat", fill="black")
    found = found_on(sheet)
    assert (found.box, found.cut) == (PICTURE, CUT)
    assert found.strays
    assert all(stray.top > 475 for stray in found.strays)


@pytest.mark.parametrize("at", [(300,), (200, 400)])
def test_the_masts_of_a_boat_are_no_marks(at):
    found = found_on(drawn([PixelBox(x, 80, 2, 40) for x in at]))
    assert (found.box, found.cut, found.strays) == (
        PixelBox(PICTURE.left, 80, PICTURE.width, 340),
        None,
        (),
    )
    assert found.light_edges == ("top",)


def test_one_corner_alone_is_no_set_of_marks():
    found = found_on(drawn([strokes(offset=40)[at] for at in (0, 4)]))
    assert (found.box, found.cut, len(found.strays)) == (PICTURE, None, 2)


# The strokes


def test_the_cut_runs_through_the_middle_of_the_strokes():
    marks = corner_marks(strokes(thick=3), PICTURE)
    assert marks.cut == tuple(line + 0.5 for line in CUT)
    assert set(marks.strokes) == set(strokes(thick=3))


def test_strokes_inside_the_picture_or_far_beside_its_edges_are_no_marks():
    inside = [PixelBox(200, 200, 2, 40), PixelBox(300, 250, 40, 2)]
    middle = [PixelBox(300, 70, 2, 40), PixelBox(60, 270, 40, 2)]
    for other in (inside, middle):
        marks = corner_marks(strokes() + other, PICTURE)
        assert marks.cut == CUT
        assert not set(inside) & set(marks.strokes)


def test_of_two_lines_on_a_side_the_inner_one_is_the_trim():
    """Where bleed marks stand beside the trim marks."""
    bleed = (PICTURE.left, PICTURE.top, PICTURE.right, PICTURE.bottom)
    assert corner_marks(strokes(offset=30) + strokes(bleed, offset=15), PICTURE).cut == CUT


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_too_few_strokes_are_no_marks(count):
    assert corner_marks(strokes()[:count], PICTURE) is None


def patch(*boxes: PixelBox, size=(80, 80)) -> np.ndarray:
    ink = np.zeros((size[1], size[0]), bool)
    for box in boxes:
        ink[box.top : box.bottom, box.left : box.right] = True
    return ink


UPRIGHT, LEVEL = PixelBox(30, 5, 3, 40), PixelBox(35, 60, 40, 2)


def test_a_patch_is_taken_apart_into_its_strokes():
    assert thin_strokes(patch(UPRIGHT)) == [UPRIGHT]
    assert thin_strokes(patch(LEVEL), 7, 9) == [PixelBox(42, 69, 40, 2)]
    assert thin_strokes(patch(UPRIGHT, LEVEL)) == [UPRIGHT, LEVEL]
    cross = PixelBox(10, 20, 50, 2)
    assert thin_strokes(patch(UPRIGHT, cross)) == [UPRIGHT, cross]


@pytest.mark.parametrize(
    "box",
    [
        PixelBox(10, 10, THICKEST + 1, 40),
        PixelBox(10, 10, 2, SHORTEST - 1),
        PixelBox(10, 10, THICKEST, SHORTEST),
        PixelBox(10, 10, 40, 40),
        PixelBox(10, 10, 0, 0),
    ],
)
def test_what_is_thick_or_short_is_no_stroke(box):
    assert thin_strokes(patch(box)) == []


def test_nor_is_what_is_too_long():
    size = (20, LONGEST + 20)
    assert thin_strokes(patch(PixelBox(5, 5, 2, LONGEST), size=size)) != []
    assert thin_strokes(patch(PixelBox(5, 5, 2, LONGEST + 1), size=size)) == []


def test_a_patch_with_much_else_in_it_has_no_strokes():
    assert thin_strokes(patch(UPRIGHT, PixelBox(60, 60, 8, 8))) == []
    assert thin_strokes(patch(UPRIGHT, PixelBox(60, 60, 3, 3))) == [UPRIGHT]
