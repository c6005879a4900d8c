"""Name, picture, unit and type size: chosen once, followed at once, remembered."""

import shutil

import pytest
from PIL import Image

from labkit.home import Reader, home
from labkit.lessons.margins import margins
from labkit.lessons.parts.line import lesson_settings
from labkit.lessons.resolution import sizes
from labkit.teaching.pictures import FOLDER, demo_pictures
from tests.lessons.hands import is_right, said


@pytest.fixture
def line():
    return lesson_settings()


@pytest.fixture
def cut_short():
    """A photo of which only a third arrived, among the reader's own."""
    file = home().uploads / "cut.jpg"
    file.parent.mkdir(parents=True)
    whole = (FOLDER / "harbour.jpg").read_bytes()
    file.write_bytes(whole[: len(whole) // 3])
    return file


def test_nothing_is_kept_before_something_is_chosen(line):
    assert (line.entry.value, line.units.value, line.large.value) == ("", "in", False)
    assert not (home().folder / "reader.json").exists()


def test_every_app_follows_at_once_and_the_next_one_remembers(line):
    app = margins.borders()
    line.units.value, line.large.value, line.entry.value = "mm", True, " Nia Oak "
    assert app.units == "mm"
    assert app.readings["left border"] == "12.7 mm (1/2 in)"
    assert "labkit-large" in app._dom_classes
    assert home().reader() == Reader(name="Nia Oak", units="mm", large=True)
    again = lesson_settings()
    assert (again.entry.value, again.units.value, again.large.value) == ("Nia Oak", "mm", True)
    assert "labkit-large" in sizes.size()._dom_classes


def test_two_lines_agree(line):
    other = lesson_settings()
    line.large.value = True
    assert other.large.value
    other.entry.value = "Nia Oak"
    assert line.entry.value == "Nia Oak"


def test_another_picture_is_in_every_app_that_shows_the_readers(line):
    borders, size = margins.borders(), sizes.size()
    given = margins.borders(demo_pictures()[0].file)
    before = given.state
    line.picture.value = str(demo_pictures()[1].file)
    assert borders.picture.path == demo_pictures()[1].file
    assert borders.placing.shape == size.state.pixels == (3000, 4000)
    assert borders.controls["width"].value == borders.placing.width
    assert given.state == before
    assert is_right(line)


def test_a_picture_that_is_damaged_is_not_chosen(line, cut_short):
    line = lesson_settings()
    chosen = line.picture.value
    line.picture.value = str(cut_short)
    assert "cut.jpg" in said(line)
    assert "damaged or cut short" in said(line)
    assert line.picture.value == chosen
    assert home().reader().picture == ""


def test_a_lesson_whose_picture_cannot_be_opened_shows_ours_and_says_so(cut_short):
    home().keep(Reader(picture=str(cut_short)))
    for app in (margins.borders(), lesson_settings()):
        assert "“cut.jpg” is damaged or cut short" in said(app)
        assert said(app).endswith(
            "Our harbour is shown instead. Choose another picture in the line at the top of the lesson."
        )
    line, app = lesson_settings(), margins.borders()
    line.picture.value = str(demo_pictures()[1].file)
    assert said(app) == ""
    assert app.placing.shape == (3000, 4000)


def test_a_picture_that_is_gone_is_replaced_by_ours(own_folder):
    file = home().uploads / "boat.png"
    file.parent.mkdir(parents=True)
    Image.new("RGB", (60, 40)).save(file)
    home().keep(Reader(picture=str(file)))
    assert margins.borders().placing.shape == (60, 40)
    shutil.rmtree(file.parent)
    app = margins.borders()
    assert app.placing.shape == (4500, 3000)


def test_an_app_taken_away_follows_nothing(line):
    app = margins.borders()
    app.close()
    line.units.value = "mm"
    assert app.units == "in"
