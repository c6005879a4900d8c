"""Judging what is handed in: right files pass, and each wrong one fails with a hint of its own."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from labkit.files.checks import check
from labkit.geometry.length import size_text
from labkit.teaching.judge import judge
from tests.files import children, make, sheets


@pytest.fixture
def handed_in(tmp_path, brief, coarse, quick):
    """Hand a sheet in, and hear what is said of it."""

    def hand_in(image, name=f"{brief.stem}.tif", ppi=60, **options):
        return judge(sheets.save(image, tmp_path / name, ppi, **options), brief, coarse)

    return hand_in


@pytest.fixture
def right(brief):
    return sheets.by_hand(Image.open(brief.picture), brief.raster)


def with_box(brief, change, image=None):
    """The sheet with the picture's box changed."""
    box = replace(brief.raster.picture, **change)
    raster = replace(brief.raster, picture=box)
    return sheets.by_hand(image or Image.open(brief.picture), raster)


def test_a_right_file_is_ready(handed_in, right, brief):
    judgement = handed_in(right)
    assert judgement.passed
    assert judgement.sentence() == (
        f"{brief.stem}.tif is ready to print: size, place, borders and name are right."
    )


def test_a_right_file_by_tifffile_is_ready(tmp_path, right, brief, coarse, quick):
    file = sheets.save_by_tifffile(np.asarray(right), tmp_path / f"{brief.stem}.tif", ppi=(60, 60))
    assert judge(file, brief, coarse).hints == ()


def test_a_right_file_by_libvips_is_ready(tmp_path, right, brief, coarse, quick):
    file = sheets.save_by_vips(right, tmp_path / f"{brief.stem}.tif", 60)
    assert judge(file, brief, coarse).hints == ()


WRONG = {
    "shifted": "too narrow",
    "too small": "it prints at just this size",
    "stretched": "another shape",
    "mirrored": "is mirrored",
    "another picture": "nother picture than the one asked for",
    "not white": "not pure white but",
    "wrong label": "the stated 72 ppi make",
    "on its side": "the sheet lies the other way",
    "no resolution": "states no resolution",
    "no profile": "carries no profile",
    "transparent": "transparent",
    "PNG": "The file is PNG",
    "smeared": "compressed as JPEG",
    "pages": "has 2 pages",
    "grey": "The file is grey",
    "wrong name": "is named",
    "layers": "still has layers",
    "blank": "no picture was found",
    "damaged": "damaged or cut short",
}


def spoil(how, handed_in, brief, right, tmp_path, coarse):
    box = brief.raster.picture
    name = f"{brief.stem}.tif"
    if how == "shifted":
        return handed_in(with_box(brief, {"left": box.left - 6}))
    if how == "too small":
        return handed_in(
            with_box(brief, {"width": box.width * 9 // 10, "height": box.height * 9 // 10})
        )
    if how == "stretched":
        return handed_in(with_box(brief, {"height": box.height - 20}))
    if how == "mirrored":
        flipped = Image.open(brief.picture).transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        return handed_in(with_box(brief, {}, flipped))
    if how == "another picture":
        return handed_in(with_box(brief, {}, Image.new("RGB", (9, 9), (20, 140, 60))))
    if how == "not white":
        values = np.asarray(right).copy()
        values[(values == 255).all(-1)] = 248
        return handed_in(Image.fromarray(values))
    if how == "wrong label":
        sheet = brief.layout.sheet
        at_300 = sheet.width.pixels(300), sheet.height.pixels(300)
        return handed_in(Image.new("RGB", at_300, "white"), ppi=72)
    if how == "on its side":
        return handed_in(right.rotate(90, expand=True))
    if how == "no resolution":
        path = sheets.save_by_tifffile(np.asarray(right), tmp_path / name, None)
        return judge(path, brief, coarse)
    if how == "layers":
        block = make.layer_block(order="<")
        tag = (37724, 7, len(block), block, True)
        path = sheets.save_by_tifffile(
            np.asarray(right), tmp_path / name, (60, 60), extratags=[tag]
        )
        return judge(path, brief, coarse)
    if how == "damaged":
        path = sheets.save_by_tifffile(np.asarray(right), tmp_path / name, (60, 60))
        path.write_bytes(path.read_bytes()[:-500])
        return judge(path, brief, coarse)
    return {
        "no profile": lambda: handed_in(right, icc_profile=b""),
        "transparent": lambda: handed_in(right.convert("RGBA")),
        "PNG": lambda: handed_in(right, name=f"{brief.stem}.png"),
        "smeared": lambda: handed_in(right, compression="jpeg", quality=95),
        "pages": lambda: handed_in(right, save_all=True, append_images=[right]),
        "grey": lambda: handed_in(right.convert("L"), icc_profile=make.grey_profile()),
        "wrong name": lambda: handed_in(right, name="scan 0412.tif"),
        "blank": lambda: handed_in(sheets.blank(brief.raster)),
    }[how]()


@pytest.mark.parametrize("how", WRONG)
def test_a_wrong_file_fails_with_a_hint_of_its_own(handed_in, brief, right, tmp_path, coarse, how):
    judgement = spoil(how, handed_in, brief, right, tmp_path, coarse)
    assert not judgement.passed
    told = [hint for hint in judgement.hints if WRONG[how].casefold() in hint.casefold()]
    assert told, judgement.hints
    others = {kind: words for kind, words in WRONG.items() if kind != how}
    assert not any(words.casefold() in told[0].casefold() for words in others.values())
    assert all(hint.endswith(".") for hint in judgement.hints)


def test_it_says_how_many_things_are_to_be_mended(handed_in, right, brief):
    one = handed_in(right, name="scan 0412.tif")
    assert one.sentence() == "scan 0412.tif is not ready yet; one thing to mend."
    two = handed_in(right, name="scan 0412.tif", icc_profile=b"")
    assert two.sentence() == "scan 0412.tif is not ready yet; 2 things to mend."
    assert len(two.hints) == 2


def test_what_cannot_be_measured_yet_is_said(handed_in, right):
    judgement = handed_in(right.rotate(90, expand=True))
    assert judgement.hints[-1] == "Its place is measured once the file opens at the right size."


def test_a_file_that_is_not_there_is_a_hint(tmp_path, brief, coarse):
    judgement = judge(tmp_path / "gone.tif", brief, coarse)
    assert not judgement.passed
    assert "gone.tif" in judgement.hints[0]


def test_a_task_adds_what_it_wants_to_teach(brief, coarse, right, tmp_path, quick):
    told = "Guides help: drag one to the border first."
    taught = replace(brief, hints={"name": told})
    path = sheets.save(right, tmp_path / "scan.tif", 60)
    (hint,) = judge(path, taught, coarse).hints
    assert hint.endswith(f"what it is and what size it is. {told}")


@pytest.mark.parametrize("how", ["shifted", "too small", "stretched", "on its side", "wrong name"])
def test_the_mistake_is_named_and_the_answer_is_not_handed_over(
    handed_in, brief, right, tmp_path, coarse, how
):
    layout = brief.layout
    hints = " ".join(spoil(how, handed_in, brief, right, tmp_path, coarse).hints)
    wanted = [f"{brief.stem}.tif", size_text(layout.picture.size), layout.borders.left.both()]
    sheet = size_text((layout.sheet.width, layout.sheet.height))
    assert not [answer for answer in (*wanted, sheet) if answer in hints], hints


def test_a_name_that_tells_the_truth_of_a_wrong_sheet_is_left_alone(handed_in, right, brief):
    """To be renamed first would make it lie; once the sheet is right its name is looked at."""
    owner, title, _ = brief.stem.split("_")
    lying = brief.layout.sheet.turned().size
    hints = handed_in(right.rotate(90, expand=True), name=f"{owner}_{title}_{lying}.tif").hints
    assert "the sheet lies the other way" in hints[0]
    assert not [hint for hint in hints if "name" in hint]
    named_at_random = handed_in(right.rotate(90, expand=True), name="scan.tif").hints
    assert [hint for hint in named_at_random if "is named" in hint]


def test_what_it_teaches_is_told_once_though_all_four_borders_are_off(
    handed_in, brief, coarse, tmp_path
):
    told = "Guides help."
    taught = replace(brief, hints={"border": told})
    box = brief.raster.picture
    image = with_box(brief, {"width": box.width - 12, "height": box.height - 12, "left": box.left + 6,
                             "top": box.top + 6})  # fmt: skip
    hints = judge(sheets.save(image, tmp_path / f"{brief.stem}.tif", 60), taught, coarse).hints
    assert len([hint for hint in hints if "border is" in hint]) == 4
    assert len([hint for hint in hints if told in hint]) == 1


def test_it_is_decoded_in_a_guarded_child(brief, coarse, right, tmp_path, monkeypatch):
    """Not replaced here: what strangers hand in runs apart, within the room's limits."""
    path = sheets.save(right, tmp_path / f"{brief.stem}.tif", 60)
    assert judge(path, brief, coarse).passed
    hasty = replace(coarse, limits=replace(coarse.limits, seconds=0))
    monkeypatch.setattr(check, "resident_child", children.Slow)
    assert "took longer than the 0 seconds" in judge(path, brief, hasty).hints[0]
