import re
from itertools import pairwise

import pytest

from labkit.drawing.folding import draw_folding
from labkit.geometry.folding import SERIES, folds
from labkit.geometry.paper import find_sheet
from tests.drawing.drawn import Drawn

MOST = [find_sheet(name) for name in SERIES.values()]


def drawn(first="A0", times=4):
    pieces = folds(find_sheet(first), times)
    made = draw_folding(pieces, MOST, prefix="fold", title=f"{first} folded", words="In half.")
    return Drawn(made, "fold"), pieces


def ray(made, number):
    ends = re.findall(r"-?[\d.]+", made.by_id[f"ray-{number}"].get("d"))
    return tuple(map(float, ends))


@pytest.mark.parametrize("first", list(SERIES.values()))
@pytest.mark.parametrize("times", [0, 1, 5, 10])
def test_pieces_are_to_scale_on_the_left_and_on_the_right(first, times):
    made, pieces = drawn(first, times)
    scale = float(made.root.get("data-unit-scale"))
    for number, piece in enumerate(pieces):
        sides = [float(side) * scale for side in (piece.width, piece.height)]
        assert made.box(f"corner-{number}")[2:] == pytest.approx(tuple(sides), abs=0.01)
        lying = sides if number % 2 == 0 else sides[::-1]
        assert made.box(str(number))[2:] == pytest.approx(tuple(lying), abs=0.01)
    assert str(times + 1) not in made.by_id


def test_each_piece_is_in_the_corner_of_the_one_before():
    made, _ = drawn(times=6)
    boxes = [made.box(str(number)) for number in range(7)]
    for larger, smaller in pairwise(boxes):
        assert smaller[:2] == larger[:2]
        assert smaller[2] * smaller[3] == pytest.approx(larger[2] * larger[3] / 2, rel=0.01)


def test_the_scale_is_one_for_all_series():
    scales = {drawn(first)[0].root.get("data-unit-scale") for first in SERIES.values()}
    assert len(scales) == 1


@pytest.mark.parametrize("first", list(SERIES.values()))
def test_nothing_leaves_the_drawing(first):
    made, _ = drawn(first, 10)
    wide, high = made.size
    for ident in ("0", "corner-0"):
        left, top, across, down = made.box(ident)
        assert left >= 16
        assert top >= 50
        assert left + across <= wide - 14
        assert top + down <= high - 24


def test_metric_pieces_share_one_diagonal_and_inch_pieces_have_two():
    for first in ("A0", "B0", "JIS B0"):
        made, _ = drawn(first)
        assert "ray-1" not in made.by_id
        assert [each for each in made.texts if " : 1" in each] == ["1.414 : 1"]
    made, _ = drawn("ANSI E")
    assert {"22 : 17", "17 : 11"} <= set(made.texts)
    assert {"4 : 3", "3 : 2"} <= set(drawn("ARCH E")[0].texts)
    assert "ray-1" not in drawn("ANSI E", 0)[0].by_id


def test_the_diagonals_run_through_the_corners():
    made, _ = drawn("ANSI E", 5)
    for number in range(6):
        left, top, wide, high = made.box(f"corner-{number}")
        x, y, end_x, end_y = ray(made, number % 2)
        assert (x, y) == pytest.approx((left, top + high), abs=0.02)
        assert (y - end_y) / (end_x - x) == pytest.approx(high / wide, rel=1e-3)


def test_the_piece_in_hand_stands_out():
    made, pieces = drawn(times=3)
    looks = [made.by_id[str(number)].get("fill") for number in range(4)]
    assert len(set(looks[:3])) == 1
    assert looks[3] != looks[0]
    assert pieces[3].name == "A3"
    assert made.texts.count("A3") == 2  # in hand, and the half folded away


def test_the_same_drawing_every_time():
    assert drawn()[0].svg == drawn()[0].svg
    assert (drawn()[0].title, drawn()[0].words) == ("A0 folded", "In half.")
