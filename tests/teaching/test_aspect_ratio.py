"""What the lesson on aspect ratio asks: each reader's own, solvable, and judged wherever it was cropped."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import Crop, Part, fill
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.aspect_ratio import (
    FRAMES,
    answer,
    aspect_ratio_brief,
    clear_of_lip,
    where_it_stays,
)
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from tests.files import sheets
from tests.geometry.refused import refusal
from tests.properties import a_few
from tests.teaching.test_margins import NAMES


@pytest.fixture
def brief(pictures, coarse):
    return aspect_ratio_brief("Ada Brook", pictures, coarse)


@pytest.fixture
def picture(brief):
    return Image.open(brief.picture).convert("RGB")


def cropped(image: Image.Image, crop: Crop) -> Image.Image:
    left, top = crop.left * image.width, crop.top * image.height
    right, bottom = left + crop.width * image.width, top + crop.height * image.height
    return image.crop(tuple(round(side) for side in (left, top, right, bottom)))


def with_crop(brief, image: Image.Image, crop: Crop, **box) -> Image.Image:
    """The sheet as somebody makes it by hand, cropped there."""
    raster = replace(brief.raster, picture=replace(brief.raster.picture, **box))
    return sheets.by_hand(cropped(image, crop), raster)


@pytest.fixture
def handed_in(tmp_path, brief, coarse, quick):
    def hand_in(image, name=f"{brief.stem}.tif"):
        return judge(sheets.save(image, tmp_path / name, 60), brief, coarse)

    return hand_in


# The task


def test_ten_names_give_ten_tasks(pictures, coarse):
    briefs = [aspect_ratio_brief(name, pictures, coarse) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) == len(NAMES)
    assert len({brief.stem for brief in briefs}) == len(NAMES)
    assert len({(brief.layout, brief.picture) for brief in briefs}) == len(NAMES)


@pytest.mark.parametrize("name", a_few(NAMES[::3]))
def test_what_it_asks_can_be_made_and_passes(tmp_path, quick, pictures, coarse, name):
    brief = aspect_ratio_brief(name, pictures, coarse)
    picture = read_picture(brief.picture)
    made = job.write(
        picture, brief.layout, owner=name, title=brief.title, out=tmp_path, room=coarse
    )
    assert made.file.stem == brief.stem
    assert judge(made.file, brief, coarse).hints == ()


def test_the_task_is_the_same_however_the_name_is_typed(pictures, coarse, brief):
    assert aspect_ratio_brief("  ada   BROOK ", pictures, coarse).layout == brief.layout


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_with_our_own_pictures_every_task_keeps_to_its_bounds(name):
    """Sold frames, half an inch of border, nothing enlarged, and never the middle."""
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    brief = aspect_ratio_brief(name, pictures, room)
    layout = brief.layout
    size = {layout.picture.width, layout.picture.height}
    assert size in [{find_sheet(each).width, find_sheet(each).height} for each in FRAMES]
    assert min(border for _, border in layout.borders.items()) >= inches("0.5")
    assert room.find_stock(layout.sheet)
    assert brief.raster.ppi == room.working_ppi <= brief.raster.own_ppi
    assert brief.keep.short(layout.crop) == {}
    assert brief.keep.short(fill(brief.pixels, *layout.picture.size))
    assert ("lying on its side" in brief.sentence()) == layout.sheet.is_turned


def test_the_sentence_gives_sight_size_and_lip_that_make_the_print(brief):
    """The lengths told are the sight size across and down and the lip: two lips more is the print."""
    across, down, lip = (part for part in brief.asked if not isinstance(part, str))
    assert (across + lip * 2, down + lip * 2) == brief.layout.picture.size
    assert "leave all of the bright corner to be seen" in brief.sentence()


def test_tasks_differ(pictures, coarse):
    briefs = [aspect_ratio_brief(f"Reader {number}", pictures, coarse) for number in range(60)]
    assert len({brief.layout.sheet for brief in briefs}) >= 6
    assert len({brief.layout.picture.size for brief in briefs}) >= 5
    assert len({brief.picture for brief in briefs}) == 2


def test_without_a_name_there_is_no_task(pictures, coarse):
    assert refusal(aspect_ratio_brief, " ", pictures, coarse) == (
        "give your name first: the task is drawn from it, and the file carries it."
    )


def test_a_room_with_small_sheets_only_is_told(pictures, coarse):
    tiny = sheets.keeping(coarse, "4x3in")
    assert refusal(aspect_ratio_brief, "Ada", pictures, tiny) == (
        "no sheet in stock at Quillmarsh College Print Room takes one of our pictures for a frame: add a "
        "larger one to the room's file."
    )


# Its parts


def test_what_has_to_stay_clear_of_the_lip():
    """Printed 8 in wide, 2 of 3 of the picture's width: the whole would be 12 × 8 in. A lip of 1/4 in is
    1/48 of its width and 1/32 of its height."""
    layout = lay_out(
        (3600, 2400), find_sheet("13x19in"), fill=True, width=inches(8), height=inches(8)
    )
    part = Part("it", (Fraction(1, 4), Fraction(1, 4), Fraction(1, 2), Fraction(1, 2)))
    assert clear_of_lip(part, layout, length("1/4in")).box == (
        Fraction(11, 48),
        Fraction(7, 32),
        Fraction(25, 48),
        Fraction(17, 32),
    )


@pytest.mark.parametrize(
    ("box", "point"),
    [
        # A square of 3 : 2 is 2/3 wide with 1/3 to spare: from 0 to 1/4 it keeps 1/4 to 1/2.
        ((Fraction(1, 4), 0, Fraction(1, 2), 1), (Fraction(3, 8), Fraction(1, 2))),
        ((Fraction(1, 4), Fraction(-1, 9), Fraction(1, 2), 1), None),  # above the picture
        ((Fraction(1, 10), 0, Fraction(9, 10), 1), None),  # wider than the square
        ((Fraction(1, 6), 0, Fraction(5, 6), 1), None),  # just as wide: no room to move
        ((Fraction(1, 50), 0, Fraction(1, 2), 1), None),  # hardly any
    ],
)
def test_the_middle_of_where_it_stays(box, point):
    square = fill((3600, 2400), inches(8), inches(8))
    assert where_it_stays(Part("it", box), square) == point


def test_a_frame_for_which_the_middle_would_do_is_no_task(pictures, coarse):
    """The part begins at 0.125. From the middle, 4 : 5 of 1000 × 700 pixels begins at 0.22, and 5 : 4 at
    0.0625."""
    given = length("1/4in"), find_sheet("13x19in"), "centre", coarse
    assert answer(pictures[0], find_sheet("8x10in"), *given)
    assert answer(pictures[0], find_sheet("10x8in"), *given) is None


def test_a_frame_that_asks_for_more_pixels_than_there_are_is_no_task(pictures, coarse):
    fine = replace(coarse, working_ppi=300)
    asked = find_sheet("8x10in"), length("1/4in"), find_sheet("13x19in"), "centre"
    assert answer(pictures[0], *asked, coarse)
    assert answer(pictures[0], *asked, fine) is None


# Right answers


def spots(brief) -> list[Crop]:
    """Crops from one end of where the part stays to the other."""
    crop, (left, top, right, bottom) = brief.layout.crop, brief.keep.box
    along = [
        (max(Fraction(0), last - size), min(1 - size, first))
        for first, last, size in ((left, right, crop.width), (top, bottom, crop.height))
    ]
    return [
        replace(crop, **{
            side: least + (most - least) * share
            for side, (least, most) in zip(("left", "top"), along, strict=True)
        })
        for share in (Fraction(0), Fraction(1, 2), Fraction(1))
    ]  # fmt: skip


def test_any_crop_that_keeps_the_part_passes(handed_in, brief, picture):
    for crop in spots(brief):
        assert brief.keep.short(crop) == {}
        assert handed_in(with_crop(brief, picture, crop)).hints == ()


def test_so_does_a_closer_one(handed_in, brief, picture):
    crop = brief.layout.crop
    left, top, right, bottom = brief.keep.box
    size = Fraction(9, 10)
    wide, high = crop.width * size, crop.height * size
    closer = Crop(
        max(Fraction(0), min(left, 1 - wide)), max(Fraction(0), min(top, 1 - high)), wide, high
    )
    assert brief.keep.short(closer) == {}
    assert right - left < wide
    assert bottom - top < high
    assert handed_in(with_crop(brief, picture, closer)).hints == ()


def test_written_by_another_program(tmp_path, brief, coarse, quick, picture):
    values = np.asarray(with_crop(brief, picture, brief.layout.crop))
    path = sheets.save_by_tifffile(values, tmp_path / f"{brief.stem}.tif", (60, 60))
    assert judge(path, brief, coarse).hints == ()


def test_written_by_libvips(tmp_path, brief, coarse, quick, picture):
    image = with_crop(brief, picture, brief.layout.crop)
    path = sheets.save_by_vips(image, tmp_path / f"{brief.stem}.tif", 60)
    assert judge(path, brief, coarse).hints == ()


# Wrong answers


def from_the_middle(brief) -> Crop:
    return fill(brief.pixels, *brief.layout.picture.size)


WRONG = {
    "the sight size": "the print is the sight size and two lips more",
    "one lip": "the print is the sight size and two lips more",
    "the whole picture": "Crop the picture to the shape that makes",
    "squeezed": "never squeezed",
    "the middle": "has to stay clear of the lip as well",
    "under the lip": "has to stay clear of the lip as well",
    "mirrored": "is mirrored",
    "another picture": "nother picture than the one asked for",
    "the wrong way round": "The sheet lies as the task says",
    "shifted": "The place is reckoned with the whole print",
    "named otherwise": "is named",
}


def spoil(how, handed_in, brief, picture):
    crop, box = brief.layout.crop, brief.raster.picture
    lip = [part for part in brief.asked if not isinstance(part, str)][2].pixels(60)
    inset = {"the sight size": lip, "one lip": lip - lip // 2}.get(how)
    if inset:
        size = {"width": box.width - 2 * inset, "height": box.height - 2 * inset}
        moved = {"left": box.left + inset, "top": box.top + inset}
        return handed_in(with_crop(brief, picture, crop, **size, **moved))
    if how == "the whole picture":
        high = round(box.width * picture.height / picture.width)
        whole = Crop()
        if high <= box.height:
            return handed_in(with_crop(brief, picture, whole, height=high))
        wide = round(box.height * picture.width / picture.height)
        return handed_in(with_crop(brief, picture, whole, width=wide))
    if how == "under the lip":
        return handed_in(with_crop(brief, picture, under_the_lip(brief)))
    if how == "mirrored":
        flipped = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        return handed_in(with_crop(brief, flipped, crop))
    right = with_crop(brief, picture, crop)
    return {
        "squeezed": lambda: handed_in(with_crop(brief, picture, Crop())),
        "the middle": lambda: handed_in(with_crop(brief, picture, from_the_middle(brief))),
        "another picture": lambda: handed_in(
            with_crop(brief, Image.new("RGB", picture.size, (20, 140, 60)), crop)
        ),
        "the wrong way round": lambda: handed_in(right.rotate(90, expand=True)),
        "shifted": lambda: handed_in(with_crop(brief, picture, crop, left=box.left - 4)),
        "named otherwise": lambda: handed_in(right, name="scan 0412.tif"),
    }[how]()


def under_the_lip(brief) -> Crop:
    """Every bit of the part is printed, and its left or upper edge lies at the print's own."""
    crop, part = brief.layout.crop, Fraction(1, 8)
    return replace(crop, left=part) if crop.width < 1 else replace(crop, top=part)


@pytest.mark.parametrize("how", a_few(WRONG, 3))
def test_a_wrong_file_fails_with_a_hint_of_its_own(handed_in, brief, picture, how):
    judgement = spoil(how, handed_in, brief, picture)
    assert not judgement.passed
    assert [hint for hint in judgement.hints if WRONG[how] in hint], judgement.hints


def test_it_says_what_is_lost_where_and_which_way_to_go(pictures, coarse, tmp_path, quick):
    """8 × 10 in of 1000 × 700 pixels: the whole would be 14.286 in wide. From the middle the print begins
    at 0.22 of it, and the part, with a lip of 1/4 in round it, at 0.1075: 1.607 in too far right."""
    brief = next(
        made
        for number in range(300)
        if (made := aspect_ratio_brief(f"Reader {number}", pictures, coarse)).pixels == (1000, 700)
        and made.layout.picture.size == (inches(8), inches(10))
        and length("1/4in") in made.asked
    )
    image = Image.open(brief.picture).convert("RGB")
    path = sheets.save(
        with_crop(brief, image, from_the_middle(brief)), tmp_path / f"{brief.stem}.tif", 60
    )
    (hint,) = judge(path, brief, coarse).hints
    lost = length(hint.removeprefix("About ").split(" (")[0])
    assert abs(lost - inches("1.607")) <= length("1/16in")
    assert "of the bright corner is lost at the left. Expected: all of the bright corner" in hint
    assert "further to the left" in hint
