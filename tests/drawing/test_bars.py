"""Sizes as bars: to one scale, the longest across the whole drawing."""

import pytest

from labkit.drawing.bars import draw_bars
from tests.drawing.drawn import Drawn

BARS = [("not packed", 4.0, "4 MB"), ("LZW", 3.0, "3 MB"), ("both", 1.0, "1 MB")]


def drawn(bars=BARS, chosen="LZW") -> Drawn:
    return Drawn(draw_bars(bars, chosen=chosen, prefix="b", title="Sizes", words="Three."), "b")


def test_bars_are_to_one_scale_and_begin_at_one_line():
    made = drawn()
    boxes = [made.box(f"bar-{number}") for number in range(3)]
    longest = boxes[0][2]
    assert [wide / longest for _, _, wide, _ in boxes] == pytest.approx([1, 3 / 4, 1 / 4], rel=1e-3)
    assert len({left for left, *_ in boxes}) == 1
    assert boxes[0][0] + longest < made.size[0]
    assert boxes[-1][1] + boxes[-1][3] < made.size[1]


def test_the_one_that_is_chosen_looks_otherwise():
    fills = [drawn().by_id[f"bar-{number}"].get("fill") for number in range(3)]
    assert fills[0] == fills[2] != fills[1]


def test_each_is_told():
    for name, _, told in BARS:
        assert f">{name}<" in drawn().svg
        assert f">{told}<" in drawn().svg
