"""What the lesson on resolution asks: the largest print at the floor, on the smallest sheet for it."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import srgb_profile
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import rasterize
from labkit.geometry.resolution import FloorRow, floor_for, ppi_at
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.resolution import answer, largest_width, resolution_brief
from tests.files import sheets
from tests.geometry.refused import refusal
from tests.properties import a_few
from tests.teaching.test_margins import NAMES


@pytest.fixture(scope="session")
def low(coarse):
    """A room that works at 60 ppi and asks for no more."""
    rows = (FloorRow(inches(20), 60, length("150cm")), FloorRow(None, 40, length("200cm")))
    return replace(coarse, floor=rows)


@pytest.fixture
def task(pictures, low):
    return resolution_brief("Ada Brook", pictures, low)


def ours():
    return tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())


# The largest width


@pytest.mark.parametrize(
    ("pixels", "width"),
    [
        ((4500, 3000), "15in"),  # 4500 / 300
        ((3000, 4000), "10in"),  # 4000 / 300 is 13 1/3 high
        ((4574, 3000), "15in"),  # 15.247
        ((4575, 3000), "15 1/4in"),
        ((6000, 4000), "19in"),  # at the floor up to 20 in, but no sheet is longer
        ((60, 40), "0in"),
    ],
)
def test_the_largest_width_in_the_shipped_room(pixels, width):
    assert largest_width(pixels, load_room().floor, length("19in")) == length(width)


def test_a_width_rounded_down_past_a_stricter_row_is_not_taken():
    """4010 pixels reach 20.05 in at 200 ppi; a quarter inch less falls under 300 ppi, and 13.25 is left."""
    assert largest_width((4010, 4010), load_room().floor, inches(30)) == length("13 1/4in")


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_with_our_own_pictures_and_room_the_answer_is_what_is_asked(name):
    room, brief = load_room(), resolution_brief(name, ours(), load_room())
    size, borders = brief.layout.picture.size, brief.layout.borders
    step = length("1/4in")
    assert (size[0] / step).denominator == 1
    assert ppi_at(brief.pixels[0], size[0]) >= floor_for(max(size), room.floor).ppi
    assert ppi_at(brief.pixels[0], size[0] + step) < floor_for(max(size) + step, room.floor).ppi
    told = [part for part in brief.asked if not isinstance(part, str)]
    assert told[:2] == [borders.left, borders.top]
    assert borders.right >= told[2]
    assert borders.bottom >= told[3]
    needed = told[0] + size[0] + told[2], told[1] + size[1] + told[3]
    holding = [
        sheet
        for each in room.sheets
        for sheet in [each.turned() if brief.pixels[0] > brief.pixels[1] else each]
        if sheet.width >= needed[0] and sheet.height >= needed[1]
    ]
    area = min(sheet.width.inches * sheet.height.inches for sheet in holding)
    sheet = brief.layout.sheet
    assert sheet in holding
    assert sheet.width.inches * sheet.height.inches == area


def test_ten_names_give_ten_tasks():
    briefs = [resolution_brief(name, ours(), load_room()) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert len({(brief.layout, brief.picture) for brief in briefs}) == len(NAMES)
    many = [resolution_brief(f"Reader {n}", ours(), load_room()) for n in range(60)]
    assert len({brief.layout.sheet for brief in many}) >= 4
    assert len({brief.picture for brief in many}) == 2


def test_a_print_that_no_sheet_holds_has_no_answer():
    room = load_room()
    wide = inches(3), inches(3)
    assert answer((4500, 3000), room, wide, wide) is None
    small = inches(1), inches(1)
    assert answer((4500, 3000), room, small, small).sheet == find_sheet("13x19in").turned()
    assert answer((60, 40), room, (ZERO, ZERO), (ZERO, ZERO)) is None


def test_a_room_with_small_sheets_only_asks_for_what_fits_or_says_so(low, pictures):
    letter = sheets.keeping(load_room(), "letter")
    assert refusal(resolution_brief, "Ada", ours(), letter) == (
        "no sheet in stock at Quillmarsh College Print Room holds the largest print of any of our "
        "pictures: add a larger one to the room's file."
    )


def test_without_a_name_there_is_no_task(pictures, low):
    assert refusal(resolution_brief, " ", pictures, low).startswith("give your name first")


# What is handed in


@pytest.mark.parametrize("name", a_few(NAMES[::3]))
def test_what_it_asks_can_be_made_and_passes(tmp_path, quick, pictures, low, name):
    brief = resolution_brief(name, pictures, low)
    picture = read_picture(brief.picture)
    made = job.write(picture, brief.layout, owner=name, title=brief.title, out=tmp_path, room=low)
    assert judge(made.file, brief, low).hints == ()


def right(task):
    return sheets.by_hand(Image.open(task.picture), task.raster)


def test_a_file_by_tifffile_passes(tmp_path, quick, task, low):
    file = sheets.save_by_tifffile(
        np.asarray(right(task)), tmp_path / f"{task.stem}.tif", ppi=(60, 60)
    )
    assert judge(file, task, low).hints == ()


def test_a_file_by_libvips_passes(tmp_path, quick, task, low):
    file = sheets.save_by_vips(right(task), tmp_path / f"{task.stem}.tif", 60)
    assert judge(file, task, low).hints == ()


def hinted(file, task, room) -> str:
    judgement = judge(file, task, room)
    assert not judgement.passed
    return " ".join(judgement.hints)


def laid_out_anew(task, **changes) -> Image.Image:
    """The task's sheet with another layout."""
    layout = task.layout
    if "sheet" in changes:
        layout = replace(layout, sheet=changes["sheet"])
    if "width" in changes:
        high = changes["width"] * Fraction(task.pixels[1], task.pixels[0])
        box = replace(layout.picture, width=changes["width"], height=high)
        layout = replace(layout, picture=box)
    if "left" in changes:
        layout = replace(layout, picture=replace(layout.picture, left=changes["left"]))
    raster = rasterize(layout, task.pixels, working_ppi=60, resample=60)
    return sheets.by_hand(Image.open(task.picture), raster)


WRONG = {
    "smaller than the largest": "divided by the floor's ppi",
    "larger, by enlarging": "divided by the floor's ppi",
    "stretched": "the height follows from the pixels",
    "a larger sheet": "take the smallest in stock",
    "the sheet the other way": "The sheet lies the picture's way",
    "labelled 72": "this one tells it wrong",
    "no label": "has pixels, and no inches",
    "in the centre": "what is over goes to the right and below",
    "mirrored": "is mirrored",
    "another name": "Your task says what the name is made of",
    "PNG": "Save it as TIFF",
}


def spoilt(how, task, folder):
    file, picture = folder / f"{task.stem}.tif", task.layout.picture
    if how == "smaller than the largest":
        return sheets.save(laid_out_anew(task, width=picture.width - inches("0.5")), file, 60)
    if how == "larger, by enlarging":
        return sheets.save(laid_out_anew(task, width=picture.width + inches("0.125")), file, 60)
    if how == "stretched":
        box = replace(task.raster.picture, height=task.raster.picture.height - 25)
        raster = replace(task.raster, picture=box)
        return sheets.save(sheets.by_hand(Image.open(task.picture), raster), file, 60)
    if how == "a larger sheet":
        return sheets.save(laid_out_anew(task, sheet=find_sheet("20x24in").turned()), file, 60)
    if how == "the sheet the other way":
        return sheets.save(right(task).rotate(90, expand=True), file, 60)
    if how == "labelled 72":
        return sheets.save(right(task), file, 72)
    if how == "no label":
        return sheets.save_by_tifffile(np.asarray(right(task)), file, ppi=None)
    if how == "in the centre":
        middle = (task.layout.sheet.width - picture.width) / 2
        return sheets.save(laid_out_anew(task, left=middle), file, 60)
    if how == "mirrored":
        flipped = Image.open(task.picture).transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        return sheets.save(sheets.by_hand(flipped, task.raster), file, 60)
    if how == "another name":
        return sheets.save(right(task), folder / "scan0412.tif", 60)
    right(task).save(folder / f"{task.stem}.png", dpi=(60, 60), icc_profile=srgb_profile())
    return folder / f"{task.stem}.png"


@pytest.mark.parametrize("how", WRONG)
def test_each_wrong_answer_fails_with_a_hint_of_its_own(tmp_path, quick, task, low, how):
    assert WRONG[how] in hinted(spoilt(how, task, tmp_path), task, low)
