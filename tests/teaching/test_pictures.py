"""The project's own pictures, as the lessons know them."""

import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.teaching import pictures as module
from labkit.teaching.pictures import demo_pictures
from tests.geometry.refused import refusal


def test_each_is_there_with_all_that_is_told_of_it():
    assert len(demo_pictures()) >= 2
    for demo in demo_pictures():
        assert demo.file.is_file()
        assert demo.file.parent == module.FOLDER
        for words in (demo.title, demo.by, demo.about, demo.keep.name, demo.round.name):
            assert words.strip() == words != ""
        assert demo.about.endswith(".")
    assert len({demo.title for demo in demo_pictures()}) == len(demo_pictures())


@pytest.mark.parametrize("demo", demo_pictures(), ids=lambda demo: demo.file.stem)
def test_its_parts_lie_inside_it_and_the_round_one_is_round(demo):
    width, height = read_picture(demo.file).pixels
    for part in (demo.keep, demo.round):
        left, top, right, bottom = part.box
        assert 0 <= left < right <= 1
        assert 0 <= top < bottom <= 1
    left, top, right, bottom = demo.round.box
    assert (right - left) * width / ((bottom - top) * height) == pytest.approx(1, abs=0.03)


@pytest.mark.parametrize("demo", demo_pictures(), ids=lambda demo: demo.file.stem)
def test_it_has_enough_pixels_for_the_lessons_and_says_its_colours(demo):
    picture = read_picture(demo.file)
    assert min(picture.pixels) >= 300 * 4
    assert (picture.mode, picture.depth, picture.orientation) == ("RGB", 8, 1)
    assert picture.profile
    with Image.open(demo.file) as image:
        assert image.size == picture.pixels


def test_outside_a_clone_they_are_missed_in_a_sentence(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "FOLDER", tmp_path)
    assert refusal(demo_pictures.__wrapped__) == (
        f"the pictures are not at {tmp_path}: run this inside a clone of the project."
    )
