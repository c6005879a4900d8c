"""Enlarged crops: what is read off, what every control changes, and the question of the three filters."""

from itertools import permutations

import pytest

from labkit.lessons.resolution import enlarging
from labkit.lessons.resolution.enlarging import Enlarged, crops_readings
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.geometry.refused import refusal
from tests.lessons.hands import choose, is_right, said
from tests.lessons.resolution.test_sizes import press, shown

RIGHT = ("bilinear", "bicubic", "nearest")


def test_of_sixteen_pixels_one_is_kept():
    told = dict(crops_readings(Enlarged(), {"nearest": 12.25}))
    assert told == {
        "pixels of the crop": "200 × 200 = 40000",
        "pixels kept when reduced": "50 × 50 = 2500",
        "pixels made up by enlarging": "37500",
        "off by, on average": "12.2 levels of 255",
    }


@pytest.mark.parametrize("by", ["bilinear", "bicubic"])
def test_every_filter_changes_everything(by):
    app = enlarging.crops()
    before = shown(app)
    choose(app, "by", by)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))
    assert f"enlarged, {by}" in app.view.drawing


def test_closer_changes_drawing_and_sentence():
    app = enlarging.crops()
    before = shown(app)
    choose(app, "closer", 4)
    assert "4 times closer" in app.sentence
    assert app.view.drawing != before[1]


def test_no_filter_brings_it_back():
    """Bicubic comes nearest in mean difference, and is still far off."""
    app = enlarging.crops()
    off = []
    for by in ("nearest", "bilinear", "bicubic"):
        choose(app, "by", by)
        off.append(float(app.readings["off by, on average"].split()[0]))
    assert min(off) > 3
    assert off[2] == min(off)


def test_the_committed_drawing_holds_no_picture():
    app = enlarging.crops()
    assert "data:" not in app.still
    assert app.view.photo.startswith("data:image/png;base64,")


def test_the_puzzle_shows_our_own_picture_unnamed():
    question = enlarging.which_filter()
    assert question.still == question.figure.still
    for name in RIGHT:
        assert name not in question.still
        assert name not in question.figure.sentence
    assert [label in question.still for label in (">A<", ">B<", ">C<")] == [True] * 3
    assert question.figure.view.photo == enlarging.crops(demo_pictures()[0].file).view.photo


def test_the_puzzle_can_be_looked_at_closer_and_as_a_whole():
    figure = enlarging.which_filter().figure
    before = figure.view.drawing
    choose(figure, "closer", 1)
    assert figure.view.drawing != before


@pytest.mark.parametrize("given", list(permutations(RIGHT)))
def test_the_three_filters(given):
    question = enlarging.which_filter()
    for entry, name in zip(question.entries, given, strict=True):
        entry.value = name
    press(question)
    assert is_right(question) == (given == RIGHT)
    if given == RIGHT:
        assert "A is bilinear, B bicubic, C nearest" in said(question)
    elif given[2] == "nearest":
        assert "A is the softer" in said(question)
    else:
        assert "squares" in said(question) or "A is the softer" in said(question)


def test_the_menus_have_the_names_of_the_drawings():
    question = enlarging.which_filter()
    assert [entry.description for entry in question.entries] == ["A.", "B.", "C."]
    assert all(f">{letter}<" in question.still for letter in "ABC")


def test_unanswered_it_asks_again():
    question = enlarging.which_filter()
    press(question)
    assert said(question).startswith("put each of them in once")


def test_the_spectrum_states_what_it_plots():
    chart = enlarging.spectrum()
    assert chart.png.startswith(b"\x89PNG")
    for name in ("original", "nearest", "bilinear", "bicubic"):
        assert f"{name} " in chart.sentence
    assert "nothing finer than 25 waves" in chart.sentence


def test_a_picture_smaller_than_the_crop_is_refused(tmp_path):
    small = make.picture(tmp_path / "small.png", size=(199, 400))
    assert refusal(enlarging.crops, small).startswith(
        "small.png has 199 × 400 pixels, and this takes"
    )
