"""Boxes on a sheet, and the four distances round them."""

from hypothesis import given

from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, inches, length
from tests.geometry.strategies import edges, lengths, thorough

BOX = Box(inches(1), inches(2), inches(3), inches(5))


def test_a_box_ends_where_its_size_says():
    assert BOX.right == inches(4)
    assert BOX.bottom == inches(7)
    assert BOX.size == (inches(3), inches(5))


def test_a_box_grows_on_all_four_sides():
    assert BOX.grown(inches(1)) == Box(ZERO, inches(1), inches(5), inches(7))
    assert BOX.grown(-inches(1)) == Box(inches(2), inches(3), inches(1), inches(3))
    assert BOX.grown(ZERO) == BOX


def test_the_part_of_a_box_inside_another():
    assert BOX.clipped(Box(ZERO, ZERO, inches(2), inches(19))) == Box(
        inches(1), inches(2), inches(1), inches(5)
    )
    assert BOX.clipped(BOX.grown(inches(1))) == BOX
    assert BOX.clipped(Box(inches(9), ZERO, inches(1), inches(1))).width < ZERO


def test_the_distances_out_to_a_larger_box():
    sheet = Box(ZERO, ZERO, inches(13), inches(19))
    assert BOX.within(sheet) == Edges(inches(1), inches(2), inches(9), inches(12))
    assert sheet.within(BOX) == Edges(-inches(1), -inches(2), -inches(9), -inches(12))


def test_edges_in_words():
    found = Edges(length("1/2in"), length("3mm"), inches(1), ZERO)
    assert found.text() == (
        "left 1/2 in (12.7 mm), top 3 mm (0.12 in), right 1 in (25.4 mm), bottom 0 in (0 mm)"
    )
    assert found.text("mm").startswith("left 12.7 mm (1/2 in), top 3 mm (0.12 in)")
    assert [side for side, _ in found.items()] == ["left", "top", "right", "bottom"]


def test_edges_are_none_unless_given():
    assert Edges() == Edges(ZERO, ZERO, ZERO, ZERO)


def test_a_turned_sheet_feeds_from_the_left():
    """The top edge of an upright sheet, which feeds first, is on the left of the sheet on its side."""
    upright = Edges(left=inches(1), top=inches(2), right=inches(3), bottom=inches(4))
    assert upright.turned() == Edges(
        left=inches(2), top=inches(3), right=inches(4), bottom=inches(1)
    )


@thorough
@given(edges)
def test_four_turns_are_none(upright):
    assert upright.turned() != upright or len(set(dict(upright.items()).values())) == 1
    assert upright.turned().turned().turned().turned() == upright


@thorough
@given(edges, lengths(2), lengths(2))
def test_what_edges_leave_turns_with_the_sheet(upright, width, height):
    """A quarter-turn anticlockwise takes a point x, y of a sheet so wide to y, width − x."""
    left = Box(
        upright.left,
        upright.top,
        width - upright.left - upright.right,
        height - upright.top - upright.bottom,
    )
    turned = Box(left.top, width - left.right, left.height, left.width)
    assert turned.within(Box(ZERO, ZERO, height, width)) == upright.turned()


@thorough
@given(lengths(), lengths(), lengths(), lengths(), lengths())
def test_a_grown_box_is_that_far_out_on_every_side(left, top, width, height, by):
    box = Box(left, top, width, height)
    assert box.within(box.grown(by)) == Edges(by, by, by, by)
    assert box.grown(by).grown(-by) == box
