"""The cuts of a print: their order, their figures, and what a cut that is off does to the borders."""

from itertools import product

import pytest
from hypothesis import given

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.trimplan import (
    MARKS,
    Blade,
    finished,
    plan_cuts,
    plan_of,
    to_be_cut,
    widest_border,
)
from labkit.geometry.weight import EVEN, WEIGHTS, Weight
from tests.geometry.refused import refusal
from tests.geometry.strategies import lengths, thorough

SHEET = inches(13), inches(19)
PICTURE = Box(inches("2.5"), inches(3), inches(8), inches(10))
BLADE = Blade(inches(44), length("1/2in"), inches(3), length("1/32in"))
THIN = length("1/32in")


def told(plan):
    return [(cut.side, cut.start, cut.fresh, str(cut.distance), str(cut.off)) for cut in plan.cuts]


def test_hand_worked():
    """A picture of 8 × 10 in at 2 1/2 in and 3 in on 13 × 19 in, to borders of 1 in, 1/2 in more below:
    a piece of 10 × 12 1/2 in from 1 1/2 in and 2 in on. Left off 1 1/2 in, above 2 in; then 10 in and
    12 1/2 in from the fresh edges, and 1 1/2 in and 4 1/2 in fall off."""
    plan = plan_cuts(SHEET, PICTURE, finished(PICTURE, inches(1), WEIGHTS["1/2 in more"]), BLADE)
    assert plan.piece == Box(length("1 1/2in"), inches(2), inches(10), length("12 1/2in"))
    assert told(plan) == [
        ("left", "left", False, "1 1/2 in (38.1 mm)", "1 1/2 in (38.1 mm)"),
        ("top", "top", False, "2 in (50.8 mm)", "2 in (50.8 mm)"),
        ("right", "left", True, "10 in (254 mm)", "1 1/2 in (38.1 mm)"),
        ("bottom", "top", True, "12 1/2 in (317.5 mm)", "4 1/2 in (114.3 mm)"),
    ]
    assert [cut.line for cut in plan.cuts] == [
        inches(19),
        length("11 1/2in"),
        inches(17),
        inches(10),
    ]
    assert plan.lines()[2] == (
        "Right: cut 10 in (254 mm) from the left edge you cut first; 1 1/2 in (38.1 mm) falls off."
    )


def test_the_long_sides_of_a_piece_on_its_side_are_cut_first():
    picture = Box(inches(2), inches(2), inches(12), inches(6))
    plan = plan_cuts((inches(19), inches(13)), picture, finished(picture, inches(1)))
    assert [cut.side for cut in plan.cuts] == ["top", "left", "bottom", "right"]


def test_the_one_cut_that_evens_a_square():
    """Common practice, no source: a 12 in square at 1/2 in from left and top is cut 13 in from the top."""
    square = Box(length("1/2in"), length("1/2in"), inches(12), inches(12))
    plan = plan_cuts(SHEET, square, finished(square, length("1/2in")))
    assert told(plan) == [("bottom", "top", False, "13 in (330.2 mm)", "6 in (152.4 mm)")]
    assert "from the top edge of the sheet" in plan.lines()[0]


def test_a_first_cut_that_is_off_shows_twice_from_the_fresh_edge():
    """1/32 in too near to the picture on the left: 31/32 in there. The piece is still 10 in wide, so the
    right border is 1 1/32 in: 1/16 in apart. From the marks, only the left one is off."""
    plan = plan_cuts(SHEET, PICTURE, finished(PICTURE, inches(1)))
    from_edge = plan.borders_if({"left": THIN})
    assert (from_edge.left, from_edge.right) == (inches(1) - THIN, inches(1) + THIN)
    assert plan.furthest_off(from_edge) == THIN
    assert plan.uneven(from_edge) == length("1/16in")
    from_marks = plan.borders_if({"left": THIN}, MARKS)
    assert (from_marks.left, from_marks.right) == (inches(1) - THIN, inches(1))
    assert plan.uneven(from_marks) == THIN
    assert plan.borders_if({"right": THIN}).right == inches(1) - THIN


def test_a_border_that_is_not_cut_cannot_be_cut_wrong():
    square = Box(length("1/2in"), length("1/2in"), inches(12), inches(12))
    plan = plan_cuts(SHEET, square, finished(square, length("1/2in")))
    assert plan.borders_if({"left": THIN}) == plan.borders
    assert plan.borders_if({"bottom": THIN}).bottom == length("1/2in") - THIN


@thorough
@given(lengths(), lengths(), lengths(1), lengths(1), lengths())
def test_cutting_in_order_leaves_the_piece(left, top, width, height, border):
    """Followed by a hand that only knows the edges of the paper it holds."""
    picture = Box(left + border, top + border, width, height)
    size = picture.right + border + left, picture.bottom + border + top
    plan = plan_cuts(size, picture, finished(picture, border))
    hand = {"left": ZERO, "top": ZERO, "right": size[0], "bottom": size[1]}
    for cut in plan.cuts:
        away = cut.distance if cut.start in ("left", "top") else -cut.distance
        line = hand[cut.start] + away
        assert abs(hand[cut.side] - line) == cut.off > ZERO
        assert cut.fresh == any(
            each.side == cut.start for each in plan.cuts[: plan.cuts.index(cut)]
        )
        hand[cut.side] = line
    piece = Box(
        hand["left"], hand["top"], hand["right"] - hand["left"], hand["bottom"] - hand["top"]
    )
    assert piece == plan.piece
    assert plan.borders == Edges(border, border, border, border)


def test_never_less_below_than_above():
    for weight, border in product(WEIGHTS.values(), (ZERO, length("1/4in"), inches(3))):
        below = picture_in(finished(PICTURE, border, weight)).bottom
        assert below >= border
        assert weight.above(below) == border
    assert "never narrower" in refusal(lambda: Weight(-THIN))


def picture_in(piece: Box) -> Edges:
    return PICTURE.within(piece)


def test_the_widest_border_is_what_the_narrowest_side_allows():
    """2 1/2 in left and right, 3 in above, 6 in below: 2 1/2 in. With 15 % more below nothing changes,
    for 2 1/2 × 1.15 = 2.875 in is there."""
    assert widest_border(PICTURE, SHEET) == length("2 1/2in")
    assert widest_border(PICTURE, SHEET, WEIGHTS["15 % more"]) == length("2 1/2in")
    low = Box(inches(3), inches(6), inches(7), inches(12))
    assert widest_border(low, SHEET, WEIGHTS["1/2 in more"]) == length("1/2in")


def test_refusals():
    sheet, narrow = SHEET, finished(PICTURE, inches(3))
    assert "1/2 in (12.7 mm) short on the left" in refusal(
        lambda: plan_cuts(sheet, PICTURE, narrow)
    )
    small = Blade(inches(12), length("1/2in"), inches(3), THIN)
    assert "the trimmer here cuts 12 in" in refusal(
        lambda: plan_cuts(sheet, PICTURE, finished(PICTURE, inches(1)), small)
    )
    card = Box(inches(4), inches(4), inches(2), inches(2))
    assert "by hand with a knife" in refusal(
        lambda: plan_cuts(sheet, card, finished(card, length("1/4in")), BLADE)
    )
    assert "less than none" in refusal(lambda: finished(PICTURE, -THIN))


def layout_on(sheet="13x19in", picture=PICTURE, edges=Edges(*[length("4mm")] * 4)) -> Layout:
    return Layout(find_sheet(sheet), picture, unprintable=edges)


def test_a_layout_to_be_cut_keeps_its_white_and_gets_marks():
    cut = to_be_cut(layout_on(), inches(1), WEIGHTS["1/2 in more"])
    assert cut.keeps_white
    assert cut.trim.bleed == ZERO
    assert len(cut.trim.marks()) == 8
    assert cut.guides == ((PICTURE.left, PICTURE.right), (PICTURE.top, PICTURE.bottom))
    assert "with borders: left 1 in (25.4 mm)" in cut.sentence()
    assert [cut.side for cut in plan_of(cut, BLADE).cuts] == ["left", "top", "right", "bottom"]


def test_marks_that_the_printer_does_not_reach_are_refused():
    wide = length("2 1/4in")
    assert "corner marks" in refusal(lambda: to_be_cut(layout_on(), wide))
    assert to_be_cut(layout_on(), wide, EVEN, marked=False).trim.marks() == []
    with pytest.raises(LabError, match="no room for these borders"):
        to_be_cut(layout_on(), inches(3))
