"""The exercise as readers do it: with the sheet, in code, and in a writer that is not ours."""

import shutil

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.errors import LabError
from labkit.geometry.layout import PLACES
from labkit.geometry.length import length
from labkit.home import Reader, home
from labkit.job import words as job
from labkit.lessons.margins import margins
from labkit.lessons.parts.exercise import NO_NAME
from labkit.lessons.parts.settings import settings
from tests.files import make
from tests.lessons.hands import choose, said, slide, words

NAME = "Nia Oak"


@pytest.fixture
def task():
    settings().keep(name=NAME)
    return margins.exercise()


def set_to_the_brief(task) -> None:
    """With the controls, in the order they stand in."""
    wanted, app = task.brief.layout, task.app
    sheet = wanted.sheet
    choose(app, "sheet", sheet.turned() if sheet.is_turned else sheet)
    choose(app, "turn", sheet.is_turned)
    slide(app, "width", wanted.picture.width)
    for at in PLACES:
        choose(app, "at", at)
        if app.layout_now == wanted:
            return
    pytest.fail("no place is the one that is asked for")


def verdict(task) -> str:
    return words(task._told.value)


def by_hand(task, file, *, shift=0):
    """What the card says, done with Pillow: nothing of ours is used."""
    raster = task.brief.raster
    box = raster.picture
    with Image.open(task.folder / "picture" / task.brief.picture.name) as image:
        small = image.convert("RGB").resize((box.width, box.height), Image.Resampling.LANCZOS)
    sheet = Image.new("RGB", raster.sheet, "white")
    sheet.paste(small, (box.left + shift, box.top))
    file.parent.mkdir(parents=True, exist_ok=True)
    sheet.save(file, compression="tiff_lzw", dpi=(300, 300), icc_profile=make.srgb())
    return file


def test_without_a_name_there_is_no_task():
    task = margins.exercise()
    assert task.sentence == NO_NAME
    assert (task.brief, task.picture, task.app) == (None, None, None)
    assert NO_NAME in [words(child.value) for child in task._task.children]
    with pytest.raises(LabError, match="Type your name"):
        task.judge("anything.tif")


def test_a_name_brings_the_task():
    task = margins.exercise()
    task.entry.value = f"  {NAME} "
    assert task.brief == margins.exercise(NAME).brief
    assert task.sentence == task.brief.sentence("in")
    told = words(task._task.children[0].value)
    assert told == f"Your task. {task.sentence} The file is to be named {task.brief.stem}.tif."
    steps = words(task._task.children[1].children[1].value)
    assert all(step in steps for step in task.brief.card())


def test_the_name_already_given_is_used():
    home().keep(Reader(name="Ivo Reed"))
    assert margins.exercise().brief.reader == "Ivo Reed"
    assert margins.exercise("Ada Brook").brief.reader == "Ada Brook"


def test_a_name_given_to_an_exercise_is_of_that_one_alone():
    home().keep(Reader(name="Ivo Reed"))
    looked_at = margins.exercise("Ada Brook")
    assert looked_at.brief.reader == "Ada Brook"
    assert (home().reader().name, margins.exercise().brief.reader) == ("Ivo Reed", "Ivo Reed")

    refused = margins.exercise("///")
    refused.entry.value = "Una Field"
    assert refused.brief.reader == "Una Field"
    assert home().reader().name == "Ivo Reed"


def test_taking_the_name_away_takes_the_task_away(task):
    task.entry.value = ""
    assert task.brief is None
    assert task.sentence == NO_NAME


def test_another_name_is_another_task(task):
    first, app = task.brief, task.app
    settings().keep(name="Ivo Reed")
    assert task.brief != first
    assert task.app is not app
    assert "drawn from the name Ivo Reed" in said(task.app)


def test_a_name_typed_in_the_exercise_is_kept_for_all_lessons():
    task, other = margins.exercise(), margins.exercise()
    task.entry.value = " Ada Brook "
    assert home().reader().name == "Ada Brook"
    assert task.brief.reader == other.brief.reader == "Ada Brook"


def test_a_name_no_file_can_carry_is_refused_and_leaves_no_old_task(task):
    task.entry.value = "///"
    assert "name" in said(task)
    assert task.brief is None
    assert task._task.children[1:] == (task.entry,)


def test_the_figure_does_not_begin_at_the_answer():
    for name in (NAME, "Ivo Reed", "Ada Brook", "Tam Weir", "Una Field"):
        task = margins.exercise(name)
        assert task.app.layout_now != task.brief.layout


def test_wrong_first_then_right(task):
    task.export.click()
    assert "is not ready yet" in verdict(task)
    assert "labkit-right" not in task._told.value
    hints = task._told.value.count("<li>")
    assert hints >= 2

    set_to_the_brief(task)
    assert task.app.layout_now == task.brief.layout
    task.export.click()
    assert said(task) == ""
    assert verdict(task) == (
        f"{task.brief.stem}.tif is ready to print: size, place, borders and name are right."
    )
    assert "labkit-right" in task._told.value
    assert task.file.value == str(task.folder / f"{task.brief.stem}.tif")


def test_what_was_exported_is_to_the_pixel(task):
    set_to_the_brief(task)
    task.export.click()
    pixels = tifffile.imread(task.file.value)
    raster = task.brief.raster
    inked = (pixels != 255).any(axis=2)
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    box = raster.picture
    assert pixels.shape[1::-1] == raster.sheet
    assert (columns[0], columns[-1] + 1) == (box.left, box.right)
    assert (rows[0], rows[-1] + 1) == (box.top, box.bottom)


@pytest.mark.slow
def test_a_second_export_replaces_nothing_unasked(task):
    set_to_the_brief(task)
    task.export.click()
    file = task.folder / f"{task.brief.stem}.tif"
    before = file.read_bytes()
    slide(task.app, "top", length("1in"))
    task.export.click()
    assert "already exists" in said(task)
    assert "nothing was overwritten" in said(task)
    assert verdict(task) == ""  # what was said of the earlier try does not stand under a refusal
    assert file.read_bytes() == before

    task.again.value = True
    task.export.click()
    assert said(task) == ""
    assert "The top border is 1 in (25.4 mm)" in verdict(task)
    assert file.read_bytes() != before


def test_a_file_of_another_writer_is_judged_by_itself(task):
    by_hand(task, task.folder / f"{task.brief.stem}.tif")
    assert task.file.options == (("none yet", ""),)
    task.look.click()
    assert [label for label, _ in task.file.options] == ["none yet", f"{task.brief.stem}.tif"]
    task.file.value = task.file.options[1][1]
    task.ask.click()
    assert verdict(task).endswith("is ready to print: size, place, borders and name are right.")


def test_a_picture_put_wrongly_by_hand_gets_the_hint(task):
    file = by_hand(task, task.folder / f"{task.brief.stem}.tif", shift=60)
    judged = task.judge(file)
    assert not judged.passed
    assert [hint.split()[1] for hint in judged.hints] == ["left", "right"]
    assert ": too wide. The picture sits too far to the right." in judged.hints[0]


def test_the_same_file_under_another_name_is_one_thing_to_mend(task):
    file = by_hand(task, task.folder / f"{task.brief.stem}.tif")
    other = shutil.copy(file, file.with_name("print_final2.tif"))
    judged = task.judge(other)
    assert len(judged.hints) == 1
    assert "is named “print_final2.tif”" in judged.hints[0]


def test_in_code(task):
    brief = task.brief
    layout = job.place(
        task.picture,
        on=brief.layout.sheet,
        width=brief.layout.picture.width,
        left=brief.layout.borders.left,
        top=brief.layout.borders.top,
    )
    made = job.write(task.picture, layout, owner=brief.reader, title=brief.title)
    assert task.judge(made.file).hints == ()


def test_nothing_chosen_is_said(task):
    task.ask.click()
    assert said(task).startswith("choose a file first; they are looked for in")
    assert str(task.folder) in said(task)


@pytest.mark.parametrize(
    ("name", "content"), [("gone.tif", None), ("empty.tif", b""), ("notes.tif", b"not a picture")]
)
def test_what_cannot_be_opened_is_a_hint_and_no_fault(task, name, content):
    file = task.folder / name
    if content is not None:
        file.write_bytes(content)
    judged = task.judge(file)
    assert not judged.passed
    assert name in verdict(task)
    assert "is not ready yet" in verdict(task)


def test_the_list_keeps_to_pictures_and_to_what_was_chosen(task):
    for name in ("a.tif", "b.TIFF", "c.jpg", "d.png", "e.html", "f.tif.123.part"):
        (task.folder / name).touch()
    task.look.click()
    assert [label for label, _ in task.file.options[1:]] == ["a.tif", "b.TIFF", "c.jpg", "d.png"]
    task.file.value = str(task.folder / "c.jpg")
    task.look.click()
    assert task.file.label == "c.jpg"
    (task.folder / "c.jpg").unlink()
    task.look.click()
    assert task.file.value == ""
