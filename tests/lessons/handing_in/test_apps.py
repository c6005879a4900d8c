"""Layers switched, a JPEG saved again and again, packings side by side, a name built and tried."""

import re

import pytest

from labkit.errors import LabError
from labkit.lessons.handing_in import (
    again,
    how_it_grows,
    layers,
    name,
    packings,
    which_smallest,
    your_picture,
)
from labkit.lessons.handing_in import saving as saving_lesson
from labkit.lessons.parts.settings import settings
from labkit.teaching.saved_samples import SAVES
from tests.files import make
from tests.lessons.hands import choose, is_right, said


def test_switches_decide_what_a_layered_file_prints_and_not_what_a_flat_one_does():
    app = layers()
    assert "not as its owner saw it" in app.sentence
    prints = {windows(app)[1]}
    assert app.readings["different prints so far"] == "1"
    choose(app, "notes", False)
    assert app.readings["is this the print that was meant?"] == "yes"
    assert windows(app)[0] == windows(app)[1]
    prints.add(windows(app)[1])
    choose(app, "sky", False)
    for notes in (False, True):
        choose(app, "notes", notes)
        prints.add(windows(app)[1])
        assert app.readings["is this the print that was meant?"] == "no"
    assert len(prints) == int(app.readings["different prints so far"]) == 4
    choose(app, "layers", False)
    assert windows(app)[0] == windows(app)[1]
    assert app.readings["different prints so far"] == "1"
    assert app.controls["notes"].layout.display == "none"


def windows(app) -> list[str]:
    """Which part of the strip each print shows."""
    return re.findall(r'viewBox="([^"]+)" preserveAspectRatio="none"', app.view.drawing)


OFF = {
    "same": {"1": 6.0, "2": 6.1, "4": 6.2, "8": 6.4, "16": 6.6, "32": 6.6},
    "other": {"1": 6.0, "2": 6.4, "4": 7.0, "8": 8.0, "16": 9.0, "32": 12.0},
    "shifted": {"1": 6.1, "2": 7.0, "4": 8.0, "8": 10.0, "16": 15.0, "32": 24.4},
}


def test_how_far_it_is_off_is_told_beside_the_first_time_and_the_other_ways():
    read = dict(saving_lesson.readings(saving_lesson.Saved(SAVES.index(32), "shifted"), OFF))
    assert read == {
        "off by, in levels of 255": "24.4",
        "after the first time": "6.1",
        "so it grew": "4.00 times",
        "32 times, quality 85 each time": "6.6",
        "32 times, 85 or better, changing": "12.0",
        "32 times, 85, one pixel cropped": "24.4",
    }


def test_on_our_harbour_the_figures_are_those_that_the_answer_tells():
    app = again()
    for way, last in (("same", "7.7"), ("other", "11.6"), ("shifted", "25.0")):
        choose(app, "way", way)
        app.controls["at"]._slider.value = SAVES.index(32)
        assert app.readings["off by, in levels of 255"] == last
    assert app.readings["after the first time"] == "6.9"
    assert "saved as JPEG 32 times" in app.sentence
    told = how_it_grows()._answer
    assert "6.9 levels after the first time, 7.7 after the 32nd" in told


def test_packings_are_measured_anew_and_the_order_is_the_one_that_the_answer_tells():
    app = packings()
    assert app.readings["takes"].endswith(" MB")
    shares = {}
    for way in ("LZW with differencing", "deflate", "LZW", "not packed"):
        choose(app, "way", way)
        shares[way] = app.readings["of what it is unpacked"]
        assert app.readings["packed just now in"].endswith(" ms")
        assert f"{way}:" in app.sentence
    assert list(shares.values()) == ["34%", "47%", "67%", "100%"]
    told = which_smallest()._answer
    assert all(share in told for share in list(shares.values())[:3])
    choose(app, "way", "LZW")
    choose(app, "depth", 16)
    assert int(app.readings["of what it is unpacked"].rstrip("%")) > 100


def test_no_time_is_in_what_is_committed():
    app = packings()
    assert " ms" not in app.sentence + app.still


def test_the_reader_is_shown_their_own_picture(tmp_path):
    file = make.picture(tmp_path / "mine.png", size=(400, 330))
    assert packings(file).readings["pixels measured"] == "300 × 248"
    settings().keep(picture=str(file))
    assert your_picture().path == file


def test_a_picture_too_small_to_crop_is_told_and_ours_is_not_shown(tmp_path):
    with pytest.raises(LabError, match="this takes 320 × 320"):
        again(make.picture(tmp_path / "small.png", size=(100, 100)))


def test_a_name_is_built_while_it_is_typed():
    app = name()
    assert app.stem == "Nia-Oak_First-light_13x19in"
    app.title.value = "Tide, 3rd: “low”"
    assert app.stem == "Nia-Oak_Tide-3rd-low_13x19in"
    assert "Tide-3rd-low" in app._built.value
    app.owner.value = "  "
    assert said(app).startswith("the owner is missing")
    assert app._built.value == ""
    app.owner.value = "Ada"
    assert said(app) == ""


@pytest.mark.parametrize(
    ("tried", "told"),
    [
        ("image (3).tif", "words that stand in any name"),
        ("Nia-Oak_Tide_A4.tif", "A4"),
        ("Nia Tide 13x19in.tif", "no underscore parts"),
        ("Nia-Oak_Ti:de_13x19in.tif", "“:”"),
        (" ", "Type a name"),
    ],
)
def test_another_name_is_checked_while_it_is_typed(tried, told):
    app = name()
    app.other.value = tried
    assert told in " ".join(app.found)
    assert told in app._found.value


def test_a_name_as_it_should_be_is_not_found_fault_with():
    app = name()
    app.other.value = "Nia-Oak_Tide_13x19in.tif"
    assert app.found == ()
    assert "nothing to mend" in app._found.value


def test_the_name_follows_the_one_at_the_top_of_the_lesson():
    app = name()
    settings().keep(name="Ada Brook")
    assert app.stem.startswith("Ada-Brook_")


def test_the_right_order_and_every_slip_are_told():
    question = which_smallest()
    for given in (question._right, *(_swapped(question, pair) for pair in question._slips)):
        for entry, value in zip(question.entries, given, strict=True):
            entry.value = value
        question.buttons.children[0].click()
        assert is_right(question) == (given == question._right)
        assert len(said(question)) > 40


def _swapped(question, pair) -> tuple[str, ...]:
    earlier, later = pair
    swap = {earlier: later, later: earlier}
    return tuple(swap.get(each, each) for each in question._right)


def test_every_answer_on_saving_is_told():
    question = how_it_grows()
    for given in question._ways:
        question.entry.value = given
        question.buttons.children[0].click()
        assert is_right(question) == (given == "hardly more than after the first time")
        assert len(said(question)) > 40
