"""Prints that lie anywhere: who is stuck, and cuts carried out on paper."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, inches
from labkit.geometry.packing import Cutter
from labkit.geometry.packing.parting import part_prints
from tests.properties import examples


def box(left, top, wide, high):
    return Box(*map(inches, (left, top, wide, high)))


ROUND = [box(0, 0, 2, 1), box(2, 0, 1, 2), box(1, 2, 2, 1), box(0, 1, 1, 2)]
"""Four round a hole: every line across or along runs through one of them."""
PAPER = box(-1, -1, 24, 10)
SIDE_BY_SIDE = [box(0, 0, 10, 8), box(12, 0, 10, 8)]


def table(parting, paper):
    """Carry the cuts out: what then lies on the table."""
    paper_there = [paper]
    for cut in parting.cuts:
        paper_there.remove(cut.hand)
        assert all(min(half.size) > ZERO for half in cut.halves)
        paper_there += cut.halves
    return paper_there


@pytest.mark.parametrize(
    ("boxes", "stuck"),
    [
        (ROUND, (0, 1, 2, 3)),
        ([*ROUND, box(1, 1, 1, 1)], (0, 1, 2, 3, 4)),
        ([box(4, 0, 1, 3), *ROUND], (1, 2, 3, 4)),  # the first comes off by a line along the paper
        ([box(0, 0, 2, 2), box(1, 1, 2, 2), box(5, 0, 1, 1)], (0, 1)),
        (SIDE_BY_SIDE, ()),
    ],
)
def test_who_is_stuck(boxes, stuck):
    parting = part_prints(boxes, box(-1, -1, 30, 30))
    assert parting.stuck == stuck
    assert bool(parting.cuts) == (not stuck)


def test_two_side_by_side_hand_worked():
    """The waste round both, on all four sides; then between them, beside each."""
    parting = part_prints(SIDE_BY_SIDE, PAPER)
    assert [(cut.across, cut.at.inches) for cut in parting.cuts] == [
        (True, 1), (True, 8), (False, 1), (False, 22), (False, 10), (False, 2),
    ]  # fmt: skip


def test_another_order_where_the_first_is_too_long():
    """24 in across are too long for the cutter; the 10 in along are not, and then 12 in are left across."""
    parting = part_prints(SIDE_BY_SIDE, PAPER, Cutter(longest=inches(15)))
    assert not parting.refused
    assert not parting.cuts[0].across
    assert set(SIDE_BY_SIDE) <= set(table(parting, PAPER))


@pytest.mark.parametrize(
    ("cutter", "told"),
    [
        (Cutter(longest=inches(9)), "a cut 24 in .* long, and the longest is 9 in"),
        (
            Cutter(least=inches(11)),
            "leaves paper only 10 in .* wide to cut, and the least is 11 in",
        ),
        (Cutter(hold=inches(13)), "only 9 in .* the clamp, which has to hold 13 in"),
    ],
)
def test_what_the_cutter_cannot_cut_in_any_order(cutter, told):
    parting = part_prints(SIDE_BY_SIDE, PAPER, cutter)
    assert (parting.cuts, parting.stuck) == ((), ())
    assert re.search(told, parting.refused)


small = st.integers(0, 7)
boxes = st.lists(
    st.builds(box, small, small, st.integers(1, 4), st.integers(1, 4)), min_size=1, max_size=6
)


def can_be_parted(boxes):
    """By trying every line that is there, one recursion for each; no print is cut."""
    if len(boxes) < 2:
        return True
    for near, far in (("left", "right"), ("top", "bottom")):
        for at in range(-1, 13):
            line = inches(at)
            one = [each for each in boxes if getattr(each, far) <= line]
            other = [each for each in boxes if getattr(each, near) >= line]
            if one and other and len(one) + len(other) == len(boxes):
                return can_be_parted(one) and can_be_parted(other)
    return False


@examples(200)
@given(boxes=boxes)
def test_cuts_bring_out_every_print_or_someone_is_stuck(boxes):
    paper = box(-1, -1, 14, 14)
    parting = part_prints(boxes, paper, Cutter(longest=inches(14)))
    assert (not parting.stuck) == can_be_parted(boxes)
    if not parting.stuck:
        left = table(parting, paper)
        for each in boxes:
            left.remove(each)
        assert not any(min(each.clipped(scrap).size) > ZERO for each in boxes for scrap in left)
