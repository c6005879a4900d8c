"""Prints laid by hand: hand-worked figures, snapping, and what holds wherever one is moved."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.packing import Piece, Roll
from labkit.geometry.packing.loose import one_below_another
from tests.properties import examples

GAP, STEP = length("1/4in"), length("1/16in")
BOAT, TIDE = Piece("Boat", inches(8), inches(10)), Piece("Tide", inches(5), inches(7))
FIVE = millimetres(5)
EDGES = Edges(FIVE, inches(1), FIVE, inches(2))


@pytest.fixture
def two():
    """8 × 10 in, and below it 5 × 7 in, on a roll that prints 17 in wide."""
    return one_below_another([BOAT, TIDE], Roll(inches(17)), gap=GAP)


def put(loose, at, left, top, *, snap=False):
    return loose.moved(at, length(left), length(top), step=STEP, snap=snap)


def test_one_below_another_can_always_be_cut(two):
    """10 + 1/4 + 7 in long; 80 and 35 of 17 × 17.25 = 293.25 square inches are print."""
    assert two.used == length("17 1/4in")
    assert two.waste == 1 - Fraction(115) / Fraction("293.25")
    assert two.is_sound
    assert [each.turned for each in two.prints] == [False, False]


def test_what_is_too_wide_begins_turned():
    loose = one_below_another(
        [Piece("Long", inches(20), inches(6)), TIDE], Roll(inches(17)), gap=GAP
    )
    assert [each.turned for each in loose.prints] == [True, False]
    assert loose.used == length("27 1/4in")


def test_it_snaps_beside_its_neighbour(two):
    beside = put(two, 1, "8.4in", "0.3in", snap=True)
    assert (beside.prints[1].left, beside.prints[1].top) == (length("8 1/4in"), ZERO)
    assert beside.used == inches(10)
    assert beside.waste == 1 - Fraction(115, 170)
    assert beside.is_sound
    assert [guide.told for guide in beside.snapped(1)] == [
        "where printing begins", "a gap from Boat", "in line with Boat",
    ]  # fmt: skip


def test_it_snaps_to_the_far_edge_of_what_is_printed(two):
    assert put(two, 1, "11.7in", "5in", snap=True).prints[1].left == inches(12)


def test_further_off_it_stays_on_whole_steps(two):
    own = put(two, 1, "9.9in", "1.02in", snap=True).prints[1]
    assert (own.left, own.top) == (length("9 7/8in"), inches(1))


def test_prints_on_one_another(two):
    """Tide wholly on Boat: 80 of 17 × 10 square inches are covered, not 115."""
    piled = put(two, 1, "3in", "2in")
    assert piled.overlapping == ((0, 1),)
    assert piled.parting.stuck == (0, 1)
    assert piled.waste == 1 - Fraction(80, 170)
    assert not piled.is_sound


def test_nearer_than_the_gap(two):
    close = put(two, 1, "8 1/8in", "0in")
    assert (close.close, close.overlapping, close.parting.stuck) == (((0, 1),), (), ())
    assert not close.is_sound


def test_into_the_edge_that_is_not_printed_and_no_further():
    loose = one_below_another([BOAT, TIDE], Roll(inches(17), margins=EDGES), gap=GAP)
    out = loose.moved(1, inches(-9), inches(90), step=STEP, snap=False)
    assert (out.prints[1].left, out.outside) == (-FIVE, (1,))
    assert out.prints[1].box.bottom == loose.used
    assert out.paper == Box(-FIVE, inches(-1), inches(17) + FIVE * 2, length("20 1/4in"))


def test_a_quarter_turn_about_its_corner(two):
    turned = two.turned(1)
    assert turned.prints[1].box == Box(ZERO, length("10 1/4in"), inches(7), inches(5))
    assert turned.turned(1) == two


def test_a_print_that_may_not_be_turned():
    one_way = Piece("Boat", inches(8), inches(10), turn=False)
    with pytest.raises(LabError, match="Boat may not be turned"):
        one_below_another([one_way], Roll(inches(17)), gap=GAP).turned(0)


def test_from_guide_to_guide(two):
    """Across to the far edge, back along the roll to its beginning, across until it is a gap from Boat."""
    there = two.leapt(1, along=False, onward=True)
    assert there.prints[1].left == inches(12)
    there = there.leapt(1, along=True, onward=False)
    assert there.prints[1].top == ZERO
    there = there.leapt(1, along=False, onward=False)
    assert there.prints[1].left == length("8 1/4in")
    assert there.is_sound
    assert there.leapt(1, along=True, onward=False) == there


MOVES = st.tuples(st.integers(0, 3), st.sampled_from(("move", "snap", "turn", "leap")))
PLACES = st.tuples(*[st.floats(-1e6, 1e6) | st.floats(-5, 40)] * 2)


@examples(120)
@given(moves=st.lists(st.tuples(MOVES, PLACES), min_size=1, max_size=8))
def test_wherever_prints_are_moved_what_is_told_is_so(moves):
    pieces = [
        BOAT,
        TIDE,
        Piece("Wall", inches(16), inches(12)),
        Piece("Card", inches(6), inches(6)),
    ]
    start = loose = one_below_another(pieces, Roll(inches(17), margins=EDGES), gap=GAP)
    for (at, way), (left, top) in moves:
        if way == "turn":
            loose = loose.turned(at)
        elif way == "leap":
            loose = loose.leapt(at, along=left > top, onward=left > 0)
        else:
            asked = inches(left), inches(top)
            loose = loose.moved(at, *asked, step=STEP, snap=way == "snap")
    assert [each.piece for each in loose.prints] == pieces
    assert_told(loose, start)


def assert_told(loose, start):
    """All from the corners of the boxes, in plain numbers."""
    corners = [
        tuple(float(side) for side in (box.left, box.top, box.right, box.bottom))
        for box in loose.boxes
    ]
    apart = {}
    for one, a in enumerate(corners):
        assert a[1] >= 0
        assert a[3] <= max(float(start.used), 16) + 1e-9
        for other, b in enumerate(corners[one + 1 :], one + 1):
            apart[one, other] = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
    exact = 1e-9
    assert set(loose.overlapping) == {pair for pair, by in apart.items() if by < -exact}
    assert set(loose.close) == {pair for pair, by in apart.items() if -exact <= by < 0.25 - exact}
    assert set(loose.outside) == {
        at for at, box in enumerate(corners) if box[0] < -exact or box[2] > 17 + exact
    }
    assert float(loose.used) == pytest.approx(max(box[3] for box in corners))
    assert 0 <= loose.waste < 1
    assert loose.parting.stuck or not loose.overlapping
