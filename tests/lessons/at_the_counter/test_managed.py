"""Colour managed once, twice, never: two switches, and a question of three prints."""

from itertools import permutations

import pytest

from labkit.lessons.at_the_counter import managed
from labkit.lessons.at_the_counter.managed import Managing, managing_readings
from labkit.room.rules import load_room
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.lessons.hands import choose, is_right, said
from tests.lessons.resolution.test_sizes import press, shown

RIGHT = ("twice", "never", "once")


@pytest.mark.parametrize(
    ("program", "printer", "times"),
    [(False, False, "never"), (True, False, "once"), (False, True, "once"), (True, True, "twice")],
)
def test_how_often_it_is_managed(program, printer, times):
    assert Managing(program, printer).times == times


def test_the_readings():
    made = {
        "light": {"file": 105.4, "once": 105.3, "never": 68.0, "twice": 141.4},
        "colour": {"file": 42.3, "once": 42.1, "never": 28.7, "twice": 54.6},
    }
    assert dict(managing_readings(Managing(True, True), made, load_room())) == {
        "colour is managed": "twice",
        "lightness: file, print": "105, 141 of 255",
        "colourfulness: file, print": "42, 55 of 255",
        "right?": "no",
        "in this room": "the printer does it",
    }


def test_both_switches_change_what_is_seen_and_told():
    app = managed.prints()
    assert app.readings["right?"] == "no"
    for name, times in (("program", "once"), ("printer", "twice")):
        before = shown(app)
        choose(app, name, True)
        assert all(now != then for now, then in zip(shown(app), before, strict=True))
        assert app.readings["colour is managed"] == times
    choose(app, "program", False)
    assert app.readings["right?"] == "yes"
    assert "it looks like the file" in app.sentence


def test_on_our_picture_each_print_is_what_it_is_said_to_be():
    """Lightness and colourfulness: never below the file, twice above it, once within a level."""
    app = managed.prints(demo_pictures()[0].file)
    figures = {}
    for program, printer in ((False, False), (True, False), (True, True)):
        choose(app, "program", program)
        choose(app, "printer", printer)
        told = [app.readings[f"{each}: file, print"] for each in ("lightness", "colourfulness")]
        figures[app.state.times] = [
            [int(part) for part in text.removesuffix(" of 255").split(", ")] for text in told
        ]
    assert all(print_ < file - 10 for file, print_ in figures["never"])
    assert all(abs(print_ - file) <= 1 for file, print_ in figures["once"])
    assert all(print_ > file + 10 for file, print_ in figures["twice"])


def test_the_reader_is_shown_their_own_picture(tmp_path):
    file = make.picture(tmp_path / "mine.png", size=(200, 300))
    app = managed.prints(file)
    assert app.view.photo.startswith("data:image/jpeg;base64,")
    assert app.view.photo != managed.prints().view.photo


def test_the_committed_drawings_hold_no_picture_and_no_answer():
    question = managed.which_print()
    for still in (managed.prints().still, question.still):
        assert "data:" not in still
    for word in RIGHT:
        assert word not in question.still
    assert [f">{letter}<" in question.still for letter in "ABC"] == [True] * 3


@pytest.mark.parametrize("given", list(permutations(RIGHT)))
def test_the_three_prints(given):
    question = managed.which_print()
    for entry, name in zip(question.entries, given, strict=True):
        entry.value = name
    press(question)
    assert is_right(question) == (given == RIGHT)
    if given == RIGHT:
        assert "A was managed twice" in said(question)
    elif given[0] != "twice":
        assert "lighter" in said(question) or "Hold B and C" in said(question)
    else:
        assert said(question).startswith("Hold B and C against the file.")
