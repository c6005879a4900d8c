"""Light on paper, and steps between two lights."""

import pytest

from labkit.geometry.light import (
    ToneStep,
    luminance,
    lux_for,
    step_text,
    stops,
    strip_steps,
    tone_step,
)
from tests.geometry.refused import refusal


@pytest.mark.parametrize(("lux", "told"), [(2000, 573), (500, 143), (200, 57), (0, 0)])
def test_white_paper_under_a_lamp(lux, told):
    """0.9 · lux / π: a Lambertian surface; the three figures were worked out by hand."""
    assert round(luminance(lux, 0.9)) == told


def test_the_light_that_makes_it_as_bright_as_a_screen():
    assert lux_for(luminance(320, 0.9), 0.9) == pytest.approx(320)
    assert round(lux_for(100, 0.9)) == 349  # 100 π / 0.9


def test_a_stop_is_twice_the_light():
    assert stops(200, 100) == 1
    assert stops(50, 100) == -1
    assert stops(2**0.3 * 7, 7) == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("step", "told"),
    [
        (0.3, "0.3 stops lighter"),
        (-1, "1 stop darker"),
        (0.3 + 1e-9, "0.3 stops lighter"),
        (0.001, "neither lighter nor darker"),
    ],
)
def test_a_step_in_words(step, told):
    assert step_text(step) == told


@pytest.mark.parametrize("step", [2.1, -3, float("nan"), "0.3", None])
def test_what_is_no_tone_step(step):
    assert refusal(tone_step, step) == (
        f"a tone step is a number of stops from -2 to 2, such as 0.3, and not {step}."
    )


@pytest.mark.parametrize(
    ("step", "by", "told"),
    [
        (24.5, "lightness", "a number of L* units from -24 to 24, such as 4, and not 24.5."),
        (4, "percent", "told in stops or in lightness, not in “percent”."),
        (0.333, "stops", "told to a hundredth: give 0.33, and not 0.333."),
    ],
)
def test_steps_of_another_unit_and_finer_ones(step, by, told):
    assert refusal(tone_step, step, by).endswith(told)


def test_a_step_is_what_is_typed_for_it():
    assert tone_step(0.1 + 0.2) == ToneStep(0.3)
    assert tone_step(-4, "lightness").option == "--lighter -4 --by lightness"
    assert str(tone_step(1, "lightness")) == "1 L* unit lighter"
    assert not tone_step(-0.0)
    assert tone_step(-0.0).option == "--lighter 0"


def test_the_steps_of_a_strip_are_as_far_apart_as_their_unit_asks_for():
    amounts = [step.amount for step in strip_steps(5, by="lightness")]
    assert amounts == [-4, 0, 4, 8, 12]
    assert [step.amount for step in strip_steps(3, 0.5, -1)] == [-1, -0.5, 0]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ((1,), "1 steps, 0.3 stops apart, make no test strip"),
        ((5, 0), "5 steps, 0 stops apart, make no test strip"),
        ((5, -4, None, "lightness"), "at least 0.1 L* units apart."),
        ((9, None, None, "lightness"), "reach from -4 to 28, and a tone step from -24 to 24"),
        ((2, 0.3, float("nan")), "reach from nan to nan"),
        ((5, None, None, "percent"), "not in “percent”."),
    ],
)
def test_what_makes_no_strip(asked, told):
    assert told in refusal(strip_steps, *asked)
