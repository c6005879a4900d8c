"""Test strips: the tones measured back from the sheet, names, papers, what is refused."""

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.files.checks.check import check
from labkit.files.gang.teststrip import bands
from labkit.room.rules import load_room
from tests.files import make
from tests.files.srgb import encoded

MIDDLE = 119
"""The level of sRGB nearest to CIE L* 50 (IEC 61966-2-1: 118.9)."""
PPI = 60
MARK = (40, 200, 90)
"""A colour that no other step and no letter has."""


@pytest.fixture
def greys(tmp_path):
    """Middle grey with a column of another colour in it, 8 × 10 in at 60 ppi."""
    values = np.full((10 * PPI, 8 * PPI, 3), MIDDLE, np.uint8)
    values[:, 200:204] = MARK
    files = []
    for name in ("Ada-Brook_Boat_8x10in", "Nia-Oak_Tide_8x10in"):
        files.append(tmp_path / f"{name}.png")
        Image.fromarray(values).save(files[-1], dpi=(PPI, PPI), icc_profile=make.srgb())
    return files


def strip(*words) -> int:
    return main(["strip", *map(str, words)])


def pieces(file):
    """A column of every step on a sheet with one strip, from the strip's own upper end."""
    sheet = tifffile.imread(file)
    high, wide = np.ptp(np.where((sheet == MARK).all(-1)), axis=1)
    if wide > high:
        sheet = np.rot90(sheet)  # it lies turned clockwise
    laid = bands((4 * PPI, 6 * PPI), 5, PPI)
    rows, columns = np.where((sheet == MARK).all(-1))
    top = rows.min() - laid.corners[1][1]  # the step that is as it was is the second
    return [
        sheet[top + y : top + y + laid.picture[1], columns.min() + 20, 0] for _, y in laid.corners
    ]


def test_the_steps_are_measured_back_from_the_sheet(greys, tmp_path, capsys):
    """A stop is twice the light of middle grey, 0.1842 of white's (CIE 15, L* 50)."""
    out = tmp_path / "out"
    assert strip(greys[0], "--out", out, "--sheet", "11x17in", "--at", "0.45,0.5") == 0
    assert "1 test strip of 4 × 6 in" in capsys.readouterr().out
    (file,) = out.glob("*.tif")
    for step, band in zip((-0.3, 0, 0.3, 0.6, 0.9), pieces(file), strict=True):
        assert np.ptp(band) == 0
        assert band[0] == pytest.approx(encoded(0.18418651851244416 * 2**step) * 255, abs=1.1)


def test_strips_of_several_people_share_a_sheet_and_check_knows_it(greys, tmp_path, capsys):
    out = tmp_path / "out"
    assert strip(*greys, "--out", out, "--job", "7") == 0
    assert "2 test strips" in capsys.readouterr().out
    (file,) = out.glob("*.tif")
    with tifffile.TiffFile(file) as tiff:
        told = tiff.pages[0].tags["ImageDescription"].value
    assert "Boat, by Ada Brook" in told
    assert "Tide, by Nia Oak" in told
    found = check(file, room=load_room())
    assert found.verdict == "fine"
    assert "prints-together" in [item.code for item in found.items]


def test_a_sheet_for_each_paper_is_marked_with_its_name(greys, tmp_path, capsys):
    out = tmp_path / "out"
    names = [paper.name for paper in load_room().papers[:2]]
    assert strip(greys[0], "--papers", ",".join(names), "--out", out, "--job", "7") == 0
    files = sorted(out.glob("*.tif"))
    assert len(files) == 2
    for name in names:
        assert any(name.replace(" ", "-") in file.name for file in files)
    assert main(["check", str(out)]) == 0
    assert "2 files: 2 fine" in capsys.readouterr().out
    one, other = (tifffile.imread(file) for file in files)
    assert one.shape == other.shape
    assert (one != other).any()  # the head says which


def test_more_pixels_than_the_room_prints_are_reduced_and_the_depth_is_the_rooms(tmp_path):
    values = np.full((1500, 1500, 3), MIDDLE * 257, np.uint16)
    picture = tmp_path / "Ada-Brook_Boat_13x19in.tif"
    tifffile.imwrite(picture, values, photometric="rgb", iccprofile=make.srgb(), metadata=None)
    rules = tmp_path / "room.toml"
    main(["room", "new", str(rules)])
    text = rules.read_text(encoding="utf-8")
    rules.write_text(text.replace("\ndepth = 8", "\ndepth = 16"), encoding="utf-8")
    out = tmp_path / "out"
    assert strip(picture, "--width", "4 1/4in", "--out", out, "--room", rules) == 0
    (file,) = out.glob("*.tif")
    with tifffile.TiffFile(file) as tiff:
        page = tiff.pages[0]
        assert page.tags["XResolution"].value == (300, 1)
        assert page.bitspersample == 16


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--steps", "1"], "make no test strip"),
        (["--steps", "12"], "a tone step is a number of stops"),
        (["--steps", "9", "--apart", "0.1", "--size", "4x5in"], "ask for fewer steps"),
        (["--at", "1.2,0.5"], "from 0 to 1"),
        (["--width", "2in"], "smaller than one step"),
        (["--size", "20x30in"], "smaller than one step"),
        (["--size", "8x40in", "--steps", "9", "--apart", "0.1"], "does not fit"),
        (["--papers", "velvet"], "no paper here is called “velvet”"),
        (["--sheet", "3x5in"], "does not fit"),
    ],
)
def test_what_cannot_be_made_is_said_and_nothing_is_left(greys, tmp_path, capsys, words, told):
    out = tmp_path / "out"
    assert strip(greys[0], "--out", out, *words) == 2
    assert told in capsys.readouterr().err
    assert not list(tmp_path.glob("out/*"))


def test_a_picture_without_a_size_or_a_name_is_asked_for_them(tmp_path, capsys):
    picture = tmp_path / "scan.png"
    Image.new("RGB", (300, 300), "grey").save(picture)
    assert strip(picture, "--owner", "Ada Brook", "--title", "Boat") == 2
    assert "--width" in capsys.readouterr().err
    assert strip(picture, "--width", "5in") == 2
    assert "--owner" in capsys.readouterr().err
