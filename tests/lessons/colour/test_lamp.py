"""Light on a print, light of a screen, and the strip that is read between them."""

import pytest

from labkit.lessons.colour import lamp
from labkit.lessons.colour.lamp import Hall, Strip, hall_readings, strip_readings
from labkit.teaching.papers import STEPS, best_step
from tests.lessons.hands import choose, is_right, said

KINDS = [(2000, "P1"), (1500, "P1"), (500, "P2"), (375, "P2"), (200, "neither"), (1000, "neither")]


@pytest.mark.parametrize(("lux", "name"), KINDS)
def test_the_conditions_of_iso_3664(lux, name):
    """P1 2000 ± 500 lx, P2 500 ± 125 lx: ISO 3664:2009, second-hand; the 125 from memory."""
    told = dict(hall_readings(Hall(lux=lux)))["ISO 3664 calls this light"]
    assert told.startswith(name)


def test_the_readings_of_a_hall():
    """The gloss reflects 90.0 %: 0.900 · 200 / π is 57 cd/m², log2(57.3 / 120) is −1.1."""
    assert dict(hall_readings(Hall(200, 120, "gloss"))) == {
        "white of the screen": "120 cd/m²",
        "white of the print": "57 cd/m²",
        "the print beside the screen": "1.1 stops darker",
        "equal in a light of": "419 lx",
        "ISO 3664 calls this light": "neither P1 nor P2",
    }


def test_more_light_makes_the_print_brighter_until_the_screen_is_dimmed_instead():
    app = lamp.hall()
    slopes = {}
    for lux in (200, 2000):
        app.controls["lux"]._slider.value = lux
        slopes[lux] = [float(part.split('"')[0]) for part in app.view.drawing.split('slope="')[1:]]
        assert len(slopes[lux]) == 6
    assert slopes[200][0] == 1
    assert slopes[200][3] == pytest.approx(57.3 / 120, abs=0.01)
    assert slopes[2000][3] == 1
    assert slopes[2000][0] == pytest.approx(120 / 573, abs=0.01)
    assert "2000 lx" in app.sentence


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("48%", "Yes."), ("47.5%", "Yes."), ("57%", "57 is the number of cd/m²"),
        ("100%", "Both are called white"), ("90%", "90% is what the paper reflects"),
        ("53%", "The paper reflects 90%"), ("21%", "57 ÷ 120"), ("80%", "80% is too much."),
    ],
)  # fmt: skip
def test_how_bright_paper_is(given, told):
    question = lamp.how_bright()
    question.entry.value = given
    question.buttons.children[0].click()
    assert told in said(question)
    assert is_right(question) == told.startswith("Yes")


def test_the_strip_tells_every_step_in_the_light_it_is_seen_in():
    app = lamp.strip()
    first = app.view.drawing
    assert first.count("middle grey ") >= 5
    app.controls["lux"]._slider.value = 200
    assert app.view.drawing != first
    far = {}
    for step in STEPS:
        choose(app, "step", step)
        assert f"{lamp.step_label(step)} stops" in app.view.drawing
        number, _, way = app.readings["beside the screen"].partition(" stops ")
        far[step] = float(number)
        assert way in ("lighter", "darker")
    assert min(far, key=far.get) == best_step("matt", 200)


def test_the_readings_of_a_strip():
    """Matt, 500 lx, no step: middle grey reflects 0.1717, so 0.1717 · 500 / π is 27.3 cd/m²."""
    assert dict(strip_readings(Strip(500, "matt", 0.0))) == {
        "middle grey on the screen": "18.4 cd/m²",
        "middle grey in step 0": "27.3 cd/m²",
        "beside the screen": "0.57 stops lighter",
    }


def test_neither_begins_at_an_answer_nor_holds_a_picture():
    assert "data:" not in lamp.strip().still
    assert best_step("matt", Strip().lux) != Strip().step
