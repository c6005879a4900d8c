"""What the lesson on trimming asks: each reader's own, solvable, and judged by where it would be cut."""

from dataclasses import replace

import numpy as np
import pytest
import tifffile

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.geometry.length import ZERO, length
from labkit.geometry.trimplan import plan_of, to_be_cut
from labkit.geometry.weight import EVEN, WEIGHTS
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.brief import Brief
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.trim_and_measure import BEGIN_BORDER, BEGIN_WIDTH, trim_brief
from tests.files.make import srgb

NAMES = ("Ada Brook", "Nia Oak", "Zoë Ångström", "柳 水", "A", "Jo-Ann O'Dell")
READER = "Ada Brook"


@pytest.fixture
def asked(pictures, coarse) -> Brief:
    return trim_brief(READER, pictures, coarse)


def hand_in(folder, brief, room, layout, **more):
    picture = read_picture(brief.picture)
    made = job.write(
        picture, layout, owner=READER, title=brief.title, out=folder, room=room, **more
    )
    return judge(made.file, brief, room)


def test_names_give_tasks_of_their_own(pictures, coarse):
    briefs = [trim_brief(name, pictures, coarse) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert trim_brief("  ada   BROOK ", pictures, coarse).layout == briefs[0].layout
    with pytest.raises(LabError, match="give your name first"):
        trim_brief(" ", pictures, coarse)


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_with_our_own_pictures_and_room_every_task_is_cut_on_four_sides(name):
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    brief = trim_brief(name, pictures, room)
    layout = brief.layout
    borders = layout.picture.within(layout.trim.box)
    assert borders.left == borders.right == borders.top < borders.bottom
    assert borders.left > BEGIN_BORDER
    assert layout.picture.width > BEGIN_WIDTH
    assert (
        min(room_left for _, room_left in layout.trim.marked_box.within(layout.printable).items())
        >= ZERO
    )
    assert len(plan_of(layout).cuts) == 4
    assert borders.left.both() in brief.sentence()
    assert brief.raster.ppi == room.working_ppi


def test_what_it_asks_passes(tmp_path, quick, coarse, asked):
    assert hand_in(tmp_path, asked, coarse, asked.layout).hints == ()


def wrongs(layout):
    """Layouts that are wrong in one thing, with what they are told."""
    plain = replace(layout, trim=None)
    border = layout.picture.within(layout.trim.box).left
    return {
        "equal all round": (to_be_cut(plain, border, EVEN), "bottom border"),
        "another border": (to_be_cut(plain, border - length("1/4in"), WEIGHTS["15 % more"]), "left border"),
        "no marks": (plain, "No corner marks are seen"),
    }  # fmt: skip


@pytest.mark.parametrize("wrong", ["equal all round", "another border", "no marks"])
def test_a_wrong_one_is_told_what_is_wrong_and_not_the_answer(
    tmp_path, quick, coarse, asked, wrong
):
    layout, told = wrongs(asked.layout)[wrong]
    hints = hand_in(tmp_path, asked, coarse, layout).hints
    assert any(told in hint for hint in hints)
    below = asked.layout.picture.within(asked.layout.trim.box).bottom
    assert below.both() not in " ".join(hints)


def test_what_is_said_of_the_border_below_stands_at_that_border_alone(
    tmp_path, quick, coarse, asked
):
    below, three = "by how much it is wider", "on the right and above are alike"
    equal, _ = wrongs(asked.layout)["equal all round"]
    (hint,) = hand_in(tmp_path, asked, coarse, equal).hints
    assert below in hint
    assert three not in hint
    other, _ = wrongs(asked.layout)["another border"]
    for hint in hand_in(tmp_path, asked, coarse, other, replace=True).hints:
        assert (below in hint) == ("the bottom border" in hint)
        assert (three in hint) == ("the left border" in hint), "once is enough"


def test_by_hand_in_any_editor(tmp_path, quick, coarse, asked):
    """The steps of the card followed with NumPy alone: blank sheet, picture, boxes of black."""
    raster = asked.raster
    wide, high = raster.sheet
    sheet = np.full((high, wide, 3), 255, np.uint8)
    from PIL import Image

    with Image.open(asked.picture) as shown:
        small = shown.convert("RGB").resize(
            (raster.picture.width, raster.picture.height), Image.LANCZOS
        )
    box = raster.picture
    sheet[box.top : box.bottom, box.left : box.right] = np.asarray(small)
    for left, top, right, foot in boxes_of(asked.by_hand):
        sheet[top:foot, left:right] = 0
    file = tmp_path / f"{asked.stem}.tif"
    tifffile.imwrite(
        file, sheet, photometric="rgb", compression="lzw", predictor=True, resolution=(60, 60),
        resolutionunit="inch", iccprofile=srgb(), metadata=None,
    )  # fmt: skip
    assert judge(file, asked, coarse).hints == ()


def boxes_of(told: str):
    """The boxes that the card's sentence describes, as a reader would draw them."""
    thick = int(told.split("fill boxes ")[1].split()[0])
    level, upright = told.split("Upright ones")
    for words, across in ((level.split("Level ones")[1], True), (upright, False)):
        places, spans = words.split("pixels, each from ")
        at = [int(word) for word in places.split() if word.isdigit()]
        ends = [int(word) for word in spans.split() if word.isdigit()]
        for place in at:
            for start, end in zip(ends[::2], ends[1::2], strict=True):
                yield (
                    (start, place, end, place + thick)
                    if across
                    else (place, start, place + thick, end)
                )
