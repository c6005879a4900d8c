"""A picture's shape against the paper's."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from labkit.geometry.length import inches, length
from labkit.geometry.proportion import (
    WHOLE,
    Crop,
    Part,
    by_both,
    by_height,
    by_width,
    equal_border,
    fill,
    fit,
    ratio_inside,
    ratio_text,
    refuse_outside,
    series,
    share,
)
from tests.geometry.refused import refusal
from tests.geometry.strategies import lengths, parts, shapes, thorough

THREE_TO_TWO = (3600, 2400)


def test_one_side_gives_the_other():
    assert by_width(THREE_TO_TWO, inches(12)) == (inches(12), inches(8))
    assert by_height(THREE_TO_TWO, inches(12)) == (inches(18), inches(12))


def test_both_sides_may_differ_from_the_shape_by_half_a_pixel():
    # 12 in over 2400 rows at 8 in: half a row is 1/600 in.
    assert by_both(THREE_TO_TWO, inches(12), inches(8)) == (inches(12), inches(8))
    just = inches(8) + inches(Fraction(1, 600))
    assert by_both(THREE_TO_TWO, inches(12), just) == (inches(12), inches(8))
    assert "never stretched" in refusal(
        by_both, THREE_TO_TWO, inches(12), just + inches(Fraction(1, 100_000))
    )


def test_refuses_to_stretch():
    assert refusal(by_both, THREE_TO_TWO, inches(12), inches(9)) == (
        "12 in × 9 in is 4 : 3, but the picture is 3 : 2 and is never stretched: give the width alone "
        "(the height is then 8 in (203.2 mm)), or use fill to crop it to that shape."
    )


def test_fit_touches_the_nearer_pair_of_sides():
    assert fit(THREE_TO_TWO, inches(12), inches(18)) == (inches(12), inches(8))
    assert fit(THREE_TO_TWO, inches(18), inches(8)) == (inches(12), inches(8))
    assert fit(THREE_TO_TWO, inches(12), inches(8)) == (inches(12), inches(8))


@pytest.mark.parametrize(
    ("keep", "left"), [((0, 0), 0), ((Fraction(1, 2), 0), Fraction(1, 6)), ((1, 0), Fraction(1, 3))]
)
def test_fill_crops_what_is_too_wide(keep, left):
    # A square out of 3600 × 2400 is 2400 wide: two thirds, a third to spare.
    assert fill(THREE_TO_TWO, inches(5), inches(5), keep) == Crop(left, 0, Fraction(2, 3), 1)


@pytest.mark.parametrize(
    ("keep", "top"), [((0, 0), 0), ((0, Fraction(1, 2)), Fraction(1, 4)), ((0, 1), Fraction(1, 2))]
)
def test_fill_crops_what_is_too_high(keep, top):
    # 3 : 1 out of 3600 × 2400 is 1200 high: half of it.
    assert fill(THREE_TO_TWO, inches(9), inches(3), keep) == Crop(0, top, 1, Fraction(1, 2))


def test_fill_keeps_the_middle_unless_told():
    assert fill(THREE_TO_TWO, inches(5), inches(5)).left == Fraction(1, 6)


def test_the_share_that_is_lost():
    assert WHOLE.lost == 0
    assert fill(THREE_TO_TWO, inches(5), inches(5)).lost == Fraction(1, 3)
    assert Crop(0, 0, Fraction(1, 2), Fraction(1, 2)).lost == Fraction(3, 4)


@pytest.mark.parametrize(
    ("keep", "told"),
    [
        ((Fraction(3, 2), Fraction(1, 2)), "1.5,0.5"),
        ((0, Fraction(-1, 10)), "0,-0.1"),
        ((1.25, 0), "1.25,0"),
        ((0, Fraction(4, 3)), "0,1.333"),
    ],
)
def test_refuses_a_point_to_keep_outside_the_picture(keep, told):
    sentence = (
        f"the point to keep, {told}, lies outside the picture: "
        "give two numbers from 0 to 1, such as 0.5,0.3."
    )
    assert refusal(fill, THREE_TO_TWO, inches(5), inches(5), keep) == sentence
    assert refusal(refuse_outside, keep) == sentence


@pytest.mark.parametrize(
    ("ratio", "text"),
    [
        (Fraction(3600, 2400), "3 : 2"),
        (Fraction(2, 3), "2 : 3"),
        (Fraction(1), "1 : 1"),
        (Fraction(16, 9), "16 : 9"),
        (Fraction(17, 22), "17 : 22"),  # letter
        (Fraction(22, 17), "22 : 17"),
        (Fraction(23, 22), "1.045 : 1"),
        (Fraction(22, 23), "1 : 1.045"),
        (Fraction(420, 297), "1.414 : 1"),
        (Fraction(297, 420), "1 : 1.414"),
        (Fraction(4961, 7), "708.714 : 1"),
    ],
)
def test_a_ratio_in_words(ratio, text):
    assert ratio_text(ratio) == text


@thorough
@given(shapes, lengths(1), lengths(1))
def test_fit_is_the_largest_that_stays_inside(shape, width, height):
    wide, high = fit(shape, width, height)
    assert wide / high == Fraction(*shape)
    assert wide <= width
    assert high <= height
    assert wide == width or high == height


@thorough
@given(shapes, lengths(1), lengths(1), st.tuples(parts, parts))
def test_fill_crops_to_exactly_the_wanted_shape(shape, width, height, keep):
    crop = fill(shape, width, height, keep)
    assert (crop.width * shape[0]) / (crop.height * shape[1]) == width / height
    assert max(crop.width, crop.height) == 1
    assert 0 <= crop.left <= crop.left + crop.width <= 1
    assert 0 <= crop.top <= crop.top + crop.height <= 1
    for start, size, part in zip(
        (crop.left, crop.top), (crop.width, crop.height), keep, strict=True
    ):
        assert start == (1 - size) * part


@thorough
@given(shapes, lengths(1))
def test_by_width_and_by_height_agree(shape, width):
    assert by_height(shape, by_width(shape, width)[1]) == by_width(shape, width)
    assert by_both(shape, *by_width(shape, width)) == by_width(shape, width)


def test_fill_of_its_own_shape_keeps_all_of_it():
    assert fill((2480, 3508), length("2480mm"), length("3508mm")) == WHOLE


# A named part


HALF = Fraction(1, 2)
BOAT = Part("the boat", (Fraction(2, 10), Fraction(3, 10), Fraction(5, 10), Fraction(8, 10)))


@pytest.mark.parametrize(
    ("crop", "shown", "short"),
    [
        (WHOLE, 1, {}),
        (Crop(Fraction(2, 10), Fraction(3, 10), Fraction(3, 10), HALF), 1, {}),
        (Crop(left=Fraction(3, 10), width=HALF), Fraction(2, 3), {"left": Fraction(1, 10)}),
        (Crop(width=Fraction(4, 10)), Fraction(2, 3), {"right": Fraction(1, 10)}),
        (Crop(top=HALF, height=Fraction(2, 10)), Fraction(2, 5),
         {"top": Fraction(2, 10), "bottom": Fraction(1, 10)}),
        (Crop(left=HALF, width=HALF), 0, {"left": Fraction(3, 10)}),
        (Crop(left=Fraction(9, 10), width=Fraction(1, 10)), 0, {"left": Fraction(7, 10)}),
    ],
)  # fmt: skip
def test_what_a_crop_leaves_of_a_part(crop, shown, short):
    assert BOAT.shown(crop) == shown
    assert BOAT.short(crop) == short


def test_a_part_with_something_round_it():
    assert BOAT.grown(Fraction(1, 10), Fraction(2, 10)) == Part(
        "the boat", (Fraction(1, 10), Fraction(1, 10), Fraction(6, 10), Fraction(1))
    )


@thorough
@given(shapes, lengths(1), lengths(1), st.tuples(parts, parts))
def test_all_of_a_part_is_shown_exactly_where_nothing_sticks_out(shape, width, height, keep):
    crop = fill(shape, width, height, keep)
    assert (BOAT.shown(crop) == 1) == (BOAT.short(crop) == {})
    assert 0 <= BOAT.shown(crop) <= 1


# Equal borders and a given sheet fix the picture's shape


@pytest.mark.parametrize(
    ("sheet", "border", "ratio"),
    [
        (("19in", "13in"), "1/2in", Fraction(3, 2)),  # 18 × 12
        (("13in", "19in"), "1/2in", Fraction(2, 3)),
        (("11in", "14in"), "2in", Fraction(7, 10)),  # 7 × 10
        (("297mm", "210mm"), "18mm", Fraction(3, 2)),  # 261 × 174
        (("8in", "10in"), "0in", Fraction(4, 5)),
    ],
)
def test_equal_borders_solved_both_ways(sheet, border, ratio):
    width, height = (length(side) for side in sheet)
    assert ratio_inside(width, height, length(border)) == ratio
    assert equal_border(ratio, width, height) == length(border)


@thorough
@given(lengths(1), lengths(1), st.fractions(0, Fraction(49, 100), max_denominator=500))
def test_the_border_gives_back_the_shape_it_came_from(width, height, share):
    assume(width != height)
    border = min(width, height) * share
    assert equal_border(ratio_inside(width, height, border), width, height) == border


@pytest.mark.parametrize("border", [4, 5, Fraction(-1, 2)])
def test_refuses_a_border_that_leaves_no_picture(border):
    assert refusal(ratio_inside, inches(8), inches(10), inches(border)) == (
        f"equal borders of {inches(border)} leave no picture on 8 in (203.2 mm) by 10 in (254 mm): give one "
        "from nothing to less than half the shorter side."
    )


@pytest.mark.parametrize(
    ("ratio", "told"),
    [
        (Fraction(4, 3), "4 : 3"),  # nearer to a square than 19 × 13
        (Fraction(1), "1 : 1"),
        (
            Fraction(2, 3),
            "2 : 3",
        ),  # lies the other way: the formula gives 15 1/2 in, more than there is
    ],
)
def test_refuses_a_shape_that_leaves_no_equal_borders(ratio, told):
    assert refusal(equal_border, ratio, inches(19), inches(13)) == (
        f"a whole picture of {told} leaves no equal borders on 19 in (482.6 mm) by 13 in (330.2 mm), a sheet "
        "of 19 : 13: it would have to be longer in shape than the sheet, and lie the same way. Crop it, "
        "turn the sheet, or choose another."
    )


def test_on_a_square_sheet_only_a_square_has_equal_borders_and_then_any():
    assert "a sheet of 1 : 1" in refusal(equal_border, Fraction(3, 2), inches(8), inches(8))
    assert refusal(equal_border, Fraction(1), inches(8), inches(8)) == (
        "a square on a square sheet leaves equal borders at any size: choose one."
    )


# A series


RATIOS = (Fraction(3, 2), Fraction(3, 4), Fraction(1))


def test_a_series_of_equal_widths():
    """In 12 × 12 in the upright 3 : 4 reaches the edge first, at 9 in wide."""
    wide, upright, square = series(RATIOS, inches(12), inches(12), "width")
    assert (wide, upright, square) == (
        (inches(9), inches(6)),
        (inches(9), inches(12)),
        (inches(9), inches(9)),
    )


def test_a_series_of_equal_heights():
    """The lying 3 : 2 reaches the edge first, at 8 in high."""
    wide, upright, square = series(RATIOS, inches(12), inches(12), "height")
    assert (wide, upright, square) == (
        (inches(12), inches(8)),
        (inches(6), inches(8)),
        (inches(8), inches(8)),
    )


def test_a_series_of_equal_areas():
    """The 3 : 2 reaches the edge first: 12 × 8 in, 96 square inches; the square's side is their root."""
    wide, upright, square = series(RATIOS, inches(12), inches(12), "area")
    assert wide == (inches(12), inches(8))
    assert [float(side) for side in upright] == pytest.approx([8.48528, 11.31371])
    assert float(square[0]) == pytest.approx(9.79796)


@thorough
@given(
    st.lists(st.fractions(Fraction(1, 5), 5, max_denominator=60), min_size=1, max_size=4),
    lengths(1),
    lengths(1),
    st.sampled_from(["width", "height", "area"]),
)
def test_a_series_stays_inside_touches_an_edge_and_is_alike(ratios, width, height, alike):
    sizes = series(ratios, width, height, alike)
    assert [wide / high for wide, high in sizes] == ratios
    assert all(wide <= width and high <= height for wide, high in sizes)
    touching = min(min(width - wide, height - high) for wide, high in sizes)
    assert float(touching) == pytest.approx(0, abs=1e-9)
    common = {
        "width": [float(wide) for wide, _ in sizes],
        "height": [float(high) for _, high in sizes],
        "area": [float(wide) * float(high) for wide, high in sizes],
    }[alike]
    assert common == pytest.approx([common[0]] * len(common))


def test_refuses_to_make_a_series_of_anything_else():
    assert refusal(series, RATIOS, inches(12), inches(12), "colour") == (
        "“colour” is nothing to have in common: use width, height, area."
    )


# Shares as people write them


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("17%", Fraction(17, 100)),
        ("16.7 %", Fraction(167, 1000)),
        ("16,7%", Fraction(167, 1000)),
        ("1/6", Fraction(1, 6)),
        ("0.25", Fraction(1, 4)),
        (" 0 ", 0),
        ("100%", 1),
        ("1", 1),
    ],
)
def test_reads_a_share(text, value):
    assert share(text) == value


@pytest.mark.parametrize("text", ["17", "101%", "-1%", "1/0", "a sixth", "", "%", "1/2/3", "nan"])
def test_refuses_what_is_no_share(text):
    assert refusal(share, text, "your answer") == (
        f"your answer of “{text}” is no share of a whole: write it like 25% or 1/4."
    )


@thorough
@given(shapes, lengths(1), lengths(1), st.tuples(parts, parts))
def test_the_place_of_a_crop_gives_back_the_point_that_put_it_there(shape, width, height, keep):
    crop = fill(shape, width, height, keep)
    again = crop.keep_at(crop.left, crop.top)
    assert fill(shape, width, height, again) == crop
    assert crop.keep_at(Fraction(-1), Fraction(2)) == tuple(
        HALF if size == 1 else at for size, at in ((crop.width, 0), (crop.height, 1))
    )
