"""Which sheet holds a print, how much of a roll it takes, what a frame hides."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Edges
from labkit.geometry.layout import lay_out
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import catalogue, find_sheet
from labkit.geometry.stock import area, holding, on_roll, sight_size, smallest

LETTER, A3, LARGE = (find_sheet(name) for name in ("letter", "A3", "13x19in"))
NONE = lambda sheet: Edges()  # noqa: E731


def size(width, height):
    return inches(width), inches(height)


def test_a_print_lies_the_way_the_sheet_then_lies():
    assert holding(size(8, 6), LETTER, NONE) == LETTER.turned()
    assert holding(size(6, 8), LETTER, NONE) == LETTER
    assert holding(size(9, 6), LETTER, NONE, inches(1)) == LETTER.turned()


def test_a_print_may_fill_its_sheet_to_the_edge_and_no_further():
    assert holding(size("8.5", 11), LETTER, NONE) == LETTER
    assert holding(size("8.51", 11), LETTER, NONE) is None
    assert holding(size("7.5", 10), LETTER, NONE, inches("0.5")) == LETTER
    assert holding(size("7.5", 10), LETTER, NONE, inches("0.51")) is None


def test_the_printers_edges_count_as_borders():
    edges = Edges(bottom=inches(1))
    assert holding(size(8, "9.5"), LETTER, lambda sheet: edges) is None
    assert holding(size(8, 9), LETTER, lambda sheet: edges) == LETTER


def test_a_sheet_lies_the_other_way_where_only_that_holds_the_print():
    wide = Edges(left=inches(4), right=inches(4))
    edges_of = lambda sheet: wide if sheet.is_turned else Edges()  # noqa: E731
    assert holding(size(8, 6), LETTER, edges_of) == LETTER


def test_the_smallest_sheet_is_the_one_of_least_area():
    # 11 × 8.5 in is smaller than A4 by 2051 mm², and does not hold a print 11.2 in long.
    sheets = (LARGE, A3, find_sheet("A4"), LETTER)
    assert smallest(size(9, 6), sheets, NONE) == LETTER.turned()
    assert smallest(size("11.2", 6), sheets, NONE) == find_sheet("A4").turned()
    assert smallest(size(18, 12), sheets, NONE) == LARGE.turned()
    assert smallest(size(20, 12), sheets, NONE) is None


@given(
    st.sampled_from(catalogue()), st.integers(10, 1500), st.integers(10, 1500), st.integers(0, 50)
)
def test_what_holds_a_print_can_be_laid_out_with_those_borders(sheet, width, height, border):
    asked, least = (millimetres(width), millimetres(height)), millimetres(border)
    lying = holding(asked, sheet, NONE, least)
    if lying is None:
        assert (
            min(sheet.width, sheet.height) < min(asked) + least * 2
            or max(sheet.width, sheet.height) < max(asked) + least * 2
        )
        return
    layout = lay_out((width, height), lying, width=asked[0])
    assert all(found >= least for _, found in layout.borders.items())


def test_areas():
    # ISO 216: A0 is one square metre, to the millimetre in each side.
    a0 = find_sheet("A0")
    assert area(a0.width, a0.height) == 841 * 1189
    assert abs(area(a0.width, a0.height) - 10**6) < 1189
    assert area(inches(1), inches(1)) == Fraction("645.16")


def test_a_roll_is_as_long_as_the_print_and_the_edges():
    edges = Edges(*(millimetres(5) for _ in range(4)))
    run = on_roll((inches(20), inches(30)), inches(24), edges)
    assert run.usable == inches(24) - millimetres(10)
    assert run.length == inches(30) + millimetres(10)
    assert run.blank == 1 - Fraction(20 * 30) / (24 * run.length.inches)
    assert run.fits


@pytest.mark.parametrize(("across", "fits"), [("599.6mm", True), ("599.7mm", False)])
def test_a_roll_is_usable_between_its_edges_only(across, fits):
    edges = Edges(left=millimetres(5), right=millimetres(5))
    assert on_roll((length(across), inches(10)), inches(24), edges).fits is fits


def test_a_lip_hides_both_edges():
    assert sight_size(size(8, 10), inches("0.25")) == size("7.5", "9.5")
    assert sight_size(size(8, 10), ZERO) == size(8, 10)
