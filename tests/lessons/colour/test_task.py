"""The exercise: exported with the right step it passes, with another it is told."""

from labkit import check
from labkit.lessons.colour import exercise
from labkit.teaching.papers import STEPS
from tests.lessons.hands import choose, said, slide, words

READER = "Nia Oak"


def solve(task, lighter):
    layout = task.brief.layout
    sheet = layout.sheet.turned() if layout.sheet.is_turned else layout.sheet
    choose(task.app, "sheet", sheet)
    choose(task.app, "turn", layout.sheet.is_turned)
    slide(task.app, "width", layout.picture.width)
    choose(task.app, "lighter", lighter)
    assert task.app.layout_now == layout
    task.export.click()
    return words(task._told.value)


def test_the_right_step_passes_and_is_replaced_by_a_wrong_one():
    task = exercise(READER)
    assert task.folder.name == "05-colour"
    assert "ready to print" in solve(task, task.brief.lighter)
    wrong = next(step for step in STEPS if step not in (0, task.brief.lighter, -task.brief.lighter))
    task.again.value = True
    told = solve(task, wrong)
    assert "one thing to mend" in told
    assert "not the step that the strip shows" in told


def test_the_strip_is_handed_in_with_the_file():
    """A sheet that the check knows, and that carries the steps of the lesson's own strip."""
    task = exercise(READER)
    solve(task, task.brief.lighter)
    assert "its test strip" in said(task)
    task.strip.click()
    (sheet,) = task.folder.glob("job-*.tif")
    assert sheet.name in said(task)
    found = check(sheet)
    assert found.verdict == "fine"
    assert "prints-together" in [item.code for item in found.items]
    task.ask.click()
    assert "its test strip" not in said(task)


def test_the_figure_begins_without_a_step_and_shows_the_one_chosen():
    task = exercise(READER)
    assert task.app.state.lighter == 0
    assert task.brief.lighter != 0
    choose(task.app, "lighter", 0.6)
    assert task.app.readings["tone step"] == "+0.6 stops"


def test_neither_task_nor_card_gives_the_step_away():
    task = exercise(READER)
    told = " ".join((task.sentence, *task.brief.card()))
    assert "strip above" in told
    assert "0 stays 0, 255 stays 255, and level 119 becomes" in told
    for step in STEPS:
        assert not step or f"{step:+.1f} stops" in told
