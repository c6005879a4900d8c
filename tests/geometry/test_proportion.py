"""A picture's shape against the paper's."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.length import inches, length
from labkit.geometry.proportion import (
    WHOLE,
    Crop,
    by_both,
    by_height,
    by_width,
    fill,
    fit,
    ratio_text,
    refuse_outside,
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
    for start, size, share in zip(
        (crop.left, crop.top), (crop.width, crop.height), keep, strict=True
    ):
        assert start == (1 - size) * share


@thorough
@given(shapes, lengths(1))
def test_by_width_and_by_height_agree(shape, width):
    assert by_height(shape, by_width(shape, width)[1]) == by_width(shape, width)
    assert by_both(shape, *by_width(shape, width)) == by_width(shape, width)


def test_fill_of_its_own_shape_keeps_all_of_it():
    assert fill((2480, 3508), length("2480mm"), length("3508mm")) == WHOLE
