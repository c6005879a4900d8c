"""Prints beside each other: each its part of the strip, in its own shape."""

from itertools import pairwise

import pytest

from labkit.drawing.prints import draw_prints
from tests.drawing.drawn import Drawn


def drawn(tiles=((0, "the file"), (2, "A")), shape=(300, 200)) -> Drawn:
    svg = draw_prints(
        tiles, 4, shape, prefix="prints", title="An invented printer", words="Two of them."
    )
    return Drawn(svg, "prints")


def windows(made) -> list[list[float]]:
    inner = [each for each in made.root.iter() if each.tag.endswith("}svg")][1:]
    return [[float(part) for part in each.get("viewBox").split()] for each in inner]


def test_each_shows_its_part_of_the_strip():
    assert windows(drawn()) == [[0, 0, 250, 1000], [500, 0, 250, 1000]]


@pytest.mark.parametrize("shape", [(300, 200), (200, 300), (100, 100)])
def test_shapes_are_kept(shape):
    made = drawn(shape=shape)
    _, _, wide, high = made.box("0-frame")
    assert wide / high == pytest.approx(shape[0] / shape[1], rel=1e-3)


def test_they_stand_side_by_side_inside_the_drawing():
    made = drawn(tiles=[(at, "ABCD"[at]) for at in range(4)])
    boxes = [made.box(f"{number}-frame") for number in range(4)]
    for (left, _, wide, _), (following, *_) in pairwise(boxes):
        assert following > left + wide
    assert boxes[-1][0] + boxes[-1][2] <= made.size[0]
    assert boxes[0][1] + boxes[0][3] < made.size[1]


def test_they_are_labelled_told_and_wait_for_the_strip():
    made = drawn()
    assert made.texts[-2:] == ["the file", "A"]
    assert made.words == "Two of them."
    assert made.by_id["0-photo"].get("href") is None


def test_words_are_escaped():
    assert drawn(tiles=[(0, "<b>&")]).texts[-1] == "<b>&"
