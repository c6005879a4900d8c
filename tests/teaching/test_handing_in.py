"""The task on handing in: four messy files for each reader, each mended by the one thing that its fault asks
for, and judged with hints that teach."""

import pytest
from PIL import Image

from labkit.files.checks.catalogue import catalogue
from labkit.files.checks.check import check as check_hand_in
from labkit.teaching.faults.made import write
from labkit.teaching.handing_in import (
    GROUPS,
    MENDS,
    MESSY,
    finished,
    handed_in,
    handing_in_task,
    judge_mess,
    make_messes,
    mend,
)
from tests.files import sheets
from tests.geometry.refused import refusal
from tests.properties import a_few

FAULTS = {fault.code: fault for group in GROUPS for fault in group}
BY_HAND = {fault.code for fault in GROUPS[-1]}
RIGHT = {
    "resolution-label": "state the room's ppi, change no pixel",
    "resolution-shape": "state the room's ppi, change no pixel",
    "resolution-unequal": "state the room's ppi, change no pixel",
    "layers": "flatten to one layer, onto white",
    "transparency": "flatten to one layer, onto white",
    "turned-flag": "turn the pixels, drop the flag",
    "several-pages": "keep the first page alone",
    "picture-without-sheet": "put it on its sheet, at its place",
}
"""The one thing to do, by what is wrong."""
IN_VAIN = ("save it as it is", "embed a profile", "save it as JPEG")
"""What mends none of them."""


@pytest.fixture
def task_of(pictures, coarse, quick):
    return lambda name: handing_in_task(name, pictures, coarse)


@pytest.fixture
def task(task_of):
    return task_of("Ada Brook")


@pytest.fixture
def mess_with(task_of):
    """The first of some readers' files that has this fault."""

    def find(code):
        tasks = (task_of(f"Reader {number}") for number in range(60))
        return next(mess for task in tasks for mess in task.messes if mess.fault.code == code)

    return find


def by_hand(mess, folder):
    """The file as an editor leaves it that follows the card: from the picture, by other libraries."""
    raster = mess.brief.raster
    with Image.open(mess.brief.picture) as opened:
        image = sheets.by_hand(opened.convert("RGB").crop(raster.source), raster)
    return sheets.save(image, folder / f"{mess.brief.stem}.tif", int(raster.ppi))


# The draw


def test_the_task_is_the_readers_own(task_of):
    def told(task):
        return [(mess.fault.code, mess.brief.title, mess.hand_in.layout) for mess in task.messes]

    assert told(task_of("Ada Brook")) == told(task_of("  ada  BROOK "))
    assert told(task_of("Ada Brook")) != told(task_of("Nia Oak"))


def test_each_reader_gets_one_fault_of_each_group_and_names_that_say_nothing(task_of):
    seen = set()
    for number in range(40):
        task = task_of(f"Reader {number}")
        assert [mess.number for mess in task.messes] == [1, 2, 3, 4]
        for group in GROUPS:
            assert sum(mess.fault in group for mess in task.messes) == 1
        assert sum(mess.by_hand for mess in task.messes) == 1
        assert len({mess.hand_in.file_name for mess in task.messes}) == 4
        assert len({mess.brief.stem for mess in task.messes}) == 4
        assert all(mess.brief.stem.startswith(f"Reader-{number}_") for mess in task.messes)
        seen |= {mess.fault.code for mess in task.messes}
    assert seen == set(FAULTS)


def test_without_a_name_there_is_no_task(task_of):
    assert refusal(task_of, " ").startswith("give your name first")


def test_every_fault_is_one_that_the_check_knows():
    assert set(FAULTS) <= set(catalogue())
    assert set(RIGHT) | BY_HAND == set(FAULTS)
    assert set(RIGHT.values()) <= set(MENDS)


# Judging


@pytest.mark.parametrize("code", a_few(FAULTS))
def test_as_it_came_the_hints_tell_the_fault_and_the_name_and_nothing_else(
    code, mess_with, coarse, tmp_path
):
    mess = mess_with(code)
    judgement = judge_mess(write(mess.hand_in, tmp_path), mess, coarse)
    told = [hint for hint in judgement.hints if not hint.startswith("Its place is measured")]
    told = [hint for hint in told if "border is" not in hint or mess.fault.hint in hint]
    if code == "picture-without-sheet":  # the check of an exercise knows which sheet is asked for
        assert any("not the sheet of your task" in hint for hint in told)
    else:
        assert sum(mess.fault.hint in hint for hint in told) == 1
    assert sum("The file is named" in hint for hint in told) == 1
    assert len(told) == 2
    for given_away in (mess.brief.stem, "resampling", "latten", "first page"):
        assert given_away not in " ".join(judgement.hints)


def passing(mess, ways, room, folder):
    """Those of the ways that mend it."""
    stem = mess.brief.stem
    return [
        how
        for how in ways
        if judge_mess(mend(mess, how, stem, folder, again=True), mess, room).passed
    ]


@pytest.mark.parametrize("code", a_few(RIGHT))
def test_the_right_thing_mends_it(code, mess_with, coarse, tmp_path):
    ways = (RIGHT[code], *IN_VAIN)
    assert passing(mess_with(code), ways, coarse, tmp_path) == [RIGHT[code]]


@pytest.mark.parametrize("code", sorted(BY_HAND))
def test_those_that_need_a_hand_an_editor_mends_and_the_figure_does_not(
    code, mess_with, coarse, tmp_path
):
    mess = mess_with(code)
    assert passing(mess, IN_VAIN, coarse, tmp_path) == []
    assert judge_mess(by_hand(mess, tmp_path), mess, coarse).hints == ()


@pytest.mark.slow
@pytest.mark.parametrize("code", a_few(FAULTS))
def test_nothing_else_that_the_figure_can_do_mends_it(code, mess_with, coarse, tmp_path):
    right = [RIGHT[code]] if code in RIGHT else []
    assert passing(mess_with(code), MENDS, coarse, tmp_path) == right


def test_a_file_made_outside_passes_for_each_of_the_four(task, coarse, tmp_path):
    for mess in task.messes:
        assert judge_mess(by_hand(mess, tmp_path), mess, coarse).hints == ()


def test_another_of_the_four_does_not_pass(task, coarse, tmp_path):
    first, second, *_ = task.messes
    assert not judge_mess(by_hand(first, tmp_path), second, coarse).passed


def test_a_mended_file_under_its_old_name_is_told_of_that_alone(task, coarse, tmp_path):
    mess = task.messes[0]
    good = by_hand(mess, tmp_path)
    (hint,) = judge_mess(good.rename(tmp_path / "scan 0412.tif"), mess, coarse).hints
    assert "The file is named" in hint
    assert mess.brief.stem not in hint


def test_what_is_no_picture_is_a_hint_too(task, coarse, tmp_path):
    file = tmp_path / "a.tif"
    file.write_text("no picture", encoding="utf-8")
    assert not judge_mess(file, task.messes[0], coarse).passed


# The files


def test_the_messy_files_are_made_once_and_what_is_wrong_is_found(task, coarse, tmp_path):
    files = make_messes(task, tmp_path)
    assert [file.parent.name for file in files] == [MESSY] * 4
    before = [file.stat().st_mtime_ns for file in files]
    assert make_messes(task, tmp_path) == files
    assert [file.stat().st_mtime_ns for file in files] == before
    for mess, file in zip(task.messes, files, strict=True):
        codes = {item.code for item in check_hand_in(file, room=coarse).faults}
        assert mess.fault.code in codes or mess.fault.code == "border"
        assert "name-camera" in codes


def test_the_messy_file_is_not_touched_and_nothing_is_overwritten(task, tmp_path):
    mess, *_ = task.messes
    messy, *_ = make_messes(task, tmp_path)
    before = messy.read_bytes()
    file = mend(mess, "save it as it is", "mine", tmp_path)
    kept = file.read_bytes()
    told = refusal(mend, mess, "embed a profile", "mine.tif", tmp_path)
    assert told.startswith("mine.tif is there already")
    assert messy.read_bytes() == before
    assert file.read_bytes() == kept


@pytest.mark.parametrize("name", ["", "  ", "a/b", "..", ".hidden", "c:d", 'say "no"', "\\x"])
def test_what_cannot_be_a_name_is_refused(name, task, tmp_path):
    told = refusal(mend, task.messes[0], "save it as it is", name, tmp_path)
    assert "cannot be the name of a file" in told
    assert list(tmp_path.iterdir()) == []


def test_the_lesson_is_done_when_all_four_are(task, tmp_path):
    assert handed_in(task, tmp_path) is None
    files = [by_hand(mess, tmp_path) for mess in task.messes[:3]]
    assert finished(task, tmp_path) == dict(zip((1, 2, 3), files, strict=True))
    assert handed_in(task, tmp_path) is None
    last = by_hand(task.messes[3], tmp_path)
    assert handed_in(task, tmp_path) == last


def test_the_task_tells_neither_the_fault_nor_the_file_names(task):
    told = " ".join([task.sentence(), task.named, *(each.brief.sentence() for each in task.messes)])
    for mess in task.messes:
        assert mess.brief.stem not in told
        assert mess.fault.hint not in told
    assert "Ada Brook" in task.named


def test_the_card_gives_every_step(task):
    card = task.card()
    for mess in task.messes:
        mine = [step for step in card if step.startswith(f"File {mess.number}: ")]
        assert len(mine) == 2 + len(mess.fault.steps)
        assert mess.hand_in.file_name in mine[0]
        assert f"{mess.brief.stem}.tif" in mine[-1]
        assert "{" not in "".join(mine)


def test_the_layout_asked_for_is_the_one_the_file_would_have(task):
    for mess in task.messes:
        assert mess.brief.raster.resampled is False
        left, top = mess.brief.raster.source[:2]
        assert (left, top) == mess.hand_in.start
