"""Rows that a person chose: their length, their cuts, and what is refused."""

import pytest

from labkit.errors import LabError
from labkit.geometry.length import inches, length
from labkit.geometry.packing import Cutter, Piece, Roll, pack, pack_rows

GAP = length("1/4in")
BOAT, TIDE, WALL = (
    Piece("Boat", inches(8), inches(10)),
    Piece("Tide", inches(5), inches(7)),
    Piece("Wall", inches(12), inches(16), turn=False),
)


def rows(*given, pieces=(BOAT, TIDE, WALL), wide=17, cutter=Cutter()):
    return pack_rows(pieces, given, Roll(inches(wide)), gap=GAP, cutter=cutter)


def test_two_rows_hand_worked():
    """Boat turned is 8 in high, Tide 7: 8 + 1/4 + 16 in."""
    laid = rows([(0, True), (1, False)], [(2, False)])
    assert laid.used == length("24 1/4in")
    corners = [(each.name, each.box.left, each.box.top, each.turned) for each in laid.placed]
    assert corners == [
        ("Boat", inches(0), inches(0), True),
        ("Tide", length("10 1/4in"), inches(0), False),
        ("Wall", inches(0), length("8 1/4in"), False),
    ]


def test_the_same_rows_as_the_search_have_the_same_cuts():
    two = (BOAT, TIDE)
    found = pack(two, Roll(inches(17)), gap=GAP, seconds=None, steps=50)
    order = [(two.index(each.piece), each.turned) for each in found.placed]
    laid = rows(order, pieces=two)
    assert (laid.used, laid.cuts) == (found.used, found.cuts)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ([[(0, False), (2, False)], [(1, False)]], "row 1 is 3 1/4 in .* wider than the 17 in"),
        ([[(0, False)], [(1, False)]], "every piece lies in one row"),
        ([[(0, False), (0, False)], [(1, False), (2, False)]], "every piece lies in one row"),
        ([[(0, False), (1, False)], [(2, True)]], "Wall may not be turned"),
    ],
)
def test_refusals(given, told):
    with pytest.raises(LabError, match=told):
        rows(*given)


def test_what_the_cutter_cannot_cut():
    with pytest.raises(LabError, match="the longest is 15 in"):
        rows([(0, True), (1, False)], [(2, False)], cutter=Cutter(longest=inches(15)))
