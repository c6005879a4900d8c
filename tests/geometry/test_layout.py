"""Where a picture sits on a sheet: hand-worked places, every refusal's sentence, and what always holds."""

from dataclasses import FrozenInstanceError, fields
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import PLACES, Layout, lay_out, place
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.proportion import HALF, WHOLE, Crop
from labkit.geometry.trim import MARK_LENGTH, Trim
from tests.geometry.refused import refusal
from tests.geometry.strategies import edges, fitting, lengths, parts, shapes, sheets, thorough

SHEET = find_sheet("13x19in")
A3 = find_sheet("A3")
WIDE = (3600, 2400)
SQUARE = (3000, 3000)
PRINTER = Edges(length("3mm"), length("3mm"), length("3mm"), length("14mm"))


def size(width: str, height: str):
    return length(width), length(height)


# Places


def test_centre_halves_the_white():
    assert place(size("12in", "8in"), SHEET) == size("1/2in", "5 1/2in")
    assert place(size("12in", "8in"), SHEET, "center") == size("1/2in", "5 1/2in")


def test_optical_divides_the_white_two_to_three():
    # 19 − 8 = 11 in to spare: 4.4 above, 6.6 below.
    assert place(size("12in", "8in"), SHEET, "optical") == size("1/2in", "4.4in")


def test_optical_keeps_the_least_above_but_never_more_than_below():
    piece = size("12in", "18in")  # 1 in to spare: 0.4 in above
    assert place(piece, SHEET, "optical", least_top=length("0.3in")) == size("1/2in", "0.4in")
    assert place(piece, SHEET, "optical", least_top=length("0.45in")) == size("1/2in", "0.45in")
    assert place(piece, SHEET, "optical", least_top=length("0.6in")) == size("1/2in", "1/2in")


def test_three_even_borders():
    assert place(size("12in", "12in"), SHEET, "even-three") == size("1/2in", "1/2in")
    # as high as may be: 1/2 in below too
    assert place(size("12in", "18in"), SHEET, "even-three") == size("1/2in", "1/2in")


def test_a_piece_as_large_as_the_sheet_has_no_borders():
    for at in PLACES:
        assert place(size("13in", "19in"), SHEET, at) == (ZERO, ZERO)


def test_refuses_three_even_borders_where_the_last_would_be_the_smallest():
    assert refusal(place, size("12in", "18.2in"), SHEET, "even-three") == (
        "three even borders of 1/2 in (12.7 mm) leave less than that below, for the sheet is only "
        "0.8 in (20.3 mm) higher than the piece: turn the sheet, or place it at centre."
    )


def test_refuses_a_place_it_does_not_know():
    assert refusal(place, size("12in", "8in"), SHEET, "corner") == (
        "“corner” is no place: use centre, optical, even-three, or give left and top."
    )


@pytest.mark.parametrize(
    ("piece", "told"),
    [
        (size("14in", "19in"), "1 in (25.4 mm) too wide"),
        (size("12in", "20in"), "1 in (25.4 mm) too high"),
        (size("13 1/2in", "20in"), "1/2 in (12.7 mm) too wide and 1 in (25.4 mm) too high"),
    ],
)
def test_refuses_a_piece_larger_than_the_sheet(piece, told):
    wide, high = piece
    assert refusal(place, piece, SHEET) == (
        f"{wide} by {high} does not fit on 13 × 19 in (330.2 × 482.6 mm): it is {told}. "
        "Make it smaller, or choose a larger sheet."
    )


def test_turning_the_sheet_is_a_way_out_only_where_it_helps():
    told = refusal(place, size("19in", "13in"), SHEET)
    assert told.endswith("Make it smaller, choose a larger sheet, or turn the sheet.")
    assert "turn" not in refusal(place, size("24in", "13in"), SHEET)


# Sizes


def test_a_width_or_a_height_gives_the_size():
    by_width = lay_out(WIDE, SHEET, width=inches(12))
    by_height = lay_out(WIDE, SHEET, height=inches(8))
    both = lay_out(WIDE, SHEET, width=inches(12), height=inches(8))
    assert by_width.picture == Box(length("1/2in"), length("5 1/2in"), inches(12), inches(8))
    assert by_width == by_height == both
    assert by_width.borders == Edges(
        length("1/2in"), length("5 1/2in"), length("1/2in"), length("5 1/2in")
    )
    assert by_width.crop == WHOLE


def test_without_a_size_the_file_s_own_is_taken():
    stated = inches(Fraction(3600, 300)), inches(Fraction(2400, 300))
    assert lay_out(WIDE, SHEET, stated=stated) == lay_out(WIDE, SHEET, width=inches(12))
    assert lay_out(WIDE, SHEET, stated=stated, width=inches(6)).picture.size == size("6in", "4in")


def test_a_stated_size_is_taken_within_half_a_pixel():
    # 11811 and 11812 pixels a metre: 0.2 of a row in 2400.
    stated = millimetres(Fraction(3600_000, 11811)), millimetres(Fraction(2400_000, 11812))
    wide, high = lay_out(WIDE, SHEET, stated=stated).picture.size
    assert wide == stated[0]
    assert wide / high == Fraction(3, 2)
    assert ZERO < high - stated[1] < stated[1] / 4800


def test_fit_keeps_the_border_on_all_sides():
    layout = lay_out(WIDE, SHEET, fit=True, border=length("1/2in"))
    assert layout.picture == Box(length("1/2in"), length("5 1/2in"), inches(12), inches(8))
    assert layout.crop == WHOLE
    assert lay_out(WIDE, SHEET, fit=True).picture.width == inches(13)


def test_fill_covers_all_inside_the_border():
    layout = lay_out(SQUARE, SHEET, fill=True, border=length("1/2in"))
    assert layout.borders == Edges(*[length("1/2in")] * 4)
    assert layout.crop == Crop(Fraction(1, 6), 0, Fraction(2, 3), 1)  # 12 × 18 in out of a square
    left = lay_out(SQUARE, SHEET, fill=True, border=length("1/2in"), keep=(0, 0))
    assert left.crop == Crop(0, 0, Fraction(2, 3), 1)


@pytest.mark.parametrize("at", ["optical", "even-three", "centre"])
def test_filled_borders_are_equal_wherever_it_is_put(at):
    layout = lay_out(SQUARE, SHEET, fill=True, border=length("1/2in"), at=at)
    assert layout.borders == Edges(*[length("1/2in")] * 4)


def test_fill_with_both_sides_covers_just_that_box_where_it_is_put():
    """3600 × 2400 pixels in 8 × 10 in, upright: 1920 columns of 3600, 8/15 of them."""
    asked = {"fill": True, "width": inches(8), "height": inches(10)}
    layout = lay_out((3600, 2400), SHEET, **asked, keep=(0, HALF), left=inches(1), top=inches(2))
    assert layout.picture == Box(inches(1), inches(2), inches(8), inches(10))
    assert layout.crop == Crop(0, 0, Fraction(8, 15), 1)
    centred = lay_out((3600, 2400), SHEET, **asked)
    assert centred.picture == Box(inches("2.5"), inches("4.5"), inches(8), inches(10))
    assert centred.crop.left == Fraction(7, 30)


def test_a_box_of_the_pictures_own_shape_loses_nothing():
    asked = {"width": inches(12), "height": inches(8)}
    assert lay_out((3600, 2400), SHEET, fill=True, **asked) == lay_out((3600, 2400), SHEET, **asked)


def test_a_fitted_picture_keeps_its_border_above_at_the_optical_place():
    layout = lay_out((2400, 3600), SHEET, fit=True, border=length("1/2in"), at="optical")
    assert layout.picture.size == size("12in", "18in")  # 2 : 3 would leave 0.4 in above
    assert layout.borders.top == length("1/2in")


def test_left_and_top_put_it_where_they_say():
    layout = lay_out(WIDE, SHEET, width=inches(10), left=inches(2), top=inches(1), at="optical")
    assert (layout.picture.left, layout.picture.top) == (inches(2), inches(1))
    assert layout.borders.right == inches(1)


def test_the_printer_s_edge_holds_at_the_optical_place():
    printer = Edges(top=length("0.45in"))
    layout = lay_out((2400, 3600), SHEET, width=inches(12), at="optical", unprintable=printer)
    assert layout.borders.top == length("0.45in")
    assert layout.unprintable == printer


def test_a_border_may_be_just_what_the_printer_needs():
    layout = lay_out(
        (100, 100), SHEET, width=inches(5), left=PRINTER.left, top=PRINTER.top, unprintable=PRINTER
    )
    assert layout.borders.left == layout.printable.left == length("3mm")


def test_what_the_printer_reaches():
    layout = lay_out(WIDE, A3, width=inches(8), unprintable=PRINTER)
    assert layout.printable == Box(length("3mm"), length("3mm"), length("291mm"), length("403mm"))
    assert layout.sheet_box == Box(ZERO, ZERO, length("297mm"), length("420mm"))


@pytest.mark.parametrize(
    "asked", [{"width": length("297mm")}, {"stated": size("3508/300 in", "4961/300 in")}]
)
def test_a_picture_of_the_sheet_s_own_pixels_fits_it(asked):
    """A3 at 300 ppi is 3508 × 4961 pixels, which are 0.01 × 0.03 mm more than A3."""
    layout = lay_out((3508, 4961), A3, **asked)
    assert layout.picture == layout.sheet_box
    assert layout.borders == Edges()
    used = layout.crop.width * 3508, layout.crop.height * 4961
    assert used[0] / used[1] == Fraction(297, 420)
    assert "cropped" not in str(layout)


def test_a_whole_pixel_more_than_the_sheet_does_not_fit():
    assert "0.004 in (0.1 mm) too wide" in refusal(
        lay_out, (3509, 100), A3, stated=(inches(Fraction(3509, 300)), inches(Fraction(1, 3)))
    )


def test_half_a_pixel_more_than_the_sheet_is_the_most_that_fits():
    sheet = sheet_of(inches(4), inches(4))
    just = inches(Fraction(320, 79))  # 40 pixels: 4/79 in is half of one
    assert lay_out((40, 40), sheet, stated=(just, just)).picture.size == size("4in", "4in")
    over = just + inches(Fraction(1, 1_000_000))
    assert "does not fit" in refusal(lay_out, (40, 40), sheet, stated=(over, over))


def test_both_sides_must_be_within_half_a_pixel_of_the_sheet():
    tall = sheet_of(inches(4), inches(3))
    just = inches(Fraction(401, 100)), inches(Fraction(401, 100))
    assert "1.01 in (25.7 mm) too high" in refusal(lay_out, (40, 40), tall, stated=just)


# Trim


def test_with_trim_the_picture_covers_trim_and_bleed():
    layout = lay_out(SQUARE, A3, trim=size("210mm", "148mm"), bleed=length("3mm"))
    assert layout.trim == Trim(
        Box(length("43.5mm"), length("136mm"), length("210mm"), length("148mm")), length("3mm")
    )
    assert layout.picture == Box(
        length("40.5mm"), length("133mm"), length("216mm"), length("154mm")
    )
    # 216 × 154 out of a square, from its middle
    assert layout.crop == Crop(0, Fraction(31, 216), 1, Fraction(154, 216))


def test_with_trim_the_finished_piece_is_placed():
    layout = lay_out(SQUARE, A3, trim=size("200mm", "100mm"), bleed=length("5mm"), at="optical")
    # 420 − 100 = 320 to spare: 128 above the piece, 123 above the bleed
    assert layout.trim.box.top == length("128mm")
    assert layout.borders.top == length("123mm")
    by_hand = lay_out(
        SQUARE, A3, trim=size("200mm", "100mm"), bleed=length("5mm"), left=inches(1), top=inches(2)
    )
    assert (by_hand.trim.box.left, by_hand.trim.box.top) == (inches(1), inches(2))


def test_with_trim_the_optical_place_leaves_room_for_bleed_and_marks():
    layout = lay_out(
        SQUARE, A3, trim=size("100mm", "394mm"), bleed=length("3mm"), at="optical",
        unprintable=Edges(top=length("2mm")),
    )  # fmt: skip
    assert layout.trim.box.top == length("11mm")  # 2 + 3 + 6; 2 : 3 would leave 10.4


def test_with_trim_a_given_size_is_cropped_by_the_trim():
    layout = lay_out(
        WIDE,
        A3,
        width=length("240mm"),
        trim=size("194mm", "134mm"),
        bleed=length("3mm"),
        keep=(0, 1),
    )
    # 240 × 160 mm; 200 × 140 of it is printed, its left and its lower part
    assert layout.picture.size == size("200mm", "140mm")
    assert layout.crop == Crop(0, Fraction(20, 160), Fraction(200, 240), Fraction(140, 160))


def test_with_trim_a_size_that_just_covers_is_used_whole():
    layout = lay_out(
        WIDE, A3, width=length("240mm"), trim=size("234mm", "154mm"), bleed=length("3mm")
    )
    assert layout.crop == WHOLE


def test_guides_stand_at_the_picture_or_at_the_cuts():
    layout = lay_out(WIDE, SHEET, width=inches(12))
    assert layout.guides == (size("1/2in", "12 1/2in"), size("5 1/2in", "13 1/2in"))
    cut = lay_out(SQUARE, A3, trim=size("197mm", "100mm"), bleed=length("3mm"))
    assert cut.guides == (size("50mm", "247mm"), size("160mm", "260mm"))


def test_a_layout_cannot_be_altered():
    layout = lay_out(SQUARE, A3, trim=size("210mm", "148mm"), bleed=length("3mm"))
    for value in (
        layout,
        layout.sheet,
        layout.picture,
        layout.crop,
        layout.borders,
        layout.trim,
        ZERO,
    ):
        for field in fields(value):
            with pytest.raises(FrozenInstanceError):
                setattr(value, field.name, None)


# In words


def test_a_layout_in_words():
    layout = lay_out(WIDE, SHEET, width=inches(12), at="optical")
    assert str(layout) == (
        "Picture 12 in (304.8 mm) wide and 8 in (203.2 mm) high on 13 × 19 in (330.2 × 482.6 mm). "
        "Borders: left 1/2 in (12.7 mm), top 4.4 in (111.8 mm), right 1/2 in (12.7 mm), "
        "bottom 6.6 in (167.6 mm)."
    )
    assert layout.sentence("mm").startswith(
        "Picture 304.8 mm (12 in) wide and 203.2 mm (8 in) high on 13 × 19 in"
    )
    assert "left 12.7 mm (1/2 in)" in layout.sentence("mm")


def test_a_trimmed_and_cropped_layout_in_words():
    layout = lay_out(SQUARE, A3, trim=size("210mm", "148mm"), bleed=length("3mm"))
    assert str(layout).endswith(
        " Trimmed to 210 mm (8.27 in) by 148 mm (5.83 in), with 3 mm (0.12 in) of bleed. "
        "29% of the picture is cropped."  # 62 of 216
    )


@pytest.mark.parametrize(
    ("wide", "told"),
    [
        (1000, ""),
        (1004, ""),
        (1006, " 1% of the picture is cropped."),
        (4000, " 75% of the picture is cropped."),
    ],
)
def test_a_crop_of_less_than_half_a_hundredth_is_not_told(wide, told):
    layout = lay_out((wide, 1000), find_sheet("4x4in"), fill=True)
    assert str(layout).endswith("bottom 0 in (0 mm)." + told)


# Refusals


@pytest.mark.parametrize(
    "asked",
    [
        {"width": inches(5), "fit": True},
        {"fit": True, "fill": True},
        {"width": inches(5), "height": inches(5), "fit": True},
    ],
)
def test_refuses_two_ways_of_giving_a_size(asked):
    assert refusal(lay_out, SQUARE, SHEET, **asked) == (
        "width or height, fit, and fill are three ways to give a size: choose one."
    )


@pytest.mark.parametrize("side", ["width", "height"])
def test_refuses_to_fill_a_box_of_one_side(side):
    assert refusal(lay_out, SQUARE, SHEET, fill=True, **{side: inches(5)}) == (
        "to fill a box, give both its width and its height: with one of them alone the picture keeps its "
        "shape, and there is nothing to crop."
    )


def test_refuses_two_boxes_to_fill():
    trim = inches(5), inches(5)
    assert refusal(
        lay_out, SQUARE, SHEET, fill=True, width=inches(5), height=inches(4), trim=trim
    ) == (
        "trim gives the box that is filled, and so do width and height: leave one of the two out."
    )


@pytest.mark.parametrize("asked", [{"left": ZERO}, {"top": ZERO}])
def test_refuses_half_a_place(asked):
    assert refusal(lay_out, SQUARE, SHEET, width=inches(5), **asked) == (
        "left and top go together: give both, or a place such as centre."
    )


def test_refuses_fit_with_trim():
    assert refusal(lay_out, SQUARE, SHEET, fit=True, trim=size("5in", "5in")) == (
        "fit keeps borders and trim cuts them off: leave one of the two out."
    )


@pytest.mark.parametrize("word", ["border", "bleed"])
def test_refuses_less_than_none(word):
    assert refusal(lay_out, SQUARE, SHEET, width=inches(5), **{word: -inches(1)}) == (
        f"a {word} of -1 in (-25.4 mm) is less than none: give zero or more."
    )


@pytest.mark.parametrize("word", ["width", "height"])
def test_refuses_a_size_of_nothing(word):
    assert refusal(lay_out, SQUARE, SHEET, **{word: ZERO}) == (
        f"a {word} of 0 in (0 mm) leaves no picture: give one above zero."
    )


def test_refuses_to_guess_a_size():
    assert refusal(lay_out, SQUARE, SHEET) == (
        "the file does not state its size: give a width or a height, or use fit or fill."
    )


def test_refuses_a_stated_size_that_would_stretch():
    assert refusal(lay_out, WIDE, SHEET, stated=size("12in", "16in")) == (
        "the file states 300 ppi across and 150 ppi down, but a picture is never stretched: "
        "give a width or a height, or use fit or fill."
    )


@pytest.mark.parametrize("way", ["fit", "fill"])
def test_refuses_borders_that_leave_nothing(way):
    assert refusal(lay_out, SQUARE, SHEET, border=length("6 1/2in"), **{way: True}) == (
        "borders of 6 1/2 in (165.1 mm) leave nothing of 13 × 19 in (330.2 × 482.6 mm): "
        "make the border smaller."
    )


def test_refuses_a_picture_that_runs_off_the_sheet():
    assert refusal(lay_out, SQUARE, SHEET, width=inches(12), left=inches(2), top=inches(8)) == (
        "the picture runs off 13 × 19 in (330.2 × 482.6 mm) by 1 in (25.4 mm) on the right, "
        "1 in (25.4 mm) on the bottom: move it, make it smaller, or choose a larger sheet."
    )
    assert "1/2 in (12.7 mm) on the left" in refusal(
        lay_out, SQUARE, SHEET, width=inches(5), left=-length("1/2in"), top=ZERO
    )


def test_refuses_what_the_printer_cannot_reach():
    edges = Edges(length("1/8in"), length("1/8in"), length("1/8in"), length("1/2in"))
    assert refusal(
        lay_out, WIDE, SHEET, width=length("12.9in"), unprintable=edges, left=ZERO, top=inches(1)
    ) == (
        "the border is too small for the printer (0 in (0 mm) on the left, 0.1 in (2.5 mm) on the "
        "right): it cannot print nearer to the edges than left 1/8 in (3.2 mm), top 1/8 in (3.2 mm), "
        "right 1/8 in (3.2 mm), bottom 1/2 in (12.7 mm). Move or shrink the picture, or print it to "
        "the edge with trim and bleed on a larger sheet."
    )


@pytest.mark.parametrize("trim", [size("0in", "5in"), size("5in", "0in")])
def test_refuses_a_trim_of_nothing(trim):
    assert refusal(lay_out, SQUARE, SHEET, trim=trim) == (
        f"a trim size of {trim[0]} by {trim[1]} leaves no print: give two sides above zero."
    )


def test_refuses_marks_that_the_printer_cannot_reach():
    sheet = find_sheet("SRA4")  # 225 × 320: 7.5 mm beside A4, 3 + 6 are needed
    assert refusal(lay_out, SQUARE, sheet, trim=size("210mm", "297mm"), bleed=length("3mm")) == (
        "210 mm (8.27 in) by 297 mm (11.69 in) with 3 mm (0.12 in) of bleed and corner marks of "
        "6 mm (0.24 in) does not fit what the printer reaches of SRA4, 225 × 320 mm (8.86 × 12.6 "
        "in): over by 0.059 in (1.5 mm) on the left, 0.059 in (1.5 mm) on the right. "
        "Move it, or use a larger sheet or less bleed."
    )


def test_the_printer_s_edges_count_for_the_marks():
    trim, bleed = size("266mm", "100mm"), length("3mm")
    room = Edges(left=length("6.5mm"), right=length("6.5mm"))  # 297 − 266 = 31; 9 + 6.5 a side
    assert lay_out(SQUARE, A3, trim=trim, bleed=bleed, unprintable=room).trim
    more = Edges(left=length("6.5mm"), right=length("7mm"))
    assert "over by 0.02 in (0.5 mm) on the right" in refusal(
        lay_out, SQUARE, A3, trim=trim, bleed=bleed, unprintable=more
    )


def test_refuses_a_picture_that_stops_short_of_the_bleed():
    told = refusal(
        lay_out, WIDE, A3, width=length("210mm"), trim=size("210mm", "134mm"), bleed=length("3mm")
    )
    assert told == (
        "the picture at 210 mm (8.27 in) by 140 mm (5.51 in) stops short of the bleed by "
        "3 mm (0.12 in) on the left, 3 mm (0.12 in) on the right: it must cover 216 mm (8.5 in) "
        "by 140 mm (5.51 in). Make it larger, or leave the size out to fill it."
    )
    across = refusal(lay_out, SQUARE, A3, width=inches(5), trim=size("6in", "4in"), keep=(0, 1))
    assert "stops short of the bleed by 1 in (25.4 mm) on the right" in across
    down = refusal(lay_out, SQUARE, A3, width=inches(5), trim=size("4in", "6in"), keep=(1, 0))
    assert "stops short of the bleed by 1 in (25.4 mm) on the bottom" in down
    both = refusal(lay_out, SQUARE, A3, width=inches(5), trim=size("4in", "6in"))
    assert "by 1/2 in (12.7 mm) on the top, 1/2 in (12.7 mm) on the bottom" in both


@pytest.mark.parametrize(
    "asked",
    [
        {"fill": True},
        {"trim": size("5in", "5in")},
        {"trim": size("5in", "5in"), "width": inches(6)},
    ],
)
def test_refuses_a_point_to_keep_outside_the_picture(asked):
    assert refusal(lay_out, SQUARE, SHEET, keep=(2, Fraction(1, 2)), **asked) == (
        "the point to keep, 2,0.5, lies outside the picture: "
        "give two numbers from 0 to 1, such as 0.5,0.3."
    )


# What always holds


def _adds_up(layout: Layout) -> bool:
    borders, picture = layout.borders, layout.picture
    return (
        borders.left + picture.width + borders.right,
        borders.top + picture.height + borders.bottom,
    ) == (
        layout.sheet.width,
        layout.sheet.height,
    )


@thorough
@given(sheets, shapes, st.sampled_from(PLACES[:2]), st.data())
def test_borders_and_picture_add_up_to_the_sheet(sheet, shape, at, data):
    width = data.draw(fitting(sheet, shape, ZERO))
    layout = lay_out(shape, sheet, width=width, at=at)
    assert _adds_up(layout)
    assert layout.picture.width == width
    assert layout.borders.left == layout.borders.right


@thorough
@given(sheets, shapes, parts, parts, st.data())
def test_borders_add_up_wherever_the_corner_is_put(sheet, shape, across, down, data):
    size = lay_out(shape, sheet, width=data.draw(fitting(sheet, shape, ZERO))).picture.size
    left, top = (sheet.width - size[0]) * across, (sheet.height - size[1]) * down
    layout = lay_out(shape, sheet, width=size[0], left=left, top=top)
    assert _adds_up(layout)
    assert (layout.picture.left, layout.picture.top) == (left, top)


@thorough
@given(sheets, shapes, edges, st.data())
def test_optical_is_never_low_nor_under_the_printer_s_edge(sheet, shape, printer, data):
    room = max(edge for _, edge in printer.items())
    width = data.draw(fitting(sheet, shape, room))
    layout = lay_out(shape, sheet, width=width, at="optical", unprintable=printer)
    assert _adds_up(layout)
    assert printer.top <= layout.borders.top <= layout.borders.bottom
    spare = layout.borders.top + layout.borders.bottom
    assert layout.borders.top in (spare * Fraction(2, 5), printer.top)


@thorough
@given(sheets, shapes, st.data())
def test_three_even_borders_are_even_or_refused(sheet, shape, data):
    width = data.draw(fitting(sheet, shape, ZERO))
    centred = lay_out(shape, sheet, width=width).borders
    if centred.top < centred.left:
        assert "three even borders" in refusal(lay_out, shape, sheet, width=width, at="even-three")
        return
    layout = lay_out(shape, sheet, width=width, at="even-three")
    assert _adds_up(layout)
    assert (
        layout.borders.left == layout.borders.right == layout.borders.top <= layout.borders.bottom
    )


@thorough
@given(sheets, shapes, parts)
def test_fit_and_fill_keep_the_border(sheet, shape, share):
    border = min(sheet.width, sheet.height) * share * Fraction(49, 100)
    fitted = lay_out(shape, sheet, fit=True, border=border)
    assert _adds_up(fitted)
    assert min(size for _, size in fitted.borders.items()) == border
    filled = lay_out(shape, sheet, fill=True, border=border)
    assert filled.borders == Edges(border, border, border, border)
    used = filled.crop.width * shape[0], filled.crop.height * shape[1]
    assert used[0] / used[1] == filled.picture.width / filled.picture.height


@thorough
@given(sheets, shapes, lengths(0, 1), st.tuples(parts, parts), parts, st.data())
def test_trimmed_pictures_are_never_stretched_and_never_short(
    sheet, shape, bleed, keep, share, data
):
    room = min(sheet.width, sheet.height) - (bleed + MARK_LENGTH) * 2
    assume(room > ZERO)
    trim = room * Fraction(data.draw(st.integers(5, 100)), 100), room * Fraction(3, 4)
    filled = lay_out(shape, sheet, trim=trim, bleed=bleed, keep=keep)
    assert _adds_up(filled)
    assert filled.trim.box.size == trim
    assert filled.picture == filled.trim.bleed_box
    # Printed at any size from the one that just fills, the same piece shows less of the picture.
    whole = filled.picture.width / filled.crop.width * (1 + share)
    asked = lay_out(shape, sheet, trim=trim, bleed=bleed, keep=keep, width=whole)
    assert asked.picture == filled.picture
    for crop in (filled.crop, asked.crop):
        used = crop.width * shape[0], crop.height * shape[1]
        assert used[0] / used[1] == filled.picture.width / filled.picture.height
    assert asked.crop.width * (1 + share) == filled.crop.width
    assert asked.crop.left == (1 - asked.crop.width) * keep[0]
    assert asked.crop.top == (1 - asked.crop.height) * keep[1]
