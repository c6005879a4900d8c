"""The practice counter: one hand-in at a time, decided, then told; a round, and the technician's own."""

import csv

import pytest

from labkit.errors import LabError
from labkit.geometry.layout import PLACES
from labkit.home import Reader, home
from labkit.lessons.at_the_counter import counter
from labkit.lessons.at_the_counter.reading import look_over
from labkit.teaching.at_the_counter import CASES, KINDS, NOTHING, reasons_for
from labkit.teaching.faults import ANSWERS
from tests.files import make
from tests.geometry.refused import refusal
from tests.lessons.hands import choose, is_right, said, slide, words
from tests.lessons.resolution.test_sizes import press


@pytest.fixture(scope="module")
def first():
    """The first hand-in of all, once it was looked over."""
    return []


@pytest.fixture
def quick(monkeypatch, first):
    """The first hand-in of all is looked over, and stands for every other."""

    def once(case, room):
        first.append(first[0] if first else look_over(case, room))
        return first[0]

    monkeypatch.setattr(counter, "look_over", once)


@pytest.fixture
def app(quick):
    return counter.practice("Nia Oak")


def decide(app, given, reason) -> str:
    app.given.value, app.reason.value = given, reason
    app.go.click()
    return said(app)


def rightly(app) -> str:
    return decide(app, app.case.answer, reasons_for(app.case)[0])


def wrong_about(app) -> str:
    """An answer that the technician would not give."""
    return "send back" if app.case.answer == "print" else "print"


def test_it_begins_with_the_facts_and_the_sheet_and_tells_nothing():
    app = counter.practice("Nia Oak")
    assert app.sentence.startswith(f"Hand-in 1 of 12. {app.case.name}")
    assert app.sentence.endswith("Print it, ask, or send it back, and why?")
    assert app.case.name in words(app._facts.value)
    assert app._told.value == ""
    assert "<svg" in app.still
    assert "data:" not in app.still
    assert 'id="counter-whole"' in app.view.drawing
    assert (app.given.value, app.reason.value) == (None, "")
    assert app.go.description == "That is my decision"
    assert not list(home().folder.rglob("*.tif"))  # what was made to be looked at is gone again


def test_every_reason_can_be_chosen(app):
    offered = [value for _, value in app.reason.options]
    assert set(KINDS) | {NOTHING} <= set(offered)
    assert [value for _, value in app.given.options] == list(ANSWERS)


def test_a_decision_needs_an_answer_and_a_reason(app):
    assert decide(app, None, NOTHING).startswith("decide first")
    assert decide(app, "print", "").startswith("say why as well")
    assert decide(app, "ask", NOTHING).startswith("if nothing is wrong, print it")
    assert app.score.decided == ()
    assert app.go.description == "That is my decision"


def test_decided_rightly_the_technician_agrees_and_says_it(app):
    assert rightly(app) == "As the technician would."
    assert is_right(app)
    told = words(app._told.value)
    assert app.case.reason in told
    assert "The check finds" in told
    assert app.go.description == "Next hand-in"
    assert (app.given.disabled, app.reason.disabled) == (True, True)  # it is decided


def test_right_for_another_reason_is_said(app):
    while app.case.answer == "print":
        rightly(app)
        app.go.click()
    fit = reasons_for(app.case)
    other = next(kind for kind in KINDS if kind not in fit)
    assert decide(app, app.case.answer, other) == (
        f"As the technician would, but for another reason: {fit[0]}."
    )
    assert is_right(app)


def test_decided_wrongly_it_has_a_name(app):
    while app.case.answer != "print":
        rightly(app)
        app.go.click()
    told = decide(app, "send back", next(iter(KINDS)))
    assert told == "The technician would print it, and you sent it back: good work sent back."
    assert not is_right(app)
    assert "Print it." in words(app._told.value)


def test_the_next_one_begins_anew(app):
    first = app.case
    rightly(app)
    app.go.click()
    assert app.case is not first
    assert app.sentence.startswith("Hand-in 2 of 12.")
    assert (app.given.value, app.reason.value, app._told.value, said(app)) == (None, "", "", "")
    assert (app.given.disabled, app.reason.disabled) == (False, False)
    assert app.go.description == "That is my decision"


def test_a_round_ends_with_what_came_out_and_another_begins(app):
    wrong = 0
    for number in range(counter.COUNT):
        if number < 2:
            decide(app, wrong_about(app), next(iter(KINDS)))
            wrong += 1
        else:
            rightly(app)
        assert ("This round" in app._told.value) == (number + 1 == counter.COUNT)
        if number + 1 < counter.COUNT:
            assert app.go.description == "Next hand-in"
            app.go.click()
    told = words(app._told.value)
    assert f"decided as the technician would {counter.COUNT - wrong} of {counter.COUNT}" in told
    assert "good work sent back" in told
    assert "bad work printed" in told
    assert app.go.description == "Another round"
    names = [case.name for case in app.cases]
    app.go.click()
    assert app.sentence.startswith("Hand-in 1 of 12.")
    assert app.score.decided == ()
    assert [case.name for case in app.cases] != names
    assert words(app._heading.value) == f"Hand-in 1 of 12. · round 1: {counter.COUNT - wrong} of 12"


def test_the_round_is_the_readers_own(quick):
    names = [case.name for case in counter.practice("Nia Oak").cases]
    assert [case.name for case in counter.practice("  nia  OAK ").cases] == names
    assert [case.name for case in counter.practice("Ivo Reed").cases] != names
    home().keep(Reader(name="Nia Oak"))
    assert [case.name for case in counter.practice().cases] == names


@pytest.mark.parametrize("level", [1, 2])
def test_good_and_bad_are_mixed_at_both_levels(quick, level):
    app = counter.practice("Nia Oak", level=level)
    answers = [case.answer for case in app.cases]
    assert answers.count("print") == 5  # 40 % of twelve
    assert {case.level for case in app.cases} == {level}


def test_there_is_no_third_level(quick):
    assert refusal(counter.practice, "Nia Oak", level=3).startswith("there is no level 3")


# A technician's own


@pytest.fixture
def folder(tmp_path):
    for name, verdict, reason in (
        ("boat.jpg", "send back", "A JPEG, and no sheet round it: a TIFF on a sheet, please."),
        ("notes.tif", "ask", "It does not open here. What did you save it with?"),
    ):
        with (tmp_path / "cases.csv").open("a", encoding="utf-8", newline="") as file:
            table = csv.writer(file)
            if not file.tell():
                table.writerow(("file", "verdict", "reason"))
            table.writerow((name, verdict, reason))
    make.picture(tmp_path / "boat.jpg", size=(600, 400))
    (tmp_path / "notes.tif").write_text("not a picture")
    return tmp_path


def test_files_of_ones_own_room(folder):
    app = counter.practice(cases=folder)
    assert app.sentence.startswith("Hand-in 1 of 2. boat.jpg: JPEG, 600 × 400 pixels")
    assert decide(app, "send back", next(iter(KINDS))) == "As the technician would."
    assert "A JPEG, and no sheet round it" in words(app._told.value)
    app.go.click()
    assert app.sentence.startswith("Hand-in 2 of 2. notes.tif: ")
    assert "it cannot be opened" in words(app._facts.value)
    told = "The technician would ask first, and you printed it: printed without asking."
    assert decide(app, "print", NOTHING) == told
    assert "a reason that fits" not in words(app._told.value)  # nobody knows which would
    assert (folder / "boat.jpg").exists()
    app.go.click()
    assert {case.name for case in app.cases} == {"boat.jpg", "notes.tif"}


def test_the_environment_can_name_the_folder(folder, monkeypatch):
    monkeypatch.setenv(CASES, str(folder))
    assert [case.name for case in counter.practice().cases] == ["boat.jpg", "notes.tif"]
    assert len(counter.practice("Nia Oak", level=1).cases) == counter.COUNT  # asked for by name


def test_a_folder_without_a_table_is_refused(tmp_path):
    with pytest.raises(LabError, match=r"there is no cases\.csv"):
        counter.practice(cases=tmp_path)


def test_what_goes_wrong_while_it_is_made_is_said(app, monkeypatch):
    def full(case, room):
        raise OSError("the disk is full")

    rightly(app)
    monkeypatch.setattr(counter, "look_over", full)
    app.go.click()
    assert "the disk is full" in said(app)
    assert app.sentence.startswith("Hand-in 1 of 12.")  # and can be asked for again
    assert app.go.description == "Next hand-in"


def test_what_is_known_follows_the_units_that_are_shown_first(app):
    choose(app, "units", "mm")
    assert words(app._facts.value).index(" mm (") > 0
    assert home().reader().units == "mm"
    assert "paper round the picture" in words(app._facts.value)


def test_a_part_at_100_percent_and_our_rules_can_be_unfolded(app):
    assert "data:image/jpeg;base64," in app._closer.value
    rules = words("".join(each.value for each in _all_html(app)))
    assert "Sheets in stock: letter, A4" in rules
    assert "Its name: Owner_Title_size." in rules
    assert "300 ppi up to 20 in" in rules


def _all_html(widget):
    children = getattr(widget, "children", ())
    found = [each for each in children if hasattr(each, "value") and isinstance(each.value, str)]
    return found + [html for child in children for html in _all_html(child)]


# The questions


@pytest.mark.parametrize("ask", [counter.how_to_say, counter.who_decides])
def test_one_answer_is_right_and_every_other_is_explained(ask):
    question = ask()
    told = []
    for option in question.entry.options:
        question.entry.value = option
        press(question)
        told.append((is_right(question), said(question)))
    assert [right for right, _ in told].count(True) == 1
    assert len({words for _, words in told}) == len(told)
    assert all(len(words) > 40 for _, words in told)


def test_the_right_way_to_say_it_does_not_give_itself_away_by_its_length():
    question = counter.how_to_say()
    lengths = sorted(len(option) for option in question.entry.options)
    right = len(question._right)
    assert lengths[0] < right < lengths[-1] or lengths[-1] - lengths[0] < 30


# The exercise


def test_the_exercise_wrong_first_and_then_right():
    task = counter.exercise("Nia Oak")
    wanted, app = task.brief.layout, task.app
    assert app.layout_now != wanted
    task.export.click()
    assert "is not ready yet" in words(task._told.value)

    sheet = wanted.sheet
    choose(app, "units", sheet.unit)
    choose(app, "sheet", sheet.turned() if sheet.is_turned else sheet)
    choose(app, "turn", sheet.is_turned)
    slide(app, "width", wanted.picture.width)
    for at in PLACES:
        choose(app, "at", at)
        if app.layout_now == wanted:
            break
    assert app.layout_now == wanted
    task.export.click()
    assert words(task._told.value) == (
        f"{task.brief.stem}.tif is ready to print: size, place, borders and name are right."
    )


@pytest.mark.parametrize("reader", ["Ivo Reed", "Ada Brook", "Tam Weir"])
def test_the_figure_never_begins_at_the_answer(reader):
    task = counter.exercise(reader)
    assert task.app.layout_now != task.brief.layout
    assert task.folder.name == "08-at-the-counter"
