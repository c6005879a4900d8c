"""A ruler sheet of ours is known by what it says and by every pixel; one that was changed is told."""

from dataclasses import replace

import numpy as np
import pytest
import tifffile

from labkit.files.checks.check import check
from labkit.files.folder.alike import findings_across
from labkit.files.header.reading import read_picture
from labkit.files.look.rulersheet import PARTS, known_ruler, ruler_statement
from labkit.files.pixels.decode import decode
from labkit.files.writing.ruled import RuledStrips
from labkit.geometry.length import inches
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.ruler import PPI, ruler_sheet
from labkit.job.ruler import write_ruler
from labkit.room.rules import load_room
from labkit.room.ruling import ruling_on_sheet
from tests.files import sheets

pytestmark = pytest.mark.usefixtures("warm")

ROOM = load_room()


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """A ruler sheet for letter paper."""
    out = tmp_path_factory.mktemp("ruler")
    return write_ruler(ruling_on_sheet(ROOM, "letter", paper="plain 120"), ROOM, out=out).file


@pytest.fixture
def changed(written, tmp_path):
    """The file saved anew in an editor, with what a function does to its pixels or its description."""

    def save(paint=None, describe=lambda said: said):
        with tifffile.TiffFile(written) as tiff:
            values, said = tiff.pages[0].asarray().copy(), tiff.pages[0].tags[270].value
        values = values if paint is None else paint(values)
        return sheets.save_by_tifffile(
            values,
            tmp_path / written.name,
            (PPI, PPI),
            description=describe(said),
            software="labkit",
        )

    return save


def found(file) -> dict[str, str]:
    return {item.code: item.grade for item in check(file, room=ROOM).items}


def test_a_written_ruler_says_what_it_is_and_passes(written):
    checked = check(written, room=ROOM)
    assert checked.verdict == "fine"
    assert found(written)["ruler-sheet"] == "fine"
    assert not {"edge-unclear", "ppi-floor", "stray-marks"} & set(found(written))


def test_rulers_of_two_sizes_are_no_versions_of_one_work(written):
    one = check(written, room=ROOM)
    two = [one, replace(one, file=written.with_name(written.name.replace("letter", "A4")))]
    assert findings_across(two, ROOM) == {}
    prints = [replace(each, seen=replace(each.seen, kind="")) for each in two]
    assert {item.code for items in findings_across(prints, ROOM).values() for item in items} == {
        "older-version"
    }


def test_saved_anew_without_change_it_is_still_known(changed):
    assert found(changed())["ruler-sheet"] == "fine"


def test_one_pixel_is_enough_to_tell(changed):
    def dot(values):
        values[5, 5] = 254
        return values

    assert found(changed(dot))["ruler-changed"] == "look"


def test_a_ruler_made_larger_is_no_longer_ours(changed):
    assert not {"ruler-sheet", "ruler-changed"} & set(
        found(changed(lambda v: np.repeat(v, 2, axis=1)))
    )


@pytest.mark.parametrize(
    "describe", [lambda said: "", lambda said: said[:-4], lambda said: said.replace(": ", ": 0", 1)]
)
def test_without_its_statement_it_is_a_file_like_any_other(changed, describe):
    codes = found(changed(describe=describe))
    assert not {"ruler-sheet", "ruler-changed"} & set(codes)
    assert "edge-unclear" in codes


def test_the_box_is_that_of_its_ink(written):
    picture = read_picture(written)
    known = known_ruler(picture, decode(picture))
    grey = tifffile.imread(written).min(axis=2)
    ys, xs = np.nonzero(grey < 255)
    assert known.changed == 0
    assert known.box == PixelBox(
        xs.min(), ys.min(), xs.max() - xs.min() + 1, ys.max() - ys.min() + 1
    )


def test_each_eighth_has_a_sum_of_its_own():
    strips = RuledStrips(ruler_sheet(inches(6), inches(8)), ["A ruler."], "first")
    said = ruler_statement(strips.rows, strips.size)
    sums = said.rstrip(".").split(": ")[1].split()
    assert len(sums) == PARTS

    def spoiled(top, bottom):
        rows = strips.rows(top, bottom).copy()
        if top <= 3 < bottom:
            rows[3 - top, 0] = 0
        return rows

    other = ruler_statement(spoiled, strips.size).rstrip(".").split(": ")[1].split()
    assert [one == each for one, each in zip(sums, other, strict=True)] == [False, *[True] * 7]
