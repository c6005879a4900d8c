"""The figures on roll paper: what is read off, with figures worked by hand; the questions; the exercise."""

import pytest

from labkit.geometry.length import length
from labkit.lessons.roll_paper import (
    by_hand,
    class_work,
    exercise,
    how_long,
    lightest_first,
    on_the_roll,
    one_print,
    side_by_side,
)
from labkit.lessons.roll_paper.rows import HandLaid
from tests.lessons.hands import choose, is_right, said, slide


def press(question, label="That is my answer"):
    next(each for each in question.buttons.children if each.description == label).click()


def put_in(app, packing, task):
    """Choose roll and rows as a layout has them."""
    choose(app, "at", task.better)
    tops = sorted({each.box.top for each in packing.placed})
    for each in packing.placed:
        number = next(n for n, wanted in enumerate(task.wanted) if wanted.owner == each.name)
        choose(app, f"print-{number}", (tops.index(each.box.top), each.turned))


# One print


def test_two_prints_side_by_side():
    """9 × 6 in twice on 24 in: one row. Leader 30, tail 50 and two edges of 5 mm are 90 mm, 3.543 in;
    with 6 in: 9.543 in of 24 in, 229.04 in², of which 108 are print."""
    app = one_print()
    told = app.readings
    assert told["usable width"] == "23.606 in (599.6 mm)"
    assert (told["side by side"], told["rows"]) == ("2", "1")
    assert told["comes off the roll"].startswith("9.543 in")
    assert told["no print on"] == "53% of it"


def test_a_wider_print_no_longer_lies_beside_itself():
    app = one_print()
    slide(app, "width", length("12in"))
    assert (app.readings["side by side"], app.readings["rows"]) == ("1", "2")
    choose(app, "turned", True)  # 8 in across
    assert (app.readings["side by side"], app.readings["rows"]) == ("2", "1")


def test_the_gap_counts_once_between_two():
    """11 5/8 in twice and 1/4 in are 23 1/2 in; with a gap of 1 in 24 1/4 in."""
    app = one_print()
    slide(app, "width", length("11 5/8in"))
    assert app.readings["side by side"] == "2"
    slide(app, "gap", length("1in"))
    assert app.readings["side by side"] == "1"


def test_too_wide_for_the_roll():
    app = one_print()
    slide(app, "width", length("24in"))
    assert app.readings["too wide by"].startswith("10 mm")
    assert "too wide for the" in app.sentence


# The class


def test_prints_together_take_less_than_one_by_one():
    app = class_work()
    state = app.state
    assert state.taken < state.one_by_one
    shares = [figure for name, figure in app.readings.items() if " × " in name]
    assert len(shares) == 6
    assert sum(float(share[1:]) for share in shares) == pytest.approx(float(state.price))


def test_turning_never_costs_paper():
    app = class_work()
    may = app.state.packing.used
    choose(app, "turn", False)
    assert app.state.packing.used >= may
    assert not any(each.turned for each in app.state.packing.placed)


# On the roll


def test_what_is_left_on_a_roll():
    """π (100² − 80²) / (4 × 0.5) = 5654.9 mm of cotton 300, 0.6096 m wide: 1.034 kg, and the core's
    0.6096 m × 0.5 kg."""
    told = on_the_roll().readings
    assert told["left on it"] == "5.7 m (19 ft)"
    assert told["the roll weighs"] == "1.3 kg, 0.3 kg of it core"


def test_no_roll_is_thicker_than_a_new_one():
    app = on_the_roll()
    app.controls["outside"]._slider.value = app.controls["outside"]._slider.max
    assert app.state.outside <= app.state.new
    assert float(app.state.left.mm) == pytest.approx(float(app.state.medium.on_roll.mm), rel=0.02)


@pytest.mark.parametrize("make", [one_print, by_hand, class_work, on_the_roll])
def test_every_control_changes_sentence_drawing_and_figures(make):
    for name in make().controls:
        app = make()
        before = app.sentence, app.still, app.readings
        widget = app.controls[name]
        if hasattr(widget, "options"):
            # whichever option shows a difference: some layouts are the same either way
            seen = []
            for _, value in list(widget.options)[::-1]:
                widget.value = value
                seen.append((app.sentence, app.still, app.readings) != before)
            assert any(seen) or name == "stages"
        else:
            slider = widget._slider
            slider.value = slider.min if slider.value != slider.min else slider.max
            assert (app.sentence, app.still, app.readings) != before


# The questions


@pytest.mark.parametrize("given", ["24 1/4in", "616mm"])
def test_how_long_right(given):
    question = how_long()
    question.entry.value = given
    press(question)
    assert is_right(question)


@pytest.mark.parametrize(
    ("given", "told"),
    [("18in", "usable width first"), ("36 1/4in", "turn both"), ("24in", "add the gap")],
)
def test_how_long_slips(given, told):
    question = how_long()
    question.entry.value = given
    press(question)
    assert told in said(question)


@pytest.mark.parametrize(
    ("width", "told"),
    [("9in", "A little larger"), ("12in", "one after another"), ("11 5/8in", "Yes.")],
)
def test_side_by_side(width, told):
    question = side_by_side()
    slide(question.app, "width", length(width))
    press(question)
    assert told in said(question)


def test_lightest_first_by_the_formula():
    question = lightest_first()

    def kg(words):
        wide, long, gsm = (float(part.split()[0]) for part in words.split(", "))
        return wide * 0.0254 * long * gsm

    assert sorted(question._right, key=kg) == list(question._right)


# The exercise


def test_the_exercise_begins_elsewhere_than_at_the_answer():
    task = exercise("Ada Brook")
    assert task.app.state.at != task.brief.better
    assert len(task.app.state.rows) == 5
    assert len(list(task.folder.glob("prints/*.tif"))) == 5


@pytest.mark.slow
def test_the_best_layout_put_in_by_hand_passes():
    task = exercise("Ada Brook")
    brief = task.brief
    put_in(task.app, brief.best[brief.better], brief)
    task.export.click()
    assert "ready to print" in task._told.value
    assert (task.folder / f"{brief.stem}.tif").exists()
    assert list(task.folder.glob("*work-page.html"))


def test_a_row_too_wide_is_drawn_and_not_exported():
    task = exercise("Ada Brook")
    for number in range(5):
        choose(task.app, f"print-{number}", (0, False))
    assert task.app.state.over
    assert "Too far across" in task.app.sentence
    task.export.click()
    assert "wider than the" in task._message.value
    assert not list(task.folder.glob("*.tif"))


def test_an_exercise_without_a_name_asks_for_one():
    assert "Type your name" in exercise("").sentence


def test_rows_by_hand_are_those_of_the_engine():
    task = exercise("Reader 3")
    put_in(task.app, task.brief.best[task.brief.better], task.brief)
    state = task.app.state
    assert isinstance(state, HandLaid)
    assert state.used == task.brief.best[task.brief.better].used
