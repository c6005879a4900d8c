"""A layout in whole pixels: the resolution that is chosen, and the one rounding."""

from dataclasses import FrozenInstanceError, fields
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from labkit.geometry.box import Box
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import mark_boxes, pixel_box, rasterize
from tests.geometry.refused import refusal
from tests.geometry.strategies import fitting, parts, shapes, sheets, thorough

SHEET = find_sheet("13x19in")
A3 = find_sheet("A3")


def test_a_picture_at_the_working_resolution_keeps_its_pixels():
    raster = rasterize(
        lay_out((3600, 2400), SHEET, width=inches(12)), (3600, 2400), working_ppi=300
    )
    assert raster.ppi == raster.own_ppi == 300
    assert raster.sheet == (3900, 5700)
    assert raster.picture == PixelBox(150, 1650, 3600, 2400)
    assert raster.source == (0, 0, 3600, 2400)
    assert not raster.resampled


def test_fewer_pixels_are_left_alone_and_the_sheet_takes_their_ppi():
    raster = rasterize(
        lay_out((1800, 1200), SHEET, width=inches(12)), (1800, 1200), working_ppi=300
    )
    assert raster.ppi == raster.own_ppi == 150
    assert raster.sheet == (1950, 2850)
    assert raster.picture == PixelBox(75, 825, 1800, 1200)
    assert not raster.resampled


def test_more_pixels_are_reduced():
    raster = rasterize(
        lay_out((7200, 4800), SHEET, width=inches(12)), (7200, 4800), working_ppi=300
    )
    assert (raster.ppi, raster.own_ppi) == (300, 600)
    assert raster.sheet == (3900, 5700)
    assert raster.picture == PixelBox(150, 1650, 3600, 2400)
    assert raster.source == (0, 0, 7200, 4800)
    assert raster.resampled


def test_more_pixels_are_kept_when_asked():
    layout = lay_out((7200, 4800), SHEET, width=inches(12))
    raster = rasterize(layout, (7200, 4800), working_ppi=300, keep_pixels=True)
    assert raster.ppi == raster.own_ppi == 600
    assert raster.sheet == (7800, 11400)
    assert raster.picture == PixelBox(300, 3300, 7200, 4800)
    assert not raster.resampled


def test_new_pixels_are_made_when_asked():
    layout = lay_out((1800, 1200), SHEET, width=inches(12))
    raster = rasterize(layout, (1800, 1200), working_ppi=300, resample=360)
    assert (raster.ppi, raster.own_ppi) == (360, 150)
    assert raster.sheet == (4680, 6840)
    assert raster.picture == PixelBox(180, 1980, 4320, 2880)
    assert raster.source == (0, 0, 1800, 1200)
    assert raster.resampled
    assert isinstance(raster.ppi, Fraction)


def test_asking_for_the_pixels_that_are_there_makes_none():
    layout = lay_out((1800, 1200), SHEET, width=inches(12))
    raster = rasterize(layout, (1800, 1200), working_ppi=300, resample=150)
    assert not raster.resampled
    assert raster.source == (0, 0, 1800, 1200)


@pytest.mark.parametrize("width", ["297mm", "296.99mm"])
def test_the_sheet_s_own_pixels_are_not_resampled(width):
    """3508 pixels over the 297 mm of A3 are 300.01 ppi: reducing them to 300 would change nothing."""
    raster = rasterize(
        lay_out((3508, 4961), A3, width=length(width)), (3508, 4961), working_ppi=300
    )
    assert raster.ppi == 300
    assert raster.own_ppi > 300
    assert raster.sheet == (3508, 4961)
    assert raster.picture == PixelBox(0, 0, 3508, 4961)
    assert raster.source == (0, 0, 3508, 4961)
    assert not raster.resampled


def test_one_pixel_more_is_resampled():
    layout = lay_out((3601, 3601), SHEET, width=inches(12))
    raster = rasterize(layout, (3601, 3601), working_ppi=300)
    assert raster.resampled
    assert (raster.picture.width, raster.picture.height) == (3600, 3600)
    assert raster.source == (0, 0, 3601, 3601)


def test_a_filled_picture_uses_whole_pixels_of_its_source():
    layout = lay_out((3000, 3000), SHEET, fill=True, border=length("1/2in"))
    raster = rasterize(layout, (3000, 3000), working_ppi=300)
    assert raster.own_ppi == Fraction(2000, 12)  # two thirds of the width on 12 in
    assert raster.source == (500, 0, 2500, 3000)
    assert raster.picture.width == 2000
    assert raster.picture.height == 3000
    assert raster.sheet == (2167, 3167)  # 13 and 19 in at 166.67 ppi: 2166.67, 3166.67
    assert not raster.resampled


@pytest.mark.parametrize(
    ("shape", "keep", "source"),
    [
        ((9, 4), Fraction(1, 2), (3, 0, 7, 4)),  # 2.5 columns to the left: a half goes up
        ((11, 4), Fraction(1, 2), (4, 0, 8, 4)),  # 3.5
        ((9, 4), Fraction(0), (0, 0, 4, 4)),
        ((9, 4), Fraction(1), (5, 0, 9, 4)),
    ],
)
def test_the_source_is_rounded_by_the_one_rule(shape, keep, source):
    layout = lay_out(shape, find_sheet("4x4in"), fill=True, keep=(keep, 0))
    assert rasterize(layout, shape, working_ppi=300).source == source
    turned = lay_out(shape[::-1], find_sheet("4x4in"), fill=True, keep=(0, keep))
    raster = rasterize(turned, shape[::-1], working_ppi=300)
    assert raster.source == (source[1], source[0], source[3], source[2])


def test_the_source_never_ends_past_the_picture():
    # 3 : 2 out of 10 × 3 is 4.5 columns, which are 5; kept right they would begin at 5.5, which is 6.
    layout = lay_out((10, 3), find_sheet("6x4in"), fill=True, keep=(1, 1))
    raster = rasterize(layout, (10, 3), working_ppi=300)
    assert raster.source == (5, 0, 10, 3)
    assert (raster.picture.width, raster.picture.height) == (5, 3)
    layout = lay_out((3, 10), find_sheet("4x6in"), fill=True, keep=(1, 1))
    assert rasterize(layout, (3, 10), working_ppi=300).source == (0, 5, 3, 10)


def test_a_resampled_source_is_not_rounded():
    layout = lay_out((10, 3), find_sheet("6x4in"), fill=True, keep=(1, 1))
    raster = rasterize(layout, (10, 3), working_ppi=300, resample=300)
    assert raster.source == (5.5, 0, 10, 3)
    assert raster.picture == PixelBox(0, 0, 1800, 1200)
    layout = lay_out((3, 10), find_sheet("4x6in"), fill=True, keep=(1, Fraction(1, 2)))
    assert rasterize(layout, (3, 10), working_ppi=300, resample=300).source == (0, 2.75, 3, 7.25)


def test_a_corner_and_a_size_rounded_apart_stay_on_the_sheet():
    # At 1 ppi 2 1/2 in are 3 pixels, twice: one more than the 5 of the sheet.
    sheet = sheet_of(inches(5), inches(5))
    half = length("2 1/2in")
    layout = Layout(sheet, Box(half, half, half, half))
    raster = rasterize(layout, (5, 5), working_ppi=300, resample=1)
    assert raster.picture == PixelBox(2, 2, 3, 3)


def test_a_box_in_pixels():
    box = Box(length("1/2in"), inches(1), length("1 1/2in"), inches(2))
    assert pixel_box(box, 3) == PixelBox(2, 3, 5, 6)  # 1.5 and 4.5 go up
    assert (pixel_box(box, 3).right, pixel_box(box, 3).bottom) == (7, 9)


def test_corner_marks_in_pixels():
    # At 254 ppi a pixel is 0.1 mm. The cut is 40 mm across and 50 mm down, its bleed 3 mm, a mark
    # 6 × 0.25 mm: 2.5 pixels, which are 3, from 39.875 mm: 398.75, which is 399.
    asked = {"trim": (length("100mm"), length("150mm")), "bleed": length("3mm")}
    layout = lay_out((10, 10), A3, **asked, left=length("40mm"), top=length("50mm"))
    marks = mark_boxes(layout, Fraction(254))
    assert len(set(marks)) == 8
    assert {PixelBox(310, 499, 60, 3), PixelBox(399, 410, 3, 60)} < set(marks)


def test_a_corner_mark_is_never_thinner_than_a_pixel():
    trimmed = lay_out((10, 10), A3, trim=(length("100mm"), length("150mm")))
    marks = mark_boxes(trimmed, Fraction(40))  # 0.25 mm are 0.4 of a pixel, 6 mm are 9.4
    assert {(mark.width, mark.height) for mark in marks} == {(9, 1), (1, 9)}


def test_a_print_that_keeps_its_borders_has_no_marks():
    assert mark_boxes(lay_out((10, 10), A3, width=inches(5)), Fraction(300)) == []


def test_a_raster_cannot_be_altered():
    raster = rasterize(lay_out((100, 100), SHEET, width=inches(1)), (100, 100), working_ppi=300)
    for value in (raster, raster.picture):
        for field in fields(value):
            with pytest.raises(FrozenInstanceError):
                setattr(value, field.name, None)


def test_refuses_to_make_and_keep_pixels_at_once():
    layout = lay_out((100, 100), SHEET, width=inches(1))
    assert refusal(
        rasterize, layout, (100, 100), working_ppi=300, resample=300, keep_pixels=True
    ) == ("resample makes new pixels and keep-pixels keeps the old ones: choose one of the two.")


@pytest.mark.parametrize("ppi", [0, -300])
def test_refuses_to_resample_to_nothing(ppi):
    layout = lay_out((100, 100), SHEET, width=inches(1))
    assert refusal(rasterize, layout, (100, 100), working_ppi=300, resample=ppi) == (
        f"no picture can be resampled to {ppi} ppi: give one above zero."
    )


def test_one_pixel_is_enough():
    raster = rasterize(lay_out((1, 1), SHEET, width=inches(1)), (1, 1), working_ppi=300)
    assert (raster.ppi, raster.source) == (1, (0, 0, 1, 1))
    assert (raster.picture.width, raster.picture.height) == (1, 1)


@pytest.mark.parametrize("shape", [(3000, 10), (10, 3000)])
def test_refuses_a_picture_that_comes_out_without_a_pixel(shape):
    long = {"width": inches(1)} if shape[0] > shape[1] else {"height": inches(1)}
    layout = lay_out(shape, SHEET, **long)
    assert refusal(rasterize, layout, shape, working_ppi=300, resample=100) == (
        "at this size not one pixel of the picture is left: make the print larger."
    )


def _is_inside(raster) -> bool:
    box = raster.picture
    return (
        min(box.left, box.top) >= 0
        and box.right <= raster.sheet[0]
        and box.bottom <= raster.sheet[1]
    )


@thorough
@given(sheets, shapes, parts, parts, st.data())
def test_at_its_own_ppi_a_picture_has_the_pixels_it_came_with(sheet, shape, across, down, data):
    width = data.draw(fitting(sheet, shape, ZERO))
    size = lay_out(shape, sheet, width=width).picture.size
    left, top = (sheet.width - size[0]) * across, (sheet.height - size[1]) * down
    layout = lay_out(shape, sheet, width=width, left=left, top=top)
    raster = rasterize(layout, shape, working_ppi=300, keep_pixels=True)
    assert (raster.picture.width, raster.picture.height) == shape
    assert raster.source == (0, 0, *shape)
    assert not raster.resampled
    assert raster.ppi == shape[0] / width.inches
    assert _is_inside(raster)


@thorough
@given(sheets, shapes, parts, parts, st.integers(20, 720), st.data())
def test_every_length_comes_out_within_half_a_pixel(sheet, shape, across, down, ppi, data):
    width = data.draw(fitting(sheet, shape, ZERO))
    size = lay_out(shape, sheet, width=width).picture.size
    left, top = (sheet.width - size[0]) * across, (sheet.height - size[1]) * down
    layout = lay_out(shape, sheet, width=width, left=left, top=top)
    assume(min(side.pixels(ppi) for side in size) >= 1)
    raster = rasterize(layout, shape, working_ppi=300, resample=ppi)
    half = Fraction(1, 2)
    assert raster.ppi == ppi
    assert abs(raster.sheet[0] - sheet.width.inches * ppi) <= half
    assert abs(raster.sheet[1] - sheet.height.inches * ppi) <= half
    assert abs(raster.picture.width - size[0].inches * ppi) <= half
    assert abs(raster.picture.height - size[1].inches * ppi) <= half
    assert -1 <= raster.picture.left - left.inches * ppi <= half
    assert -1 <= raster.picture.top - top.inches * ppi <= half
    assert _is_inside(raster)


@thorough
@given(shapes, st.integers(72, 720), st.integers(72, 720))
def test_a_stated_size_comes_back_within_half_a_pixel(shape, stated_ppi, working_ppi):
    stated = inches(Fraction(shape[0], stated_ppi)), inches(Fraction(shape[1], stated_ppi))
    sheet = sheet_of(stated[0] + millimetres(7), stated[1] + millimetres(11))
    raster = rasterize(lay_out(shape, sheet, stated=stated), shape, working_ppi=working_ppi)
    assert raster.ppi == min(stated_ppi, working_ppi)
    half = inches(Fraction(1, 2) / raster.ppi)
    assert abs(inches(raster.picture.width / raster.ppi) - stated[0]) <= half
    assert abs(inches(raster.picture.height / raster.ppi) - stated[1]) <= half


@thorough
@given(sheets, st.integers(72, 720))
def test_a_picture_of_the_sheet_s_own_pixels_covers_it_unchanged(sheet, ppi):
    """What anyone makes who sets a new blank to the sheet's size in whole pixels."""
    shape = sheet.width.pixels(ppi), sheet.height.pixels(ppi)
    stated = inches(Fraction(shape[0], ppi)), inches(Fraction(shape[1], ppi))
    raster = rasterize(lay_out(shape, sheet, stated=stated), shape, working_ppi=ppi)
    assert raster.sheet == shape
    assert (raster.picture.width, raster.picture.height) == shape
    assert not raster.resampled


@thorough
@given(sheets, shapes, st.tuples(parts, parts), st.booleans())
def test_a_filled_source_lies_in_the_picture(sheet, shape, keep, keep_pixels):
    layout = lay_out(shape, sheet, fill=True, keep=keep)
    raster = rasterize(layout, shape, working_ppi=150, keep_pixels=keep_pixels)
    left, top, right, bottom = raster.source
    assert 0 <= left < right <= shape[0]
    assert 0 <= top < bottom <= shape[1]
    assert _is_inside(raster)
    if not raster.resampled:
        assert (right - left, bottom - top) == (raster.picture.width, raster.picture.height)
        assert all(isinstance(side, int) for side in raster.source)
