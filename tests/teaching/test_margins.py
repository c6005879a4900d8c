"""What the lesson on margins asks: each reader's own, and each solvable."""

import pytest

from labkit.errors import LabError
from labkit.files.header.reading import read_picture
from labkit.geometry.layout import PLACES, lay_out
from labkit.geometry.length import inches
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.judge import judge
from labkit.teaching.margins import BEGIN_AT, BEGIN_WIDTH, margins_brief
from labkit.teaching.pictures import demo_pictures
from tests.files import sheets
from tests.geometry.refused import refusal

NAMES = (
    "Ada Brook", "Nia Oak", "Zoë Ångström", "Ольга Река", "柳 水", "نور", "Ivo", "A", "Jo-Ann O'Dell",
    "Maximiliane von und zu Quillmarsh",
)  # fmt: skip


def test_ten_names_give_ten_tasks(pictures, coarse):
    briefs = [margins_brief(name, pictures, coarse) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert len({brief.stem for brief in briefs}) == len(NAMES)
    assert len({(brief.layout, brief.picture) for brief in briefs}) == len(NAMES)


@pytest.mark.parametrize("name", NAMES[::3])
def test_what_it_asks_can_be_made_and_passes(tmp_path, quick, pictures, coarse, name):
    brief = margins_brief(name, pictures, coarse)
    picture = read_picture(brief.picture)
    made = job.write(
        picture, brief.layout, owner=name, title=brief.title, out=tmp_path, room=coarse
    )
    assert made.file.stem == brief.stem
    judgement = judge(made.file, brief, coarse)
    assert judgement.hints == ()
    assert judgement.passed


def test_the_task_is_the_same_whenever_and_however_the_name_is_typed(pictures, coarse):
    first = margins_brief("Ada Brook", pictures, coarse)
    assert margins_brief("Ada Brook", pictures, coarse) == first
    assert margins_brief("  ada   BROOK ", pictures, coarse).layout == first.layout


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_with_our_own_pictures_and_room_every_task_keeps_to_its_bounds(name):
    """At least 4 in wide, in quarter inches, with half an inch left on every side, nothing enlarged."""
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    brief = margins_brief(name, pictures, room)
    layout = brief.layout
    assert layout.picture.width >= inches(4)
    assert (layout.picture.width.inches * 4).denominator == 1
    assert min(border for _, border in layout.borders.items()) >= inches("0.5")
    assert room.find_stock(layout.sheet)
    assert layout.unprintable == room.unprintable(layout.sheet)
    assert brief.raster.ppi == room.working_ppi <= brief.raster.own_ppi
    words = {"centre": "in the centre", "optical": "optical centre", "even-three": "equal borders"}
    (at,) = (place for place in PLACES if words[place] in brief.sentence())
    asked = lay_out(
        brief.pixels,
        layout.sheet,
        unprintable=layout.unprintable,
        width=layout.picture.width,
        at=at,
    )
    assert asked == layout
    assert ("lying on its side" in brief.sentence()) == layout.sheet.is_turned


def test_tasks_differ_in_sheet_place_and_picture(pictures, coarse):
    briefs = [margins_brief(f"Reader {number}", pictures, coarse) for number in range(60)]
    assert len({brief.layout.sheet for brief in briefs}) >= 5
    assert len({brief.layout.sheet.is_turned for brief in briefs}) == 2
    assert len({brief.picture for brief in briefs}) == 2
    assert len({brief.layout.picture.width for brief in briefs}) >= 10
    assert sum("optical centre" in brief.sentence() for brief in briefs) >= 5


@pytest.mark.parametrize("name", ["", "  ", "\n"])
def test_without_a_name_there_is_no_task(pictures, coarse, name):
    assert refusal(margins_brief, name, pictures, coarse) == (
        "give your name first: the task is drawn from it, and the file carries it."
    )


def test_a_name_no_file_can_carry_is_told(pictures, coarse):
    with pytest.raises(LabError, match="nothing is left of the owner"):
        margins_brief("?!", pictures, coarse)


def test_a_room_with_small_sheets_only_is_told_and_not_searched_for_ever(pictures, coarse):
    tiny = sheets.keeping(coarse, "4x3in")
    assert refusal(margins_brief, "Ada", pictures, tiny) == (
        "no sheet in stock at Quillmarsh College Print Room takes a print of 4 in (101.6 mm) with "
        "borders of 1/2 in (12.7 mm): add a larger one to the room's file."
    )


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(40)])
def test_no_task_is_one_control_away_from_where_the_figure_begins(name):
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    layout = margins_brief(name, pictures, room).layout
    begun = lay_out((3, 2), room.sheets[0], width=BEGIN_WIDTH, at=BEGIN_AT)
    moves = [
        layout.sheet != begun.sheet,
        layout.picture.width != begun.picture.width,
        layout.borders.top != layout.borders.bottom,
    ]
    assert sum(moves) >= 2
