"""The exercise: each of the four is chosen, mended by one thing, named and judged."""

import re

import pytest
from PIL import Image

from labkit.home import home
from labkit.lessons.handing_in import exercise
from labkit.room.rules import SHIPPED
from labkit.teaching.handing_in import MESSY
from tests.files import sheets
from tests.lessons.hands import choose, said, words
from tests.teaching.test_handing_in import RIGHT

READER = "Nia Oak"


@pytest.fixture
def task(own_folder):
    """In a room that works at 60 ppi, so that its files are small."""
    rules = SHIPPED.read_text(encoding="utf-8")
    rules = re.sub(
        r"(?m)^(working_ppi|ppi) = (\d+)", lambda each: f"{each[1]} = {int(each[2]) // 5}", rules
    )
    (own_folder / "room.toml").write_text(rules, encoding="utf-8")
    made = exercise(READER)
    assert made.room.working_ppi == 60
    return made


def look_at(task, at):
    choose(task.app, "at", at)
    return task.app.mess


def export(task, how, stem):
    choose(task.app, "how", how)
    choose(task.app, "name", stem)
    task.export.click()
    return words(task._told.value)


def test_the_four_lie_in_the_readers_folder_and_each_is_shown(task):
    assert task.folder == home().exports / "06-handing-in"
    assert len(list((task.folder / MESSY).iterdir())) == 4
    drawings = set()
    for at in range(4):
        mess = look_at(task, at)
        assert mess.brief.title in task.app._asked.value
        assert task.app.state.name == ""
        assert task.app.view.photo.startswith("data:image/")
        drawings.add(task.app.view.drawing)
    assert len(drawings) == 4


def test_the_colour_of_the_paper_is_a_figure_to_be_seen(task):
    task.entry.value = "Tam Reed"  # whose task has a paper that is not quite white
    assert "surround" in [mess.fault.code for mess in task.brief.messes]
    for at in range(4):
        mess = look_at(task, at)
        told = task.app.readings.get("paper round the picture")
        if mess.fault.code == "picture-without-sheet":
            assert told is None
        else:
            red, *_ = mess.hand_in.surround
            assert told == ("white" if red == 255 else str(mess.hand_in.surround))
            assert "paper round the picture" in task.app._read_off.value


@pytest.mark.slow
def test_mended_one_by_one_and_the_last_by_hand_all_four_are_finished(task):
    for at in range(4):
        mess = look_at(task, at)
        if mess.by_hand:
            told = export(task, "save it as it is", mess.brief.stem)
            assert "not ready yet; one thing to mend" in told or "not ready yet; 2 things" in told
            with Image.open(mess.brief.picture) as opened:
                image = sheets.by_hand(opened.crop(mess.brief.raster.source), mess.brief.raster)
            file = sheets.save(image, task.folder / f"{mess.brief.stem}.tif", 60)
            task.look.click()
            task.file.value = str(file)
            task.ask.click()
            told = words(task._told.value)
        else:
            told = export(task, RIGHT[mess.fault.code], mess.brief.stem)
        assert "is ready to print" in told, (mess.fault.code, told)
        assert f"finished {at + 1} of 4" in told


def test_a_name_that_is_taken_or_no_name_is_refused_and_nothing_is_judged(task):
    mess = look_at(task, 0)
    assert export(task, "save it as it is", "") == ""
    assert "cannot be the name of a file" in said(task)
    assert "The file is named" in export(
        task, RIGHT.get(mess.fault.code, "save it as it is"), "mine"
    )
    assert export(task, "save it as it is", "mine") == ""
    assert "is there already" in said(task)
    task.again.value = True
    assert "not ready yet" in export(task, "save it as it is", "mine")


def test_without_a_file_or_a_name_it_is_told():
    empty = exercise()
    assert empty.brief is None
    assert empty.sentence.startswith("Type your name")


def test_judging_needs_a_file(task):
    task.ask.click()
    assert said(task).startswith("choose a file first")
