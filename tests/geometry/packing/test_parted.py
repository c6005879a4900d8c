"""A roll that the printer cuts across by itself."""

from itertools import pairwise

import pytest

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import inches
from labkit.geometry.packing import Cutter, Piece, Roll, pack
from tests.geometry.packing.cutting_up import assert_sound

MARGINS = Edges(inches(1), inches(2), inches(1), inches(3))
CUTTER = Cutter(longest=inches(30))


def laid(*sizes, parted=True, stages=2, **more):
    pieces = [Piece(f"P{n}", *map(inches, size), turn=False) for n, size in enumerate(sizes, 1)]
    roll = Roll(inches(40), None, MARGINS, parted)
    return pack(
        pieces, roll, gap=inches(1), stages=stages, cutter=CUTTER, seconds=None, steps=60, **more
    )


def test_a_roll_wider_than_the_longest_cut_is_laid_where_the_printer_cuts():
    with pytest.raises(LabError, match="the longest is 30 in"):
        laid((18, 20), (18, 20), parted=False)
    packing = laid((18, 20), (18, 20), (18, 12))
    assert max(cut.line for cut in packing.cuts) <= inches(30)
    assert_sound(packing, CUTTER)


def test_cuts_of_one_row_hand_worked():
    """Two prints 18 in wide side by side on 42 in of paper, with 2 in above and 3 in below their 20 in:
    first along, 25 in long, from the left edge; then each 2 in from its top, and 20 in further."""
    cuts = laid((18, 20), (18, 20)).cuts
    along = [cut for cut in cuts if not cut.across]
    assert [float(cut.distance) for cut in along] == [1, 18, 1, 18]
    assert {cut.line for cut in along} == {inches(25)}
    across = [cut for cut in cuts if cut.across]
    assert {(float(cut.distance), float(cut.line)) for cut in across} == {(2, 18), (20, 18)}


def test_one_print_across_is_trimmed_at_its_sides_first():
    cuts = laid((28, 20)).cuts
    assert [cut.across for cut in cuts] == [False, False, True, True]
    assert_sound(laid((28, 20)), CUTTER)


def test_a_print_wider_than_the_longest_cut_stays_refused():
    with pytest.raises(LabError, match="the longest is 30 in"):
        laid((35, 20))


@pytest.mark.parametrize("stages", [2, 3, None])
def test_any_number_of_stages_begins_with_rows(stages):
    sizes = [(18, 20), (10, 9), (9, 9), (18, 12), (20, 8), (6, 7), (7, 6)]
    packing = laid(*sizes, stages=stages)
    assert len(packing.placed) == len(sizes)
    assert_sound(packing, CUTTER)


def test_rows_follow_each_other_a_gap_apart():
    packing = laid((30, 20), (30, 10), (30, 5))
    tops = [(float(row.top), float(row.bottom)) for row in packing.rows]
    assert sorted(bottom - top for top, bottom in tops) == [5, 10, 20]
    assert all(after - before == 1 for (_, before), (after, _) in pairwise(tops))
