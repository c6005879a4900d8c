"""The fault to recognise: what is round beside a circle that it no longer is."""

from fractions import Fraction

import pytest

from labkit.drawing.stretched import draw_stretched
from labkit.geometry.proportion import Part
from tests.drawing.drawn import Drawn

WIDE = (4500, 3000)
MOON = Part("the moon", (Fraction(7, 10), Fraction(1, 10), Fraction(8, 10), Fraction(25, 100)))
"""450 × 450 pixels: a circle."""


def drawn(ratio=Fraction(5, 4), shape=WIDE, part=MOON, circle=True):
    titles = {"title": "Never stretched", "words": "A moon."}
    svg = draw_stretched(shape, ratio, part, circle=circle, prefix="s", **titles)
    return Drawn(svg, "s")


def figure(made, ident: str, *names: str) -> list[float]:
    return [float(made.by_id[ident].get(name)) for name in names]


@pytest.mark.parametrize("ratio", [Fraction(5, 4), Fraction(16, 9), Fraction(1), Fraction(2, 3)])
def test_both_pictures_have_the_shapes_they_are_said_to_have(ratio):
    made = drawn(ratio)
    for name, shape in (("true", Fraction(3, 2)), ("wrong", ratio)):
        _, _, wide, high = made.box(f"{name}-frame")
        assert wide / high == pytest.approx(float(shape), abs=2e-3)
    assert "wrong: stretched" in made.texts
    assert "cross" in made.by_id


@pytest.mark.parametrize(
    ("ratio", "tall", "told"),
    [
        (Fraction(5, 4), 1.2, "the moon: 20% too high"),  # 1.5 / 1.25
        (Fraction(1), 1.5, "the moon: 50% too high"),
        (Fraction(16, 9), 27 / 32, "the moon: 19% too wide"),  # 32/27 = 1.185
        (Fraction(3, 2), 1, "the moon: round"),
    ],
)
def test_a_circle_of_the_same_width_shows_how_far_off_round_it_is(ratio, tall, told):
    made = drawn(ratio)
    wide, high = figure(made, "oval-outline", "rx", "ry")
    assert high / wide == pytest.approx(tall, abs=2e-3)
    assert figure(made, "oval-circle", "r") == [wide]
    box = made.box("oval-frame")
    assert box[3] / box[2] == pytest.approx(tall, abs=2e-3)
    assert told in made.texts


def test_where_nothing_is_stretched_the_circle_lies_on_the_round_part():
    made = drawn()
    wide, high, radius = (
        *figure(made, "round-outline", "rx", "ry"),
        *figure(made, "round-circle", "r"),
    )
    assert wide == high == radius
    assert "the moon: round" in made.texts


def test_without_the_circle_nothing_lies_on_the_round_part_or_tells_how_far_off_it_is():
    made = drawn(circle=False)
    assert not {"oval-circle", "oval-outline", "round-circle"} & set(made.by_id)
    assert made.texts.count("the moon") == 2
    assert "%" not in made.svg.partition("<desc")[2].partition("</desc>")[2].replace("100%", "")


def test_nothing_is_struck_through():
    """The mark of what is wrong stands above the picture."""
    made = drawn()
    _, top, _, _ = made.box("wrong-frame")
    start = made.by_id["cross"].get("d").split("l")[0]
    assert float(start[1:].split()[1]) + 12 < top


def test_nothing_sticks_out():
    for ratio in (Fraction(1, 2), Fraction(1), Fraction(16, 9)):
        made = drawn(ratio, (3000, 4000))
        for name in ("true", "wrong", "round", "oval"):
            left, top, wide, high = made.box(f"{name}-frame")
            assert left >= 0
            assert top >= 60
            assert left + wide <= made.size[0]
            assert top + high <= made.size[1]


def test_the_same_drawing_every_time():
    assert drawn().svg == drawn().svg
