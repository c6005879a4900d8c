"""What the lesson on sheet sizes asks: each reader's own, solvable, and judged with hints of its own."""

from dataclasses import replace

import pytest

from labkit import job
from labkit.files.picture import open_picture
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.geometry.stock import holding
from labkit.room import load_room
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.sheet_sizes import sheet_sizes_brief
from tests.geometry.refused import refusal
from tests.teaching.test_margins import NAMES


@pytest.fixture
def brief(pictures, coarse):
    return sheet_sizes_brief("Ada Brook", pictures, coarse)


def test_ten_names_give_ten_tasks(pictures, coarse):
    briefs = [sheet_sizes_brief(name, pictures, coarse) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert len({brief.stem for brief in briefs}) == len(NAMES)


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(30)])
def test_no_smaller_sheet_would_do(name):
    room = load_room()
    pictures = tuple((demo, open_picture(demo.file).pixels) for demo in demo_pictures())
    brief = sheet_sizes_brief(name, pictures, room)
    layout = brief.layout
    border = min(found for _, found in layout.borders.items())
    area = layout.sheet.width.inches * layout.sheet.height.inches
    asked = brief.asked[3]
    assert border >= asked
    for sheet in room.sheets:
        if sheet.width.inches * sheet.height.inches < area:
            assert holding(layout.picture.size, sheet, room.unprintable, asked) is None
    assert layout.sheet.is_turned == (brief.pixels[0] > brief.pixels[1])


def hand_in(tmp_path, brief, room, layout=None, name=None, **kwargs):
    picture = open_picture(brief.picture)
    made = job.write(
        picture,
        layout or brief.layout,
        owner=brief.reader,
        title=brief.title,
        out=tmp_path,
        room=room,
        **kwargs,
    )
    file = made.file.rename(tmp_path / f"{name or brief.stem}.tif")
    return judge(file, brief, room)


@pytest.mark.parametrize("name", NAMES[:4])
def test_the_right_answer_passes(tmp_path, quick, pictures, coarse, name):
    brief = sheet_sizes_brief(name, pictures, coarse)
    assert hand_in(tmp_path, brief, coarse).hints == ()


def other(brief, room, sheet=None, **wishes):
    sheet = sheet or brief.layout.sheet
    wishes = {"width": brief.layout.picture.width} | wishes
    return lay_out(brief.pixels, sheet, **wishes)


def wrong_answers(brief, room):
    layout = brief.layout
    large = find_sheet("20x24in")
    return {
        "a larger sheet": (other(brief, room, large), "the one with the least paper left over"),
        "the sheet turned": (
            other(brief, room, layout.sheet.turned(), width=length("4in")),
            "The sheet lies the way the print does.",
        ),
        "a smaller print": (
            other(brief, room, width=layout.picture.width - length("1/4in")),
            "At 100 % the print has the width the task names",
        ),
        "too far left": (
            other(brief, room, left=layout.picture.left - length("1/8in"), top=layout.picture.top),
            "what is spare is halved",
        ),
        "too low": (
            other(brief, room, left=layout.picture.left, top=layout.picture.top + length("1/8in")),
            "The picture sits too far down.",
        ),
    }


@pytest.mark.parametrize(
    "fault", ["a larger sheet", "the sheet turned", "a smaller print", "too far left", "too low"]
)
def test_a_wrong_answer_gets_its_hint(tmp_path, quick, coarse, brief, fault):
    layout, hint = wrong_answers(brief, coarse)[fault]
    judgement = hand_in(tmp_path, brief, coarse, layout)
    assert not judgement.passed
    assert hint in " ".join(judgement.hints)


def test_a_wrong_name_gets_its_hint(tmp_path, quick, coarse, brief):
    judgement = hand_in(tmp_path, brief, coarse, name="IMG_0042")
    assert "Rename it to" in " ".join(judgement.hints)
    assert len(judgement.hints) == 1


def test_a_room_that_cannot_hold_it_is_told(pictures, coarse):
    tiny = replace(coarse, sheets=(find_sheet("4x5in"),))
    assert refusal(sheet_sizes_brief, "Ada", pictures, tiny) == (
        "no sheet in stock at Quillmarsh College Print Room holds a print of 5 in (127 mm) with borders "
        "of 1/2 in (12.7 mm): add a larger one to the room's file."
    )
