"""The two invented papers, and middle grey on them under a lamp."""

import pytest

from labkit.teaching.papers import PAPERS, STEPS, best_step, middle_grey, off, paper, white

MIDDLE = 0.18418651851244416
"""Light of CIE L* 50: CIE 15."""


@pytest.mark.parametrize(("name", "share"), [("gloss", 0.900), ("matt", 0.830)])
def test_white_is_what_the_profile_says(name, share):
    """((L + 16) / 116)³ of L 96 and L 93, which the papers are made with: CIE 15."""
    assert white(name) == pytest.approx(share, abs=1e-3)
    assert paper(name).unfit == ""


@pytest.mark.parametrize("name", PAPERS)
def test_middle_grey_is_a_shade_lighter_than_it_should_be_because_black_is_lifted(name):
    """Black point compensation: Y' = b + (1 − b) Y, b being black's share of white's light (ISO 18619)."""
    lightness = paper(name).black[0]
    black = ((lightness + 16) / 116) ** 3 if lightness > 8 else lightness / 903.3
    black /= white(name)
    for step in (-0.3, 0.0, 0.6):
        wanted = black + (1 - black) * MIDDLE * 2**step
        assert middle_grey(name, step) / white(name) == pytest.approx(wanted, abs=0.004)


@pytest.mark.parametrize("name", PAPERS)
def test_lighter_steps_are_lighter_and_so_is_more_light(name):
    greys = [middle_grey(name, step) for step in STEPS]
    assert greys == sorted(greys)
    assert off(name, 400, 0) - off(name, 200, 0) == pytest.approx(1)


def test_the_dimmer_the_hall_the_lighter_the_step():
    steps = [best_step("gloss", lux) for lux in (420, 350, 280, 230, 180)]
    assert steps == [-0.3, 0, 0.3, 0.6, 0.9]


def test_a_dimmer_screen_needs_less():
    assert best_step("matt", 200, screen=60) < best_step("matt", 200, screen=100)
