"""What holds of every layout, found by carrying its cut list out."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import ZERO, inches, millimetres
from labkit.geometry.packing import Cutter, Piece, Roll, Sheets, pack
from tests.geometry.packing.cutting_up import (
    assert_nothing_missing,
    assert_sound,
    assert_together,
)
from tests.properties import examples

quarters = st.integers(2, 40).map(lambda count: inches(Fraction(count, 4)))
sides = st.one_of(quarters, st.integers(20, 250).map(millimetres))
margins = st.builds(Edges, *[st.sampled_from([ZERO, millimetres(5), inches(1)])] * 4)
rolls = st.builds(
    Roll,
    st.sampled_from([inches(10), inches("23.6"), inches(44)]),
    st.sampled_from([None, None, inches(20)]),
    margins,
    st.booleans(),
)
sheets = st.builds(Sheets, st.just(inches(13)), st.sampled_from([inches(9), inches(19)]), margins)
cutters = st.builds(
    Cutter,
    longest=st.sampled_from([None, inches(46), inches(20)]),
    hold=st.sampled_from([None, inches(1), inches(3)]),
    least=st.sampled_from([None, inches(2)]),
    stack=st.sampled_from([1, 3, 10]),
)


@st.composite
def jobs(draw):
    """Up to eight pieces, some with copies, some in a group; names in order so that order shows."""
    pieces = draw(st.lists(st.builds(Piece, st.just(""), sides, sides), min_size=1, max_size=8))
    named = []
    for number, piece in enumerate(pieces):
        group = draw(st.sampled_from([None, None, "triptych", "five"]))
        copies = draw(st.sampled_from([1, 1, 1, 2, 5]))
        turn = draw(st.booleans())
        named.append(replace(piece, name=f"print {number}", copies=copies, turn=turn, group=group))
    return named


def fits(piece, stock):
    """Whether it can be printed at all."""
    high = stock.height or inches(1000)
    return any(width <= stock.width and height <= high for width, height in piece.ways())


@examples(80)
@given(
    pieces=jobs(),
    stock=st.one_of(rolls, sheets),
    gap=st.sampled_from([ZERO, inches("1/4"), millimetres(7)]),
    stages=st.sampled_from([2, 2, 3, 4, None]),
    cutter=st.one_of(st.just(Cutter()), cutters),
    seed=st.integers(0, 3),
)
def test_every_layout_can_be_cut_as_it_says(pieces, stock, gap, stages, cutter, seed):
    try:
        packing = pack(
            pieces, stock, gap=gap, stages=stages, cutter=cutter, seconds=None, steps=40, seed=seed
        )
    except LabError:
        assert cutter != Cutter(stack=cutter.stack) or not any(fits(each, stock) for each in pieces)
        return
    assert_sound(packing, cutter)
    assert_nothing_missing(packing, pieces)
    assert_together(packing)
    before = (stock.height + gap) * (packing.sheets - 1) if stock.height else ZERO
    assert packing.used + before >= packing.bound or packing.left_out


@examples(30)
@given(pieces=jobs(), gap=st.sampled_from([ZERO, inches("1/4")]))
def test_more_stages_never_take_more_paper_where_it_is_proven(pieces, gap):
    few = [replace(piece, copies=1, group=None) for piece in pieces[:5]]
    used = []
    for stages in (2, 3, None):
        packing = pack(few, Roll(inches(44)), gap=gap, stages=stages, seconds=None, steps=10)
        assert packing.proven
        used.append(packing.used)
    assert used == sorted(used, reverse=True)
