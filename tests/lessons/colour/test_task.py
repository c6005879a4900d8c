"""The exercise: exported with the right step it passes, with another it is told."""

import shlex

import pytest

from labkit import check
from labkit.__main__ import main
from labkit.lessons.colour import exercise
from labkit.teaching.papers import STEPS
from tests.lessons.hands import choose, slide, words

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


@pytest.mark.slow
def test_the_file_and_its_strip_pass_together_and_a_wrong_step_does_not():
    task = exercise(READER)
    assert task.folder.name == "05-colour"
    told = solve(task, task.brief.lighter)
    assert "is right, and its test strip is still to come" in told
    task.strip.click()
    (sheet,) = task.folder.glob("job-*.tif")
    told = words(task._told.value)
    assert f"{sheet.name} is the test strip of your task" in told
    assert "is ready to print" in told
    found = check(sheet)
    assert found.verdict == "fine"
    assert "prints-together" in [item.code for item in found.items]
    wrong = next(step for step in STEPS if step not in (0, task.brief.lighter, -task.brief.lighter))
    task.again.value = True
    told = solve(task, wrong)
    assert "one thing to mend" in told
    assert "not the step that the strip shows" in told


def test_the_strip_by_the_command_that_is_shown_passes_under_any_name():
    task = exercise(READER)
    (typed,) = (way for way in task.ways if "labkit strip" in way)
    command = shlex.split(typed[typed.index("labkit strip") :])[1:]
    command[1] = str(task.brief.picture)
    command[command.index("FOLDER")] = str(task.folder)
    assert main(command) == 0
    (sheet,) = task.folder.glob("*.tif")
    mine = sheet.rename(task.folder / "what I printed.tif")
    assert task.judge(mine).hints == (
        f"The final file, {task.brief.stem}.tif, is not in your folder yet.",
    )


def test_the_ticket_is_for_the_paper_that_the_brief_names():
    task = exercise(READER)
    assert f"in this room {task.brief.paper}" in task.sentence
    solve(task, 0)
    (ticket,) = task.folder.glob("*_ticket.html")
    assert task.brief.paper in ticket.read_text(encoding="utf-8")


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
