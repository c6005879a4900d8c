"""How far a reader is: read from what they exported, never from what they said."""

from dataclasses import replace

import pytest
from PIL import Image

from labkit.teaching import progress as module
from labkit.teaching.margins import margins_brief
from labkit.teaching.progress import LESSONS, progress
from tests.files import sheets
from tests.geometry.refused import refusal

NAME = "04-margins"


@pytest.fixture
def only_margins(monkeypatch):
    lessons = tuple(lesson for lesson in LESSONS if lesson.name == NAME)
    assert len(lessons) == 1
    monkeypatch.setattr(module, "LESSONS", lessons)


@pytest.fixture
def step(tmp_path, pictures, coarse, quick, only_margins):
    """The reader's step in the lesson on margins, from the files below ``tmp_path``."""

    def look(reader="Ada Brook"):
        (found,) = progress(reader, pictures, coarse, tmp_path)
        assert found.lesson.name == NAME
        return found

    return look


def hand_in(folder, brief, ppi=60):
    folder.mkdir(exist_ok=True)
    image = sheets.by_hand(Image.open(brief.picture), brief.raster)
    return sheets.save(image, folder / f"{brief.stem}.tif", ppi)


def test_nothing_is_done_before_a_file_is_there(step, tmp_path):
    assert step().done is None
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_passes_does_the_lesson_for_its_reader(step, tmp_path, brief):
    path = hand_in(tmp_path / NAME, brief)
    assert step().done == path
    assert step("Nia Oak").done is None


def test_a_file_that_does_not_pass_does_not(step, tmp_path, brief):
    hand_in(tmp_path / NAME, brief, ppi=72)
    assert step().done is None


def test_nor_does_one_in_another_lessons_folder(step, tmp_path, brief):
    hand_in(tmp_path / "01-resolution", brief)
    assert step().done is None


def test_nor_one_for_another_task_of_that_name(step, tmp_path, brief, pictures, coarse):
    other = next(
        task
        for number in range(99)
        if (task := margins_brief(f"Reader {number}", pictures, coarse)).layout != brief.layout
        and task.picture == brief.picture
    )
    hand_in(tmp_path / NAME, replace(other, stem=brief.stem))
    assert step().done is None


def test_without_a_name_it_is_not_known(step):
    assert refusal(step, " ").startswith("give your name first")


def test_lessons_are_in_order_and_told_apart():
    names = [lesson.name for lesson in LESSONS]
    assert names == sorted(set(names))
    assert len({lesson.title for lesson in LESSONS}) == len(LESSONS)
    assert all(0 < lesson.minutes <= 90 for lesson in LESSONS)
