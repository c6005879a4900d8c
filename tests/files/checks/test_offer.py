"""The commands that findings offer: every one of them does what it says when it is run as it stands."""

import argparse
import shlex
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from PIL import Image

from labkit.__main__ import main
from labkit.commands import prepare as command
from labkit.files.checks.catalogue import catalogue
from labkit.files.checks.check import check
from labkit.files.checks.findings import tell
from labkit.files.checks.name_parts import read_file_name
from labkit.files.checks.offer import with_commands, without_sheet
from labkit.files.header.picture import Picture
from labkit.files.writing.name import file_name
from labkit.geometry.layout import Layout
from labkit.geometry.paper import find_sheet
from labkit.geometry.raster import ppi_that_fits, rasterize
from labkit.job.words import place, place_whole
from labkit.room.rules import load_room
from tests.files import make
from tests.properties import examples

ROOM = load_room()
PRINTED = {"owner": "Ada Brook", "title": "Boat"}


def facts(pixels, ppi=None, name="boat.jpg", **more) -> Picture:
    """A picture of which nothing is known but this."""
    each = ppi if isinstance(ppi, tuple) else (ppi, ppi)
    ppi = None if ppi is None else tuple(map(Fraction, each))
    return Picture(Path(name), "JPEG", pixels, ppi=ppi, **{"mode": "RGB"} | more)


def options(told: str) -> argparse.Namespace:
    """A command line as ``prepare`` reads it."""
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    start = "labkit prepare "
    assert told.startswith(start)
    return parser.parse_args(shlex.split(told.removeprefix(start)))


def laid_out(picture: Picture, told: str) -> Layout:
    """What ``prepare`` would lay out, rasterize and name; LabError where it would refuse."""
    given = options(told)
    if given.whole:
        layout, resample = place_whole(picture, on=given.sheet, room=ROOM)
    else:
        layout = place(picture, on=given.sheet, width=given.width, room=ROOM)
        resample = None
    rasterize(layout, picture.pixels, working_ppi=ROOM.working_ppi, resample=resample)
    named = read_file_name(picture.path, ROOM) or {}
    owner, title = (given.owner or named["owner"]), (given.title or named["title"])
    file_name(ROOM.name_pattern, owner=owner, title=title, sheet_label=layout.sheet.label)
    return layout


sides = st.integers(1, 9000)
resolutions = (
    st.none() | st.sampled_from([1, 72, 96, 180, 240, 300, 360, 600]) | st.integers(1, 700)
)
names = st.sampled_from(
    ["boat.jpg", "boat 13x19.jpg", "Nia-Oak_Boat_A4.jpg", "Nia_Oak_Boat.jpg", "Nia-Oak_Boat_A3 (2).jpg",
     "Nia-Oak_Boat_24x36in.jpg", "Nia-Oak_Boat_60x50in.jpg", "Nia-Oak_Boat_19x13in.tif", "ABCD0412.JPG"]
)  # fmt: skip


@given(sides, sides, resolutions, resolutions, names)
@example(
    3900, 2575, 300, 300, "boat.jpg"
)  # the printer's edges differ, and a centred print needs both
@example(4500, 3000, 300, Fraction("299.8"), "boat.jpg")  # no picture is stretched, however little
@example(4501, 3001, 72, 72, "boat.jpg")  # a width is told to a thousandth of an inch
@examples(400)
def test_what_is_offered_with_a_picture_alone_is_taken(wide, high, across, down, name):
    ppi = None if across is None else (across, across if down is None else down)
    picture = facts((wide, high), ppi, name)
    told = without_sheet(picture, ROOM)
    if told.command:
        assert laid_out(picture, told.command).borders
        assert "{" not in told.sentence()


@given(
    st.sampled_from(ROOM.sheets),
    st.booleans(),
    st.sampled_from([150, 240, 300, 360, 600]),
    st.sampled_from([code for code, entry in catalogue().items() if entry.command]),
    names,
)
@examples(200)
def test_what_is_offered_with_a_finished_sheet_is_taken(sheet, is_turned, ppi, code, name):
    sheet = sheet.turned() if is_turned else sheet
    picture = facts(tuple(side.pixels(ppi) for side in sheet.sides), 72, name)
    item = replace(tell("format", kind="JPEG"), code=code, grade="look")
    [told] = with_commands([item], picture, sheet, ROOM)
    assert told.command
    assert laid_out(picture, told.command).sheet.sides == sheet.sides
    assert ppi_that_fits(picture.pixels, sheet, ROOM.working_ppi)


def test_the_opposite_edge_counts_as_much_for_a_print_in_the_centre():
    """Of letter the first printer leaves 3 mm at the top and 7 mm at the bottom: 10.5 in high fits between
    them, and not with 7 mm on both sides, as the centre asks for."""
    told = without_sheet(facts((1500, 3150), 300), ROOM)
    assert options(told.command).sheet == "A4"


@pytest.mark.parametrize(
    ("name", "sheet"),
    [
        ("boat.jpg", "17x11in"),
        ("Nia-Oak_Boat_13x19in.jpg", "19x13in"),
        ("Nia-Oak_Boat_19x13in.jpg", "19x13in"),
        ("boat 13x19.jpg", "19x13in"),
        ("Nia-Oak_Boat_24x36in.jpg", "24x36in"),
        ("Nia-Oak_Boat_A4.jpg", ""),
        ("Nia-Oak_Boat_60x50in.jpg", "17x11in"),  # there is no such paper
    ],
)
def test_the_size_that_its_name_states_is_the_size_that_is_offered(name, sheet):
    """4500 × 3000 px at 300 ppi are 15 × 10 in."""
    told = without_sheet(facts((4500, 3000), 300, name), ROOM)
    assert (options(told.command).sheet if told.command else "") == sheet
    if not sheet:
        assert "its name says A4, 210 × 297 mm" in told.expected


def test_a_name_that_says_another_size_leaves_the_choice_to_a_person():
    """The file made would say the size it has, and the doubt would be gone."""
    sheet = find_sheet("letter")
    items = [tell("format", kind="PNG"), tell("name-size", named="A3", size="8 1/2 × 11 in")]
    assert not any(
        item.command for item in with_commands(items, facts((2550, 3300), 300), sheet, ROOM)
    )


@pytest.mark.parametrize("more", [{"pages": 2}, {"mode": "CMYK"}])
def test_what_prepare_would_refuse_is_not_offered(more):
    picture = replace(facts((4500, 3000), 300), **more)
    assert not without_sheet(picture, ROOM).command


@pytest.mark.parametrize(
    "mode",
    [
        "RGB",
        pytest.param("L", marks=pytest.mark.slow),
        pytest.param("P", marks=pytest.mark.slow),
        pytest.param("LAB", marks=pytest.mark.slow),
    ],
)
def test_a_picture_alone_and_what_comes_of_it_are_run_as_offered(tmp_path, mode):
    """The whole way, twice: the picture alone, then the sheet saved in a form that is no print file's."""
    alone = tmp_path / "boat.tif"
    drawing = make.drawing((900, 600))
    if mode == "LAB":
        image = Image.merge("LAB", (drawing.convert("L"), *drawing.split()[:2]))
    else:
        image = drawing.convert(mode)
    image.save(alone, dpi=(300, 300))
    [offered] = [item.command for item in check(alone, room=ROOM).items if "without" in item.code]
    made = run(offered, tmp_path / "out")
    assert codes(made) == set()
    with Image.open(made) as image:
        image.save(tmp_path / "Ada-Brook_Sea_letter.png", dpi=(300, 300))
    png = tmp_path / "Ada-Brook_Sea_letter.png"
    [offered] = {item.command for item in check(png, room=ROOM).items if item.command}
    assert codes(run(offered, tmp_path / "again")) == set()


def run(told: str, out: Path) -> Path:
    """The file that a command makes."""
    words = shlex.split(told)[1:]
    assert main([*words, "--out", str(out)]) == 0
    [made] = out.glob("*.tif")
    return made


def codes(file: Path) -> set[str]:
    return {item.code for item in check(file, room=ROOM).faults}
