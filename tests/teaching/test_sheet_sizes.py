"""What the lesson on sheet sizes asks: each reader's own, solvable, and judged with hints of its own."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import srgb_profile
from labkit.geometry.holding import area, ways_it_holds
from labkit.geometry.layout import place
from labkit.geometry.length import Length, inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.sheet_sizes import LEAST_WIDTH, STEP, answer, sheet_sizes_brief
from tests.files import sheets
from tests.geometry.refused import refusal
from tests.teaching.test_margins import NAMES


def ours():
    return tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())


def given(brief):
    """Width and border, as the task gives them."""
    return [part for part in brief.asked if isinstance(part, Length)]


@pytest.fixture
def task(pictures, coarse):
    return sheet_sizes_brief("Ada Brook", pictures, coarse)


# The task


def test_ten_names_give_ten_tasks():
    room = load_room()
    briefs = [sheet_sizes_brief(name, ours(), room) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert len({(brief.layout, brief.picture) for brief in briefs}) == len(NAMES)
    many = [sheet_sizes_brief(f"Reader {number}", ours(), room) for number in range(80)]
    assert {brief.layout.sheet.name for brief in many} == {sheet.name for sheet in room.sheets}
    assert {brief.layout.sheet.is_turned for brief in many} == {True, False}
    assert len({brief.picture for brief in many}) == 2


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_no_smaller_sheet_would_do_and_the_way_it_lies_is_sure(name):
    room = load_room()
    brief = sheet_sizes_brief(name, ours(), room)
    layout, (width, border) = brief.layout, given(brief)
    size = layout.picture.size
    assert size[0] == width >= LEAST_WIDTH
    assert (width / STEP).denominator == 1
    assert brief.raster.own_ppi >= room.working_ppi
    assert (layout.picture.left, layout.picture.top) == place(size, layout.sheet, "centre")
    assert min(found for _, found in layout.borders.items()) >= border
    for sheet in room.sheets:
        if area(sheet.width, sheet.height) < area(layout.sheet.width, layout.sheet.height):
            assert ways_it_holds(size, sheet, room.unprintable, border) == ()
    either = len(ways_it_holds(size, layout.sheet, room.unprintable, border)) == 2
    assert ("lies the way the picture does" in brief.sentence()) is either
    assert layout.sheet.is_turned == (size[0] > size[1])


def test_the_answer_for_a_size_worked_by_hand():
    """15 × 10 in with 1/2 in all round takes 16 × 11 in; with 3/4 in 16 1/2 × 11 1/2 in, which 11 in do
    not hold and A3, 16.535 × 11.693 in, does; with 1 in 17 × 12 in."""
    room = load_room()
    for border, sheet in (("1/2in", "11x17in"), ("3/4in", "A3"), ("1in", "13x19in")):
        layout = answer((4500, 3000), inches(15), length(border), room)
        assert layout.sheet == find_sheet(sheet).turned()
    assert answer((4500, 3000), inches(18), inches(1), room) is None


def test_the_task_is_the_same_however_the_name_is_typed(pictures, coarse, task):
    assert sheet_sizes_brief("  ada   BROOK ", pictures, coarse).layout == task.layout


def test_without_a_name_there_is_no_task(pictures, coarse):
    assert refusal(sheet_sizes_brief, " ", pictures, coarse).startswith("give your name first")


@pytest.mark.parametrize("names", [("4x5in",), ("5x5in", "4x12in")])
def test_a_room_that_cannot_hold_it_is_told(pictures, coarse, names):
    tiny = sheets.keeping(coarse, *names)
    assert refusal(sheet_sizes_brief, "Ada", pictures, tiny) == (
        "no sheet in stock at Quillmarsh College Print Room holds one of our pictures 5 in (127 mm) wide "
        "with borders of 1/2 in (12.7 mm): add a larger one to the room's file."
    )


@pytest.mark.parametrize("names", [("A0",), ("12x12in",), ("letter",)])
def test_a_room_with_one_sheet_has_a_task_all_the_same(names):
    room = sheets.keeping(load_room(), *names)
    for name in NAMES:
        brief = sheet_sizes_brief(name, ours(), room)
        assert room.find_stock(brief.layout.sheet)
        assert min(found for _, found in brief.layout.borders.items()) >= given(brief)[1]


def test_neither_task_nor_name_tells_the_sheet(task):
    told = f"{task.sentence()} {task.named}"
    assert task.layout.sheet.label in task.stem
    assert "Ada-Brook_Low-tide_SHEET.tif" in told or "Ada-Brook_Ladder_SHEET.tif" in told
    assert task.layout.sheet.label not in told


# What is handed in


@pytest.mark.parametrize("name", NAMES[::3])
def test_what_it_asks_can_be_made_and_passes(tmp_path, quick, pictures, coarse, name):
    brief = sheet_sizes_brief(name, pictures, coarse)
    picture = read_picture(brief.picture)
    made = job.write(
        picture, brief.layout, owner=name, title=brief.title, out=tmp_path, room=coarse
    )
    assert judge(made.file, brief, coarse).hints == ()


def right(task):
    return sheets.by_hand(Image.open(task.picture), task.raster)


def test_a_file_by_tifffile_passes(tmp_path, quick, task, coarse):
    file = sheets.save_by_tifffile(
        np.asarray(right(task)), tmp_path / f"{task.stem}.tif", ppi=(60, 60)
    )
    assert judge(file, task, coarse).hints == ()


def test_a_file_by_libvips_passes(tmp_path, quick, task, coarse):
    file = sheets.save_by_vips(right(task), tmp_path / f"{task.stem}.tif", 60)
    assert judge(file, task, coarse).hints == ()


def on_another(task, sheet=None, width=None, left=None) -> Image.Image:
    """The task's print in the centre of another sheet, of another width, or moved."""
    sheet = sheet or task.layout.sheet
    wide = width or task.layout.picture.width
    high = wide * Fraction(task.pixels[1], task.pixels[0])
    x, y = place((wide, high), sheet, "centre")
    box = replace(task.layout.picture, left=left or x, top=y, width=wide, height=high)
    layout = replace(task.layout, sheet=sheet, picture=box)
    raster = rasterize(layout, task.pixels, working_ppi=60, resample=60)
    return sheets.by_hand(Image.open(task.picture), raster)


WRONG = {
    "a larger sheet": "On a larger one paper is wasted",
    "a smaller sheet, the picture made to fit": "the print would have to shrink",
    "the sheet the other way": "Turn the blank sheet, never the picture",
    "another width": "the sheet is wrong, not the print",
    "stretched": "the height follows from the pixels",
    "too far left": "what is spare is halved",
    "labelled 72": "prints another size at 100 %",
    "mirrored": "is mirrored",
    "a tinted border": "Fill the blank sheet with pure white",
    "another name": "Your task says what the name is made of",
    "PNG": "Save it as TIFF",
}


def spoilt(how, task, folder):
    file, picture, lying = folder / f"{task.stem}.tif", task.layout.picture, task.layout.sheet
    large, small = find_sheet("16x20in"), find_sheet("6x8in")
    images = {
        "a larger sheet": lambda: on_another(task, large.turned() if lying.is_turned else large),
        "a smaller sheet, the picture made to fit": lambda: on_another(
            task, small.turned() if lying.is_turned else small, width=inches(4)
        ),
        "the sheet the other way": lambda: right(task).rotate(90, expand=True),
        "another width": lambda: on_another(task, width=picture.width - length("1/4in")),
        "too far left": lambda: on_another(task, left=picture.left - length("1/8in")),
    }
    if how in images:
        return sheets.save(images[how](), file, 60)
    if how == "stretched":
        box = replace(task.raster.picture, height=task.raster.picture.height - 25)
        raster = replace(task.raster, picture=box)
        return sheets.save(sheets.by_hand(Image.open(task.picture), raster), file, 60)
    if how == "labelled 72":
        return sheets.save(right(task), file, 72)
    if how == "mirrored":
        flipped = Image.open(task.picture).transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        return sheets.save(sheets.by_hand(flipped, task.raster), file, 60)
    if how == "a tinted border":
        tinted = np.asarray(right(task)).copy()
        tinted[(tinted == 255).all(axis=2)] = (250, 246, 238)
        return sheets.save(Image.fromarray(tinted), file, 60)
    if how == "another name":
        return sheets.save(right(task), folder / "scan0412.tif", 60)
    right(task).save(folder / f"{task.stem}.png", dpi=(60, 60), icc_profile=srgb_profile())
    return folder / f"{task.stem}.png"


@pytest.mark.parametrize("how", WRONG)
def test_each_wrong_answer_fails_with_a_hint_of_its_own(tmp_path, quick, task, coarse, how):
    judgement = judge(spoilt(how, task, tmp_path), task, coarse)
    assert not judgement.passed
    assert WRONG[how] in " ".join(judgement.hints)


def test_the_hint_on_the_sheet_works_the_sum(tmp_path, quick, task, coarse):
    width, border = given(task)
    judgement = judge(spoilt("a larger sheet", task, tmp_path), task, coarse)
    told = next(hint for hint in judgement.hints if "least area" in hint)
    assert f"{width} + 2 × {border} = {width + border * 2}" in told
