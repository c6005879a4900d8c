"""Reading a hand-in: facts first; the fact that is wrong; then the picture, the finding, what to say."""

from base64 import b64decode, b64encode
from io import BytesIO
from random import Random

import pytest
from PIL import Image

from labkit.files.checks.findings import Findings, tell
from labkit.geometry.pixelbox import PixelBox
from labkit.lessons.at_the_counter import reading
from labkit.lessons.at_the_counter.reading import (
    FACTS,
    NONE,
    SLIP,
    Looked,
    cut_out,
    fact_readings,
    finding_lines,
)
from labkit.lessons.parts.settings import settings
from labkit.room.rules import load_room
from labkit.teaching.faults import FAULTS, ODDITIES, draw_case
from labkit.teaching.faults.cases import our_pictures
from tests.lessons.hands import is_right, said, words

CHECK = "That is my answer"


@pytest.fixture(scope="module")
def looked():
    """Every hand-in of the app, looked over once for all tests here."""
    app = reading.hand_ins()
    for _, case in app.case.options:
        app.case.value = case
        assert app.looked.found.file.name == case.name
    return app._looked


@pytest.fixture
def app(looked, monkeypatch):
    monkeypatch.setattr(reading, "look_over", lambda case, room: looked[case.name])
    return reading.hand_ins()


def answer(app, fact) -> str:
    app.entry.value = fact
    side = app._columns.children[0]
    buttons = next(each for each in side.children if type(each).__name__ == "HBox").children
    button, show = buttons
    assert (button.description, show.description) == (CHECK, "Show me")
    button.click()
    return said(app)


def choose(app, letter) -> None:
    app.case.value = next(case for label, case in app.case.options if label.startswith(letter))


def test_first_there_are_only_facts(app):
    assert app.still is None
    assert len(app._columns.children) == 1
    assert app._told.value == ""
    facts = words(app._facts.value)
    assert "resolution 72 ppi" in facts
    assert "layers and pages one flat layer" in facts
    assert app.sentence.endswith("Which of its facts is wrong?")
    assert "72 ppi" in app.sentence


@pytest.mark.parametrize(
    ("letter", "wrong", "finding"),
    [
        ("A", "the resolution", "only the stated resolution is wrong"),
        ("B", "the sheet it amounts to", "the picture alone"),
        ("C", NONE, "fine: nothing to mend."),
        ("D", "layers and pages", "still has layers"),
        ("E", "colours and profile", "carries no profile"),
        ("G", SLIP, "fine: nothing to mend."),
    ],
)
def test_most_hand_ins_have_one_thing_wrong_or_none(app, letter, wrong, finding):
    choose(app, letter)
    for other in {*FACTS, SLIP} - {wrong}:
        answer(app, other)
        assert not is_right(app)
        assert app._told.value == ""
    assert answer(app, wrong) == f"Yes: {wrong}."
    assert is_right(app)
    told = words(app._told.value)
    assert finding in told
    assert told.startswith("The picture says")
    assert app.case.value.reason in told
    assert len(app._columns.children) == 2
    assert "<svg" in app.view.drawing


@pytest.mark.parametrize(
    ("letter", "wrong"),
    [
        ("F", ("the resolution", "colours and profile")),
        ("H", ("the name", "layers and pages")),
    ],
)
def test_two_hand_ins_have_two_things_wrong_and_either_is_an_answer(app, letter, wrong):
    choose(app, letter)
    for one, other in (wrong, wrong[::-1]):
        assert answer(app, "the kind of file").startswith("Not the kind of file")
        assert answer(app, one) == f"Yes: {one}. And there is another: {other}."
        assert is_right(app)
    told = {fault.code for fault in app.looked.found.faults}
    assert told == set(app.case.value.codes)
    assert len(told) == 2


def test_the_slip_is_right_but_for_one(app):
    """A check sees the file alone: only who reads both can tell."""
    for label, case in app.case.options:
        app.case.value = case
        own = load_room().find_stock(case.sheet).label
        agrees = f"{SLIP} 1 print on {own} " in words(app._facts.value)
        assert agrees == (not label.startswith("G"))
    choose(app, "G")
    assert app.case.value.reason.startswith(
        "Your slip asks for A4, and your file is a sheet of letter."
    )


def test_an_answer_that_is_half_right_gets_its_own_words(app):
    assert answer(app, "the sheet it amounts to").startswith("The size is odd, but it only follows")
    choose(app, "B")
    assert answer(app, "the name").startswith("The name says another size")
    assert answer(app, "layers and pages").startswith("Not layers and pages: read the facts again")


def test_it_is_shown_to_whoever_asks(app):
    side = app._columns.children[0]
    next(each for each in side.children if type(each).__name__ == "HBox").children[1].click()
    assert said(app) == "What is wrong: the resolution."
    assert not is_right(app)
    assert "The check finds" in words(app._told.value)
    assert len(app._columns.children) == 2


def test_what_was_told_follows_the_units(app):
    side = app._columns.children[0]
    next(each for each in side.children if type(each).__name__ == "HBox").children[1].click()
    settings().keep(units="mm")
    assert len(app._columns.children) == 2
    assert "The picture says Picture" in words(app._told.value)
    assert " mm (" in words(app._told.value).split("wide")[0]


def test_nothing_chosen_is_said(app):
    assert answer(app, None) == "choose one of them first."


def test_another_hand_in_begins_anew(app):
    answer(app, "the resolution")
    choose(app, "B")
    assert (app.entry.value, app._told.value, said(app)) == (None, "", "")
    assert len(app._columns.children) == 1


def test_the_place_is_told_where_it_has_a_name(app):
    choose(app, "C")
    answer(app, NONE)
    assert "The picture is centred" in words(app._told.value)


def test_the_drawing_shows_the_whole_file_on_its_sheet(looked):
    for shown in looked.values():
        drawing = shown.draw("in", "one", whole=shown.whole)
        assert ('id="one-whole"' in drawing) == (shown.found.layout is not None)
        assert 'id="one-photo"' in drawing
        assert "data:" not in shown.draw("in", "one")


def test_a_finding_is_about_one_fact_at_most():
    codes = [code for known in FACTS.values() for code in known]
    assert len(codes) == len(set(codes))
    assert {
        "picture-without-sheet",
        "layers",
        "profile-missing",
        "resolution-label",
        "name",
        "format",
    } <= set(codes)


def test_what_cannot_be_opened_is_a_hand_in_too(looked, tmp_path):
    found = Findings(tmp_path / "gone.tif", (tell("empty", refusal="it is empty"),))
    shown = Looked(found)
    assert fact_readings(shown, "in") == [
        ("its name", "gone.tif"),
        ("it cannot be opened", "it is empty"),
    ]
    assert shown.whole == shown.photo == ""
    assert "nothing can be shown of it" in shown.draw("in", "one")
    assert finding_lines(found)[0].startswith("stop: It is empty.")


def test_what_was_handed_in_before_it_is_looked_at_as_well():
    kind = next(fault for fault in FAULTS if "same-picture" in fault.codes)
    room = load_room()
    case = draw_case(Random(1), 2, our_pictures(), room=room, kind=kind)
    shown = reading.look_over(case, room)
    assert ("handed in before it", case.beside) in fact_readings(shown, "in")
    assert "same-picture" in [item.code for item in shown.found.items]


def test_a_black_sheet_is_seen():
    kind = next(fault for fault in ODDITIES if "surround-colour" in fault.codes)
    room = load_room()
    shown = reading.look_over(draw_case(Random(1), 1, our_pictures(), room=room, kind=kind), room)
    whole = Image.open(BytesIO(b64decode(shown.whole.partition(",")[2])))
    assert max(whole.getpixel((3, 3))) < 60
    picture = Image.open(BytesIO(b64decode(shown.photo.partition(",")[2])))
    assert picture.width < whole.width


@pytest.mark.parametrize(
    ("box", "size"), [((100, 200, 300, 600), (20, 40)), ((0, 0, 1, 1), (1, 1))]
)
def test_a_part_is_cut_out(box, size):
    made = BytesIO()
    Image.new("RGB", (100, 100), "white").save(made, "JPEG")
    address = f"data:image/jpeg;base64,{b64encode(made.getvalue()).decode()}"
    left, top, right, bottom = box
    part = cut_out(address, PixelBox(left, top, right - left, bottom - top), (1000, 1000))
    assert Image.open(BytesIO(b64decode(part.partition(",")[2]))).size == size
