"""A test strip that is handed in: the right one passes, whatever its name; each wrong one is told apart."""

from dataclasses import replace

import numpy as np
import pytest
import tifffile
from PIL import Image, ImageOps

from labkit.files.gang.stripsaid import StripSaid, read_strips
from labkit.files.header.reading import read_picture
from labkit.geometry.length import length
from labkit.geometry.light import ToneStep, strip_steps
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import HALF
from labkit.job import words as job
from labkit.job.strip import strip_of, write_strips_on
from labkit.teaching import strips, toned
from labkit.teaching.colour import colour_brief
from labkit.teaching.strips import find_strip, judge_strip
from labkit.teaching.with_strip import handed_in_with_strip, judge_with_strip
from tests.files import children, sheets

pytestmark = pytest.mark.usefixtures("warm", "quick")


@pytest.fixture
def brief(pictures, coarse, monkeypatch):
    for module in (strips, toned):
        monkeypatch.setattr(module, "resident_child", children.Here)
    return colour_brief("Ada Brook", pictures, coarse)


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "05-colour"
    made.mkdir()
    return made


@pytest.fixture
def strip(brief, coarse, folder):
    """Write a sheet with the strip that the task asks for, but for what is said otherwise."""

    def write(picture=brief.picture, *others, paper=brief.paper, steps=None, **said):
        asked = {"owner": brief.reader, "title": brief.title, "at": (HALF, HALF)}
        asked |= {"width": brief.layout.picture.width} | said
        made = write_strips_on(
            [*others, strip_of(read_picture(picture), **asked)],
            size=find_sheet("4x6in"),
            steps=steps or strip_steps(5),
            paper=coarse.paper(paper),
            sheet=None,
            job="7",
            out=folder,
            room=coarse,
            replace=True,
            child=children.Here(),
        )
        return made.written.files[0]

    return write


@pytest.fixture
def final(brief, coarse, folder):
    """Write the final file, with the right step or another."""

    def write(lighter=brief.lighter):
        made = job.write(
            read_picture(brief.picture), brief.layout, owner=brief.reader, title=brief.title,
            out=folder, lighter=lighter, replace=True, room=coarse,
        )  # fmt: skip
        return made.file

    return write


@pytest.fixture
def hints(brief, coarse):
    return lambda file: judge_strip(file, brief, coarse).hints


def test_the_right_strip_passes_whatever_its_file_is_called(strip, hints, folder, brief, coarse):
    file = strip()
    assert hints(file) == ()
    renamed = file.rename(folder / "my probe 3.tif")
    assert find_strip(folder, brief, coarse) == strips.StripJudged(renamed, ())


def test_another_place_more_steps_and_another_title_are_right_as_well(strip, hints):
    file = strip(at=(HALF / 2, HALF), steps=strip_steps(7, 0.3, -0.6), title="Anything")
    assert hints(file) == ()


def test_on_a_sheet_of_several_people_it_is_the_readers_own(strip, hints, brief, pictures):
    other = next(demo for demo, _ in pictures if demo.file != brief.picture)
    theirs = strip_of(
        read_picture(other.file),
        owner="Nia Oak",
        title="Tide",
        at=(HALF, HALF),
        width=length("9in"),
    )
    assert hints(strip(brief.picture, theirs)) == ()


# Wrong strips


def test_one_of_another_picture(strip, hints, brief, tmp_path):
    other = tmp_path / "other.png"
    ImageOps.mirror(Image.open(brief.picture)).save(other)
    (hint,) = hints(strip(other))
    assert hint.startswith(f"It does not show “{brief.title}”")
    assert brief.picture.name in hint


def test_one_of_the_finished_sheet(strip, hints, final, brief):
    told = hints(strip(final(0), width=brief.layout.sheet.width))
    assert len(told) == 2
    assert "not of a finished sheet" in told[0]
    assert "how wide the final print will be" in told[1]


def test_one_for_another_paper(strip, hints, brief, coarse):
    other = next(each.name for each in coarse.papers if each.name != brief.paper and each.sheets)
    (hint,) = hints(strip(paper=other))
    assert hint.startswith(f"It was made for {other}, and your print will be on {brief.paper}.")


def test_one_for_a_print_of_another_width(strip, hints, brief):
    (hint,) = hints(strip(width=brief.layout.picture.width + length("1/2in")))
    assert hint.startswith("It was made for a print ")
    assert "and yours will be" in hint


def test_one_that_lacks_a_step(strip, hints):
    (hint,) = hints(strip(steps=strip_steps(4)))
    assert hint.startswith("It has the steps -0.3, 0, +0.3, +0.6, and your task asks for -0.3, 0,")


def test_one_in_another_unit(strip, hints):
    (hint,) = hints(strip(steps=strip_steps(5, by="lightness")))
    assert hint.startswith("Its steps are told in CIE lightness, and those of your task in stops")


def test_one_with_somebody_elses_name(strip, hints):
    (hint,) = hints(strip(owner="Nia Oak"))
    assert hint.startswith("It is labelled with the name Nia Oak.")


@pytest.fixture
def spoiled(strip):
    """The right strip saved anew in an editor, its description kept, with other pixels."""

    def save(change):
        file = strip()
        values, said = tifffile.imread(file), sheets.description_in(file)
        return sheets.save_by_tifffile(change(values), file, (60, 60), description=said)

    return save


def lighter(values):
    """By one stop of a gamma of 2.2, the whole sheet, as a second correction does."""
    return np.round(255 * (values / 255) ** (1 / 1.5)).astype(np.uint8)


def covered(values):
    """A step painted over with the white of the paper."""
    values[40:80, 60:200] = 255
    return values


def dotted(values):
    """A mark beside the strip, on bare paper."""
    values[-40:-30, -60:-40] = 0
    return values


def test_one_corrected_a_second_time_is_told_by_how_much(spoiled, hints):
    (hint,) = hints(spoiled(lighter))
    assert hint.startswith("It was changed after it was written: its steps are about 0.")
    assert "stops lighter than their labels say" in hint


@pytest.mark.parametrize("change", [covered, dotted])
def test_one_that_was_painted_on(spoiled, hints, change):
    (hint,) = hints(spoiled(change))
    assert hint.startswith("It was changed after it was written. A strip is read by its tones")


def test_saved_anew_with_every_pixel_as_it_was_it_stays_right(spoiled, hints):
    assert hints(spoiled(lambda values: values)) == ()


def test_one_that_went_through_a_jpeg(spoiled, hints, folder):
    """With its description it is held against its pixels; as a JPEG it says nothing."""

    def packed(values):
        Image.fromarray(values).save(folder / "my strip.jpg", quality=90)
        return np.asarray(Image.open(folder / "my strip.jpg"))

    (hint,) = hints(spoiled(packed))
    assert hint.startswith("It was changed after it was written")
    (hint,) = hints(folder / "my strip.jpg")
    assert hint.startswith("It does not say what it shows.")


def test_a_statement_about_another_sheet_is_not_believed(spoiled, hints):
    (hint, *_) = hints(spoiled(lambda values: values[:200]))
    assert hint.startswith("It was changed after it was written")


def test_what_is_no_strip_is_not_taken_for_one(final, brief, coarse, folder):
    (folder / "notes.tif").write_bytes(b"no picture")
    assert judge_strip(final(), brief, coarse) is None
    assert find_strip(folder, brief, coarse) is None


# Together with the final file


def test_both_are_right_and_the_lesson_is_done(strip, final, brief, coarse, folder):
    assert handed_in_with_strip(brief, coarse, folder) is None
    file = final()
    alone = judge_with_strip(file, brief, coarse, folder)
    assert [hint[:26] for hint in alone.hints] == ["Its test strip is missing."]
    assert handed_in_with_strip(brief, coarse, folder) is None
    sheet = strip()
    for chosen in (file, sheet):
        judged = judge_with_strip(chosen, brief, coarse, folder)
        assert judged.hints == ()
        assert sheet.name in judged.sentence()
        assert file.name in judged.sentence()
    assert handed_in_with_strip(brief, coarse, folder) == file


def test_a_wrong_strip_or_a_wrong_file_passes_neither(strip, final, brief, coarse, folder):
    sheet = strip(steps=strip_steps(3))
    (missing,) = judge_with_strip(sheet, brief, coarse, folder).hints[1:]
    assert missing == f"The final file, {brief.stem}.tif, is not in your folder yet."
    file = final()
    (hint,) = judge_with_strip(file, brief, coarse, folder).hints
    assert hint.startswith(f"Test strip {sheet.name}: It has the steps")
    strip()
    final(0)
    (hint,) = judge_with_strip(file, brief, coarse, folder).hints
    assert "no tone step was made" in hint
    (hint,) = judge_with_strip(sheet, brief, coarse, folder).hints
    assert hint.endswith("is not ready yet: have it judged.")
    assert handed_in_with_strip(brief, coarse, folder) is None


# What a strip says


def test_what_a_strip_says_is_read_back(strip):
    (said,) = read_strips(sheets.description_in(strip()))
    assert read_strips(f"Two boats. {said.text()} More.") == [said]
    turned = replace(said, is_turned=not said.is_turned, number=12, width=length("304mm"))
    assert read_strips(turned.text()) == [turned]


def test_quotes_in_a_title_do_not_end_it():
    size = {"width": length("8in"), "size": (240, 360), "total": 255}
    steps = (ToneStep(-4.0, "lightness"), ToneStep(0.0, "lightness"))
    said = StripSaid('"Sea" by "Night"', "Ada Brook", "pearl 260", steps, (HALF, HALF), **size)
    (read,) = read_strips(said.text())
    assert read == replace(said, title="'Sea' by 'Night'")


@pytest.mark.parametrize("said", ["", 'Test strip 1 of "a" by "b" for "c": steps 0 in stops.'])
def test_other_words_are_no_strip(said):
    assert read_strips(said) == []
