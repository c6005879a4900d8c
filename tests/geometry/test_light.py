"""Light on paper, and steps between two lights."""

import pytest

from labkit.geometry.light import luminance, lux_for, step_text, stops, tone_step
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
