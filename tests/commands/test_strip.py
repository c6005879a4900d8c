"""Test strips: the tones measured back from the sheet, names, papers, what is refused."""

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.files.checks.check import check
from labkit.files.gang.statement import read_statement
from labkit.files.gang.stripsaid import read_strips, sum_of_strip
from labkit.files.gang.teststrip import bands, step_labels
from labkit.files.pixels.tone import tone
from labkit.geometry.length import length
from labkit.geometry.light import ToneStep
from labkit.room.rules import load_room
from tests.files import make, sheets
from tests.files.srgb import encoded, linear

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


pytestmark = pytest.mark.usefixtures("warm")


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


def test_steps_by_lightness_are_measured_back_and_say_what_to_type(greys, tmp_path, capsys):
    """L* = 116 · Y^(1/3) − 16 (CIE 15); level 119 of sRGB has 50.03."""
    out = tmp_path / "out"
    words = ("--by", "lightness", "--sheet", "11x17in", "--at", "0.45,0.5", "--out", out)
    assert strip(greys[0], *words) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Steps: 4 L* units darker, as it is, 4 L* units lighter, 8 L* units lighter" in said
    assert "labkit prepare … --lighter 12 --by lightness" in said
    (file,) = out.glob("*.tif")
    for step, band in zip((-4, 0, 4, 8, 12), pieces(file), strict=True):
        assert np.ptp(band) == 0
        lightness = 116 * np.cbrt(linear(band[0] / 255)) - 16
        assert lightness == pytest.approx(50 + step, abs=0.3)


def test_a_label_names_the_unit_and_what_to_type_down_to_the_shortest():
    first, *shorter = step_labels(ToneStep(-4.0, "lightness"))
    assert first == "4 L* units darker: --lighter -4 --by lightness"
    assert shorter == ["--lighter -4 --by lightness", "-4 --by lightness", "-4 L*"]


def test_a_sheet_states_of_each_strip_what_it_is(greys, tmp_path):
    out = tmp_path / "out"
    assert (
        strip(*greys, "--out", out, "--papers", "pearl 260", "--width", "7in", "--by", "lightness")
        == 0
    )
    (file,) = out.glob("*.tif")
    described = sheets.description_in(file)
    first, second = read_strips(described)
    assert [(each.title, each.owner) for each in (first, second)] == [
        ("Boat", "Ada Brook"),
        ("Tide", "Nia Oak"),
    ]
    assert (first.paper, first.width) == ("pearl 260", length("7in"))
    assert [step.amount for step in first.steps] == [-4, 0, 4, 8, 12]
    place = read_statement(described).places[first.number - 1]
    laid = tifffile.imread(file)[place.top : place.bottom, place.left : place.right]
    laid = np.rot90(laid) if first.is_turned else laid
    assert laid.shape[1::-1] == first.size
    assert sum_of_strip(laid) == first.total


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


def test_strips_of_other_resolution_share_the_sheet_at_the_rooms(greys, tmp_path, capsys):
    """8 in wide at 60 ppi and at 40: apart they would take two sheets, nearly empty."""
    with Image.open(greys[1]) as tide:
        tide.resize((320, 400)).save(greys[1], dpi=(40, 40), icc_profile=make.srgb())
    out = tmp_path / "out"
    assert strip(*greys, "--out", out, "--job", "7") == 0
    told = capsys.readouterr().out
    assert told.count("price ") == 1
    assert "In the final print it has 40 ppi. On the strip it was resampled to 300 ppi" in told
    (file,) = out.glob("*.tif")
    levels = set(np.unique(tifffile.imread(file)[::40, ::40]).tolist())
    assert {int(tone(step).table(256)[MIDDLE]) for step in (-0.3, 0.3, 0.6, 0.9)} <= levels
    assert check(file, room=load_room()).verdict == "fine"


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
        (["--steps", "12"], "reach from -0.3 to 3, and a tone step from -2 to 2"),
        (["--steps", "9", "--by", "lightness"], "9 steps, 4 L* units apart, reach from -4 to 28"),
        (["--apart", "0"], "make no test strip"),
        (["--apart", "-4", "--by", "lightness"], "at least 0.1 L* units apart"),
        (["--by", "percent"], "in stops or in lightness"),
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


def test_steps_on_a_file_that_states_one_already_are_told(greys, tmp_path, capsys):
    made = tmp_path / "made"
    asked = ("--sheet", "11x17in", "--lighter", "0.3", "--out", str(made))
    assert main(["prepare", str(greys[0]), *asked]) == 0
    (file,) = made.glob("*.tif")
    assert strip(file, "--out", tmp_path / "out", "--papers", "pearl 260") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Boat: The picture had been made 0.3 stops lighter at middle grey before." in told
    assert "Boat: The steps of the strip come on top of that." in told


def test_of_several_pictures_the_one_without_a_name_is_told(greys, tmp_path, capsys):
    """One --title cannot name two, so it is not what is asked for first."""
    scan = tmp_path / "scan 2.png"
    scan.write_bytes(greys[0].read_bytes())
    assert strip(greys[0], scan, "--out", tmp_path / "out") == 2
    told = capsys.readouterr().err
    assert told.startswith("labkit: “scan 2.png” needs a name and a title on its strip: name each")
    assert "like Ada-Brook_Boat_13x19in.png, or make its strip by itself, with --owner" in told
    assert not list(tmp_path.glob("out/*"))
