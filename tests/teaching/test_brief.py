"""A reader's task in words, and the card for doing it by hand in any editor."""

import re

import pytest
from PIL import Image

from labkit.errors import LabError
from labkit.geometry.layout import lay_out
from labkit.geometry.length import inches
from labkit.geometry.paper import find_sheet
from labkit.teaching.brief import brief_of, chance_for, give_picture
from labkit.teaching.judge import judge
from labkit.teaching.margins import margins_brief
from tests.files import sheets
from tests.geometry.refused import refusal


@pytest.fixture
def cropped(pictures, coarse):
    """A task that crops: a square of a picture of 1000 × 700."""
    layout = lay_out(pictures[0][1], find_sheet("letter"), fill=True, border=inches("1.25"))
    return brief_of("Ada Brook", pictures[0], ("Fill it.",), layout, coarse)


@pytest.fixture
def as_it_is(pictures, coarse):
    """A task at exactly the picture's own resolution."""
    layout = lay_out(pictures[1][1], find_sheet("13x19in"), width=inches(700) * (1 / 60))
    return brief_of("Ada Brook", pictures[1], ("Print it.",), layout, coarse)


def test_the_sentence_has_its_lengths_in_both_units(brief):
    width = brief.layout.picture.width
    assert f"{width.both('in')} wide" in brief.sentence()
    assert f"{width.both('mm')} wide" in brief.sentence("mm")
    assert brief.title in brief.sentence()
    assert brief.sentence().endswith(".")


def test_the_card_has_the_numbers_of_the_raster(brief):
    raster, box = brief.raster, brief.raster.picture
    assert brief.card() == (
        f"Open {brief.picture.name} from the folder “picture” in your folder.",
        f"Resample it to {box.width} × {box.height} pixels, proportions locked.",
        f"Make a new blank file: {raster.sheet[0]} × {raster.sheet[1]} pixels, 60 ppi, RGB, sRGB, 8 bits, "
        "pure white.",
        f"Put the picture in: its left edge at {box.left} pixels, its top edge at {box.top} pixels.",
        "Flatten to one layer.",
        f"Save as TIFF, LZW, with the profile embedded, under the name {brief.stem}.tif.",
    )


def test_the_picture_is_given_once_and_over_no_other_file(brief, tmp_path):
    given = give_picture(brief, tmp_path)
    assert given.relative_to(tmp_path).as_posix() == f"picture/{brief.picture.name}"
    assert given.read_bytes() == brief.picture.read_bytes()
    assert list(given.parent.iterdir()) == [given]
    given.write_bytes(b"the reader's own work")
    assert give_picture(brief, tmp_path).read_bytes() == b"the reader's own work"


def test_where_there_is_no_folder_to_be_made_it_is_said(brief, tmp_path):
    (tmp_path / "picture").write_text("a file of that name")
    with pytest.raises(LabError, match="picture cannot be made"):
        give_picture(brief, tmp_path)


def test_the_card_of_a_task_that_crops(cropped):
    assert cropped.raster.sheet == (510, 660)
    assert cropped.card()[1] == "Crop it to 494 × 700 pixels: 253 go from the left, 0 from the top."


def test_the_card_of_a_task_that_resamples_nothing(as_it_is):
    assert not as_it_is.raster.resampled
    assert as_it_is.card()[1] == "Leave its 700 × 1000 pixels as they are."


def by_the_card(task, folder) -> "object":
    """Do what the card says, in an editor that is none of ours, by the numbers printed on it."""
    steps = task.card()
    numbers = {step.split()[0]: [int(n) for n in re.findall(r"\d+", step)] for step in steps}
    image = Image.open(task.picture).convert("RGB")
    if "Crop" in numbers:
        width, height, left, top = numbers["Crop"]
        image = image.crop((left, top, left + width, top + height))
    if "Resample" in numbers:
        image = image.resize(tuple(numbers["Resample"]))
    wide, high, ppi, *_ = numbers["Make"]
    sheet = Image.new("RGB", (wide, high), (255, 255, 255))
    sheet.paste(image, tuple(numbers["Put"]))
    return sheets.save(sheet, folder / f"{task.stem}.tif", ppi)


@pytest.mark.parametrize("reader", ["Ada Brook", "Nia Oak", "Ivo", "柳 水"])
def test_a_file_made_by_the_card_passes(tmp_path, quick, pictures, coarse, reader):
    task = margins_brief(reader, pictures, coarse)
    judgement = judge(by_the_card(task, tmp_path), task, coarse)
    assert judgement.hints == ()


@pytest.mark.parametrize("kind", ["cropped", "as_it_is"])
def test_so_does_one_of_another_kind_of_task(tmp_path, quick, coarse, request, kind):
    task = request.getfixturevalue(kind)
    assert judge(by_the_card(task, tmp_path), task, coarse).hints == ()


def test_a_task_carries_its_reader_and_what_its_file_is_called(cropped):
    assert (cropped.reader, cropped.stem) == ("Ada Brook", "Ada-Brook_Low-tide_letter")
    assert cropped.hints == {}


def test_chance_is_by_lesson_and_name_and_nothing_else():
    draws = {
        key: [chance_for(*key).random() for _ in range(2)]
        for key in (("margins", "Ada"), ("margins", "Nia"), ("rolls", "Ada"))
    }
    assert all(first == second for first, second in draws.values())
    assert len({first for first, _ in draws.values()}) == 3
    assert chance_for("margins", " ADA ").random() == draws["margins", "Ada"][0]
    # the same on every machine: what the SHA-256 of "margins: ada" gives, own run, not published
    assert chance_for("margins", "Ada").getrandbits(20) == 46634


def test_chance_without_a_name():
    assert refusal(chance_for, "margins", " ").startswith("give your name first")
