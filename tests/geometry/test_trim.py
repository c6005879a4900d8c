"""Trim, bleed, corner marks and the one cut that evens three borders."""

from hypothesis import given

from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.trim import MARK_LENGTH, MARK_WIDTH, Trim, cut_for_equal_borders
from tests.geometry.strategies import lengths, thorough

PIECE = Trim(
    Box(millimetres(40), millimetres(50), millimetres(100), millimetres(150)), millimetres(3)
)


def box(left, top, width, height) -> Box:
    return Box(*(millimetres(side) for side in (left, top, width, height)))


def test_the_boxes_lie_one_in_the_other():
    assert PIECE.bleed_box == box(37, 47, 106, 156)
    assert PIECE.marked_box == box(31, 41, 118, 168)


def test_eight_marks_in_line_with_the_cuts_and_outside_the_bleed():
    assert set(PIECE.marks()) == {
        # along the upper cut, 50 mm down, and the lower, 200 mm down; lines 0.25 mm thin
        box(31, "49.875", 6, "0.25"),
        box(143, "49.875", 6, "0.25"),
        box(31, "199.875", 6, "0.25"),
        box(143, "199.875", 6, "0.25"),
        # along the left cut, 40 mm across, and the right, 140 mm across
        box("39.875", 41, "0.25", 6),
        box("39.875", 203, "0.25", 6),
        box("139.875", 41, "0.25", 6),
        box("139.875", 203, "0.25", 6),
    }
    assert len(PIECE.marks()) == 8


def test_without_bleed_the_marks_begin_at_the_cut():
    bare = Trim(PIECE.box, ZERO)
    assert bare.bleed_box == bare.box
    assert bare.marks()[0] == box(34, "49.875", 6, "0.25")


def test_the_cut_that_makes_the_lower_border_equal_to_the_left():
    picture = Box(length("3/4in"), length("2in"), inches(10), inches(8))
    assert cut_for_equal_borders(picture) == length("10 3/4in")


@thorough
@given(lengths(), lengths(), lengths(1), lengths(1))
def test_after_the_cut_three_borders_are_equal(left, top, width, height):
    picture = Box(left, left, width, height)
    piece = Box(ZERO, ZERO, left + width + left, cut_for_equal_borders(picture))
    assert picture.within(piece) == Edges(left, left, left, left)


@thorough
@given(lengths(1), lengths(1), lengths(0, 1))
def test_no_mark_touches_the_bleed_or_leaves_the_marked_box(width, height, bleed):
    trim = Trim(Box(inches(2), inches(2), width, height), bleed)
    for mark in trim.marks():
        assert max(mark.size) == MARK_LENGTH
        assert min(mark.size) == MARK_WIDTH
        beside = mark.right <= trim.bleed_box.left or mark.left >= trim.bleed_box.right
        over = mark.bottom <= trim.bleed_box.top or mark.top >= trim.bleed_box.bottom
        assert beside or over
        assert (
            min(size for _, size in mark.within(trim.marked_box.grown(MARK_WIDTH / 2)).items())
            >= ZERO
        )
