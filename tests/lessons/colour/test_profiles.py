"""Numbers read by profiles, labels changed and translations made."""

import pytest

from labkit.lessons.colour import profiles as lesson
from tests.files import make
from tests.lessons.hands import choose, is_right, said
from tests.lessons.resolution.test_sizes import shown

MADE = {
    "spot": [200, 50, 40],
    "translated": [172, 78, 52],
    "sent": [255, 20, 0],
    "lab": {name: [44.4, 56.2, 41.6] for name in ("file", "as wide", "translated")},
    "changed": {"file": 0.0, "as wide": 14.1, "translated": 0.2},
}


def test_the_same_numbers_mean_another_colour():
    read = dict(lesson.read_readings(lesson.Read("as wide"), MADE))
    assert read == {
        "numbers of the strongest colour": "200 50 40",
        "lightness L*, 0 to 100": "44",
        "green to red, a*": "+56",
        "blue to yellow, b*": "+42",
        "off from the file's colour (ΔE2000)": "far",
    }


@pytest.mark.parametrize(
    ("what", "numbers", "colour"),
    [("file", "no", "no"), ("as wide", "no", "yes"), ("translated", "yes", "no")],
)
def test_what_a_label_changes_and_what_a_translation(what, numbers, colour):
    read = dict(lesson.done_readings(lesson.Done(what), MADE))
    assert read["did the numbers change?"] == numbers
    assert read["did the colour change?"] == colour
    assert read["numbers before"] == "200 50 40"


def test_on_our_picture_every_way_does_what_it_is_said_to():
    app = lesson.labels()
    expected = {
        "file": ("no", "no"), "as wide": ("no", "yes"), "translated": ("yes", "no"),
        "wide, label lost": ("yes", "yes"), "matt, label lost": ("yes", "yes"),
    }  # fmt: skip
    for what, answers in expected.items():
        choose(app, "what", what)
        told = app.readings
        assert (told["did the numbers change?"], told["did the colour change?"]) == answers, what


def test_every_profile_changes_drawing_and_colour_but_never_the_numbers():
    app = lesson.numbers()
    first = app.readings["numbers of the strongest colour"]
    for by in ("as wide", "as matt"):
        before = shown(app)
        choose(app, "by", by)
        assert all(now != then for now, then in zip(shown(app), before, strict=True))
        assert app.readings["numbers of the strongest colour"] == first
        assert "is another" in app.sentence


def test_the_reader_is_shown_their_own_picture(tmp_path):
    file = make.picture(tmp_path / "mine.png", size=(200, 300))
    app = lesson.numbers(file)
    assert app.view.photo.startswith("data:image/jpeg;base64,")
    assert app.view.photo != lesson.numbers().view.photo


def test_the_committed_drawings_hold_no_picture():
    assert "data:" not in lesson.numbers().still
    assert "data:" not in lesson.labels().still


@pytest.mark.parametrize(
    "given",
    [
        "the colours, not the numbers", "the numbers, not the colours", "numbers and colours",
        "neither of them",
    ],
)  # fmt: skip
def test_what_a_translation_changes(given):
    question = lesson.what_changes()
    question.entry.value = given
    question.buttons.children[0].click()
    assert is_right(question) == (given == "the numbers, not the colours")
    assert len(said(question)) > 40
