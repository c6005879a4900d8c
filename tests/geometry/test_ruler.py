"""The ruler sheet: bars as long as the paper allows, every line on a whole pixel."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Edges
from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.paper import find_sheet
from labkit.geometry.ruler import BOLD, PIXEL, PPI, ruler_sheet, unit_of
from tests.geometry.refused import refusal
from tests.geometry.strategies import thorough

FEED = Edges(millimetres(4), millimetres(3), millimetres(4), millimetres(7))


def made(name: str, edges: Edges = FEED):
    sheet = find_sheet(name)
    return ruler_sheet(sheet.width, sheet.height, edges)


def test_at_its_resolution_a_millimetre_and_half_an_inch_are_whole_pixels():
    assert (millimetres(1).inches * PPI, inches("0.5").inches * PPI) == (10, 127)


@pytest.mark.parametrize(
    ("sheet", "bars"),
    [
        # 330.2 - 12 = 318.2 mm across, 482.6 - 18 = 464.6 mm along can be used
        ("13x19in", (12, 310, 18, 460)),
        # 215.9 - 12 = 203.9 mm, 8.03 in; 279.4 - 18 = 261.4 mm, 10.29 in
        ("letter", (8, 200, 10, 260)),
        # 297 - 12 = 285 mm, 11.2 in; 420 - 18 = 402 mm, 15.8 in
        ("A3", (11, 280, 15, 400)),
        # a metre at most: 39.37 in
        ("44x46in", (39, 1000, 39, 1000)),
    ],
)
def test_bars_are_as_long_as_the_sheet_or_a_metre_allows(sheet, bars):
    ruler = made(sheet)
    found = [
        side for bar in (ruler.across, ruler.along) for side in (bar.in_inches.inches, bar.in_mm.mm)
    ]
    assert tuple(found) == bars
    assert ruler.across.asked("mm").mm == bars[1]
    assert ruler.across.asked("in").inches == bars[0]


@pytest.mark.parametrize("sheet", ["13x19in", "letter", "A3", "A4", "11x17in", "24x42in"])
def test_every_line_lies_on_whole_pixels_where_the_printer_reaches(sheet):
    ruler = made(sheet)
    for box in ruler.lines():
        sides = box.left, box.top, box.right, box.bottom
        assert all((side / PIXEL).denominator == 1 for side in sides)
        assert FEED.left <= box.left
        assert box.right <= ruler.width - FEED.right
        assert FEED.top <= box.top
        assert box.bottom <= ruler.height - FEED.bottom


@pytest.mark.parametrize(("unit", "end"), [("in", 12), ("mm", Fraction(310) / Fraction("25.4"))])
def test_the_bold_end_lines_stand_where_the_bar_says(unit, end):
    """The middles of the two bold lines on one side of the bar across are exactly its length apart."""
    ruler = made("13x19in")
    above = {
        "in": lambda box: box.bottom <= ruler.across_at,
        "mm": lambda box: box.top >= ruler.across_at,
    }
    bold = [box for box in ruler.lines() if box.width == BOLD and above[unit](box)]
    middles = sorted((box.left + box.width / 2).inches for box in bold)
    assert [middle - middles[0] for middle in middles] == [0, end]


def test_crosses_stand_an_inch_from_the_edges_and_farther_where_the_printer_needs_it():
    assert made("13x19in").crosses()[0] == (inches(1), inches(1))
    assert made("13x19in").crosses()[3] == (inches(12), inches(18))
    assert made("13x19in").between == inches(17)
    deep = Edges(bottom=length("30mm"))
    assert made("13x19in", deep).inset == length("1 1/2in")


def test_numbers_name_every_inch_and_centimetre():
    told = [
        text for text, *_, bar, unit in made("letter").numbers() if (bar, unit) == ("across", "in")
    ]
    assert told == [str(number) for number in range(9)]


def test_the_unit_of_a_reading_tells_the_side_of_the_bar():
    texts = ("11.71in", '11.71"', "11 3/4 in.", "297.5mm", "29.75 cm", "0.2975 M")
    assert [unit_of(text) for text in texts] == ["in", "in", "in", "mm", "mm", "mm"]


def test_too_small_for_a_ruler():
    assert "too small for a ruler sheet" in refusal(lambda: made("A6"))


@thorough
@given(st.integers(1100, 12000), st.integers(1100, 12000), st.integers(0, 200))
def test_whatever_the_size_bars_stay_inside_and_start_on_a_pixel(wide, high, edge):
    edges = Edges(*[millimetres(Fraction(edge, 10))] * 4)
    size = millimetres(Fraction(wide, 10)), millimetres(Fraction(high, 10))
    try:
        ruler = ruler_sheet(*size, edges)
    except ValueError:
        assert min(size) - edges.left * 2 < length("110mm")
        return
    for bar, side in zip((ruler.across, ruler.along), size, strict=True):
        assert (bar.start / PIXEL).denominator == 1
        assert edges.left <= bar.start
        assert bar.end <= side - edges.left
