"""A picture in parts: sizes worked by hand, how they meet, what cannot be divided."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.geometry.length import ZERO, inches
from labkit.geometry.parts import Split, read_count


def wall(columns, rows, **between):
    size = inches(40), inches(20)
    return Split(size, columns, rows, **{word: inches(each) for word, each in between.items()})


def test_a_triptych_with_gaps_hand_worked():
    """40 in less two gaps of 2 in are 36: three parts of 12 in, that begin at 0, 14 and 28."""
    parts = wall(3, 1, gap=2).parts
    assert [float(part.box.left) for part in parts] == [0, 14, 28]
    assert {part.box.size for part in parts} == {(inches(12), inches(20))}
    assert "hung that far apart" in wall(3, 1, gap=2).hidden()


def test_a_wall_that_overlaps_hand_worked():
    """40 in and one overlap of 1 in make 41 in of paper: two parts of 20 1/2 in, the second from 19 1/2."""
    parts = wall(2, 2, overlap=1).parts
    assert [float(part.box.left) for part in parts] == [0, 19.5, 0, 19.5]
    assert [float(part.box.top) for part in parts] == [0, 0, 9.5, 9.5]
    assert parts[0].box.size == (inches("20.5"), inches("10.5"))


def test_each_part_names_its_neighbours_and_its_seams():
    part = wall(2, 2, overlap=1).parts[3]
    assert part.name == "part 4 of 4"
    assert part.neighbours() == [("left", 3), ("top", 2)]
    told = part.seams()
    assert "begins 19 1/2 in (495.3 mm) from its left and 9 1/2 in" in told[0]
    assert "Left: its outer 1 in (25.4 mm) is on part 3 too" in told[1]
    assert "cut both 1/2 in (12.7 mm) inside." in told[1]
    assert "edge to edge" in wall(2, 1).parts[0].seams()[1]
    assert "hidden behind the gap" in wall(2, 1, gap=1).parts[0].seams("mm")[1]


@given(st.integers(1, 6), st.integers(2, 6), st.integers(-8, 8))
def test_parts_and_what_lies_between_them_are_the_whole(columns, rows, eighths):
    between = inches(eighths) / 8
    size = inches(40), inches("33.3")
    split = Split(size, columns, rows, max(between, ZERO), max(-between, ZERO))
    last = split.parts[-1].box
    assert (last.right, last.bottom) == size
    for part in split.parts:
        for side, number in part.neighbours():
            other = split.parts[number - 1].box
            if side == "left":
                assert part.box.left - other.right == between
            if side == "top":
                assert part.box.top - other.bottom == between


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ((1, 1, {}), "1 × 1 parts cannot be made"),
        ((0, 3, {}), "0 × 3 parts"),
        ((30, 30, {}), "2 to 60 parts"),
        ((3, 1, {"gap": 20}), "leave nothing"),
        ((3, 1, {"gap": -1}), "less than none"),
        ((3, 1, {"overlap": 30}), "beyond their middle"),
        ((3, 1, {"overlap": 1, "gap": 1}), "leave one of the two out"),
    ],
)
def test_refusals(given, told):
    columns, rows, between = given
    with pytest.raises(LabError, match=told):
        wall(columns, rows, **between)


@pytest.mark.parametrize(("text", "counts"), [("3x1", (3, 1)), (" 2 × 12", (2, 12))])
def test_counts_are_read(text, counts):
    assert read_count(text) == counts


@pytest.mark.parametrize("text", ["3", "x3", "3x-1", "drei"])
def test_other_words_are_no_counts(text):
    with pytest.raises(LabError, match="such as 3x1"):
        read_count(text)
