"""Which sheet holds a print, and how much of a roll it takes."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Edges
from labkit.geometry.holding import (
    RollCut,
    area,
    area_text,
    excess,
    sight_size,
    smallest_holding,
    ways_it_holds,
)
from labkit.geometry.layout import lay_out
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.paper import catalogue, find_sheet
from tests.geometry.refused import refusal

LETTER, A4, A3, TABLOID, LARGE = map(find_sheet, ("letter", "A4", "A3", "11x17in", "13x19in"))
EVEN = Edges(*[millimetres(5)] * 4)


def none(_):
    return Edges()


def size(width, height):
    return inches(width), inches(height)


def test_how_much_is_lacking():
    assert excess(size(12, 8), LETTER, Edges()) == (inches("3.5"), ZERO)
    assert excess(size(12, 8), LETTER.turned(), Edges(), inches("0.5")) == (
        inches(2),
        inches("0.5"),
    )
    assert excess(size("8.5", 11), LETTER, Edges()) == (ZERO, ZERO)


def test_the_wider_edge_counts_on_both_sides_of_what_sits_in_the_centre():
    edges = Edges(left=inches(1), right=inches("0.25"), top=inches("0.5"), bottom=inches(2))
    assert excess(size(7, 8), LETTER, edges) == (inches("0.5"), inches(1))
    assert excess(size(7, 8), LETTER, edges, inches("1.5")) == (inches("1.5"), inches(1))


def test_the_way_the_print_lies_comes_first():
    assert ways_it_holds(size(9, 6), A3, none) == (A3.turned(), A3)
    assert ways_it_holds(size(6, 9), A3, none) == (A3, A3.turned())
    assert ways_it_holds(size(12, 8), A3, none) == (A3.turned(),)
    assert ways_it_holds(size(17, 12), A3, none) == ()


def test_a_square_sheet_lies_one_way_only():
    square = find_sheet("12x12in")
    assert ways_it_holds(size(6, 4), square, none) == (square,)


def test_a_print_may_fill_its_sheet_to_the_edge_and_no_further():
    assert ways_it_holds(size("8.5", 11), LETTER, none) == (LETTER,)
    assert ways_it_holds(size("8.51", 11), LETTER, none) == ()
    assert ways_it_holds(size("7.5", 10), LETTER, none, inches("0.5")) == (LETTER,)
    assert ways_it_holds(size("7.5", 10), LETTER, none, inches("0.51")) == ()


def test_the_printers_edges_are_those_of_the_sheet_as_it_lies():
    wide = Edges(left=inches(4), right=inches(4))
    assert ways_it_holds(
        size(8, 6), LETTER, lambda sheet: wide if sheet.is_turned else Edges()
    ) == (LETTER,)


def test_the_smallest_sheet_is_the_one_of_least_area():
    # 11 × 17 in is 187 sq in, A3 193; a print 11.2 in high is too high for the one on its side
    stock = (LARGE, A3, TABLOID, A4, LETTER)
    assert smallest_holding(size(12, 8), stock, none) == TABLOID.turned()
    assert smallest_holding(size(12, "11.2"), stock, none) == A3.turned()
    assert smallest_holding(size("11.2", 6), stock, none) == A4.turned()
    assert smallest_holding(size(18, 12), stock, none) == LARGE.turned()
    assert smallest_holding(size(20, 12), stock, none) is None
    assert smallest_holding(size(1, 1), (), none) is None


@given(
    st.sampled_from(catalogue()), st.integers(10, 1500), st.integers(10, 1500), st.integers(0, 50)
)
def test_what_holds_a_print_can_be_laid_out_with_those_borders(sheet, width, height, border):
    asked, least = (millimetres(width), millimetres(height)), millimetres(border)
    found = ways_it_holds(asked, sheet, lambda _: EVEN, least)
    for lying in found:
        layout = lay_out((width, height), lying, width=asked[0], unprintable=EVEN)
        assert all(each >= max(least, EVEN.left) for _, each in layout.borders.items())
    if not found:
        needed = max(least, EVEN.left) * 2
        short, long = sorted(asked)
        assert short + needed > sheet.width or long + needed > sheet.height


def test_areas():
    a0 = find_sheet("A0")
    assert area(a0.width, a0.height) == 841 * 1189
    assert area(inches(1), inches(1)) == Fraction("645.16")


@pytest.mark.parametrize(
    ("square_mm", "first", "metric", "told"),
    [
        (841 * 1189, "in", "m²", "1550 sq in (1 m²)"),
        (26 * 37, "mm", "m²", "0.000962 m² (1.49 sq in)"),  # A10
        (Fraction("645.16"), "in", "cm²", "1 sq in (6.45 cm²)"),
        (0, "mm", "cm²", "0 cm² (0 sq in)"),
    ],
)
def test_areas_in_words(square_mm, first, metric, told):
    assert area_text(Fraction(square_mm), first, metric=metric) == told


def test_a_roll_gives_a_piece_as_long_as_the_print_and_the_edges():
    cut = RollCut(size(20, 30), inches(24), EVEN)
    assert cut.fits
    assert cut.usable == inches(24) - millimetres(10)
    assert cut.length == inches(30) + millimetres(10)
    assert cut.wasted == area(inches(24), cut.length) - area(inches(20), inches(30))
    assert cut.share == 1 - Fraction(20 * 30) / (24 * cut.length.inches)


@pytest.mark.parametrize(("across", "fits"), [("599.6mm", True), ("599.7mm", False)])
def test_a_roll_is_usable_between_its_edges_only(across, fits):
    """24 in are 609.6 mm, less 5 on both sides."""
    assert RollCut((length(across), inches(10)), inches(24), EVEN).fits is fits


def test_a_print_as_wide_as_the_roll_wastes_nothing_of_it():
    cut = RollCut(size(24, 36), inches(24), Edges())
    assert (cut.wasted, cut.share) == (0, 0)


def test_a_lip_hides_both_edges():
    """11 × 14 in less 3/8 in on every side."""
    assert sight_size(size(11, 14), inches("0.375")) == size("10.25", "13.25")


def test_no_lip_hides_nothing():
    assert sight_size(size(8, 10), ZERO) == size(8, 10)


def test_lip_sight_size_and_lip_are_the_frame():
    wide, high = sight_size((length("297mm"), length("420mm")), length("6mm"))
    assert (wide.mm + 12, high.mm + 12) == (297, 420)


@pytest.mark.parametrize("lip", ["-1/16in", "4in", "5in"])
def test_a_lip_that_leaves_nothing_is_refused(lip):
    lip = length("1/16in") * -1 if lip.startswith("-") else length(lip)
    assert refusal(sight_size, size(8, 10), lip) == (
        f"a lip of {lip} leaves nothing to see of 8 in (203.2 mm) by 10 in (254 mm): "
        "give one from nothing to less than half the shorter side."
    )
