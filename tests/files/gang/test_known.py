"""Files that ``layout`` wrote are known when they are checked, and what is not ours on them still shows."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import tifffile

from labkit.__main__ import main
from labkit.files.checks.check import check
from labkit.files.gang.statement import PRINTS, Statement, apart, read_statement
from labkit.geometry.pixelbox import PixelBox
from labkit.room.rules import load_room
from tests.files import sheets
from tests.files.gang.prints import finished

ROOM = load_room()

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture(scope="module")
def written(tmp_path_factory) -> Path:
    """A card and two small ones in one row, with white round them."""
    folder = tmp_path_factory.mktemp("gang")
    files = [
        finished(folder, "Ada-Brook_Boat_4x5in", (4, 5), ppi=100),
        finished(folder, "Nia-Oak_Tide-1_3x4in", (3, 4), seed=1, ppi=100),
        finished(folder, "Nia-Oak_Tide-2_3x4in", (3, 4), seed=2, ppi=100),
    ]
    words = ["--roll", "17in", "--paper", "pearl 260", "--write", folder / "out"]
    assert main(["layout", *map(str, files), *map(str, words)]) == 0
    (file,) = (folder / "out").glob("*.tif")
    return file


@pytest.fixture
def changed(written, tmp_path):
    """The file saved anew in an editor, with what a function does to its pixels or its description."""

    def save(paint=None, describe=lambda said: said) -> Path:
        with tifffile.TiffFile(written) as tiff:
            values, said = tiff.pages[0].asarray().copy(), tiff.pages[0].tags[270].value
        if paint:
            paint(values, read_statement(said).places)
        return sheets.save_by_tifffile(
            values, tmp_path / written.name, (100, 100), description=describe(said),
            software="labkit",
        )  # fmt: skip

    return save


def found(file: Path) -> dict[str, str]:
    return {item.code: item.grade for item in check(file, room=ROOM).items}


def test_a_written_file_says_what_it_is_and_passes(written):
    checked = check(written, room=ROOM)
    assert checked.verdict == "fine"
    told = next(item for item in checked.items if item.code == "prints-together")
    assert told.found.startswith("3 prints to be cut apart share it")
    assert (checked.seen.kind, checked.seen.prints) == ("prints", 3)


def test_saved_anew_without_change_it_is_still_known(changed):
    assert found(changed())["prints-together"] == "fine"
    assert "stray-marks" not in found(changed())


def small(room, pixels):
    return replace(room, limits=replace(room.limits, pixels=pixels))


def test_one_too_large_to_be_decoded_is_looked_over_strip_by_strip(written, changed):
    room = small(ROOM, 1000)
    checked = check(written, room=room, thumbnail=True)
    assert checked.verdict == "fine"
    assert (checked.seen.kind, checked.seen.prints) == ("prints", 3)
    assert checked.seen.thumbnail.startswith("data:image/")
    told = {item.code for item in check(changed(dot), room=room).items}
    assert {"prints-together", "stray-marks"} <= told


def test_any_other_file_as_large_stays_refused(tmp_path):
    other = finished(tmp_path, "Ada-Brook_Boat_4x5in", (4, 5))
    checked = check(other, room=small(ROOM, 1000))
    assert [item.code for item in checked.items] == ["too-large"]


def dot(values, places):
    """A dot of 5 pixels in the white to the right of all."""
    values[100:105, -40:-35] = 30


def beside_a_mark(values, places):
    box = places[0]
    values[box.top - 5 : box.top - 1, box.left + 40 : box.left + 44] = 0


def pale(values, places):
    values[100:160, -60:-20] = 250


@pytest.mark.parametrize("paint", [dot, beside_a_mark, pale])
def test_a_mark_that_is_not_ours_is_told(changed, paint):
    told = found(changed(paint))
    assert told["stray-marks"] == "look"
    assert told["prints-together"] == "fine"


def over_a_line(values, places):
    box = places[1]
    values[box.bottom + 5 : box.bottom + 8, box.left + 200 : box.left + 210] = 0


def test_a_line_that_was_painted_over_is_told(changed):
    assert found(changed(over_a_line))["line-changed"] == "look"


def wider(said: str) -> str:
    """A statement that takes the white beside the last print for part of it."""
    statement = read_statement(said)
    *others, last = statement.places
    more = PixelBox(last.left, last.top, last.width + 100, last.height)
    return Statement(PRINTS, (*others, more), statement.sums).text()


def test_a_statement_that_takes_in_more_than_the_print_is_told(changed):
    assert found(changed(describe=wider))["line-changed"] == "look"


def test_a_statement_on_another_picture_says_nothing(changed):
    def all_else(values, places):
        values[...] = 255
        high, wide, _ = values[40:-160, 200:900].shape
        noise = np.random.default_rng(1).integers(0, 200, (high, wide, 3))
        values[40:-160, 200:900] = noise
        dot(values, places)

    told = found(changed(all_else))
    assert "prints-together" not in told
    assert told["stray-marks"] == "look"


@pytest.mark.parametrize(
    "said",
    [
        "",
        "Prints to be cut apart",
        "Prints to be cut apart (left top): 1 2 3x4 00.",
        "Prints to be cut apart (left top): .",
        "Prints to be cut apart (left top): 1 2 3x4 0000000g.",
    ],
)
def test_other_words_are_no_statement(said):
    assert read_statement(said) is None


@pytest.mark.parametrize(
    ("boxes", "is_sound"),
    [
        ([(0, 0, 10, 10), (10, 0, 10, 10), (0, 10, 20, 5)], True),
        ([(0, 0, 10, 10), (9, 9, 5, 5)], False),
        ([(0, 0, 30, 10)], False),
        ([(0, 0, 0, 10)], False),
    ],
)
def test_prints_lie_apart_and_on_the_sheet(boxes, is_sound):
    assert apart([PixelBox(*box) for box in boxes], (20, 20)) == is_sound
