"""Pictures that ``layout`` brings to the room's form, or shows on a contact sheet."""

from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.files.checks.check import check
from labkit.files.gang.statement import read_statement
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.deep import to_8_bits, to_16_bits
from labkit.files.pixels.transform import transform
from labkit.room.rules import load_room
from tests.files import make
from tests.files.gang.prints import finished

ROOM = load_room()

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture
def layout(tmp_path, capsys):
    def run(*words) -> tuple[int, str, str]:
        told = ["layout", *words, "--write", tmp_path / "out", "--job", "7"]
        return main([str(word) for word in told]), *capsys.readouterr()

    return run


def prints_on(folder: Path) -> list[np.ndarray]:
    """The prints of all files of a job, in the order that the files state."""
    found = []
    for file in sorted(folder.glob("*.tif")):
        with tifffile.TiffFile(file) as tiff:
            sheet = tiff.pages[0].asarray()
            places = read_statement(tiff.pages[0].tags[270].value).places
        found += [sheet[p.top : p.bottom, p.left : p.right] for p in places]
    return found


def upright(values: np.ndarray, shape: tuple[int, int]) -> np.ndarray:
    return values if values.shape[:2] == shape else np.rot90(values)


# --convert


def test_prints_of_other_kinds_come_into_one_file_and_each_change_is_listed(layout, tmp_path):
    files = [
        finished(tmp_path, "Ada-Brook_Boat_3x4in", (3, 4), ppi=360),
        finished(tmp_path, "Ada-Brook_Dune_3x4in", (3, 4), ppi=300, profile=make.rgb_profile()),
        finished(tmp_path, "Ada-Brook_Hill_3x4in", (3, 4), ppi=300, depth=16),
        finished(tmp_path, "Ada-Brook_Wood_3x4in", (3, 4), ppi=300),
    ]
    words = [*files, "--roll", "24in", "--paper", "pearl 260"]
    code, told, _ = layout(*words, "--convert")
    assert code == 0
    changes = told.split("\n\n")[0].splitlines()
    assert changes[0] == "Converted:"
    assert [line.split(":")[0].strip() for line in changes[1:]] == ["Boat", "Dune", "Hill"]
    assert "reduced from 360 ppi to 300 ppi (1080 × 1440 to 900 × 1200 pixels)" in changes[1]
    assert "converted from RGB built-in to sRGB, relative intent" in changes[2]
    assert "its 16 bits a channel were written as 8" in changes[3]
    assert len(list((tmp_path / "out").glob("*.tif"))) == 1
    assert "Dune: its colours" in (tmp_path / "out/job-7_work-page.html").read_text()


def test_colours_come_out_as_littlecms_gives_them(layout, tmp_path):
    """Within a level of 255, by which rounding may differ."""
    profile = make.rgb_profile()
    file = finished(tmp_path, "Ada-Brook_Dune_3x4in", (3, 4), ppi=300, profile=profile)
    layout(file, "--sheet", "letter", "--convert")
    (got,) = prints_on(tmp_path / "out")
    own = tifffile.imread(file)
    rules = {"intent": "relative", "black_point": True, "dtype": "u2"}
    wanted = to_8_bits(transform(to_16_bits(own), profile, srgb_profile(), **rules))
    off = np.abs(upright(got, own.shape[:2]).astype(int) - wanted)
    assert off.max() <= 1
    assert np.abs(own.astype(int) - wanted).mean() > 2  # the profile does something


def test_what_needs_no_change_stays_bit_for_bit(layout, tmp_path):
    file = finished(tmp_path, "Ada-Brook_Wood_3x4in", (3, 4), ppi=300)
    _, told, _ = layout(file, "--sheet", "letter", "--convert")
    assert "Converted" not in told
    (got,) = prints_on(tmp_path / "out")
    assert np.array_equal(upright(got, (1200, 900)), tifffile.imread(file))


def test_copies_that_are_converted_and_turned_are_alike(layout, tmp_path):
    file = finished(tmp_path, "Ada-Brook_Boat_3x4in", (3, 4), ppi=240)
    layout(file, "--roll", "17in", "--paper", "pearl 260", "--convert", "--copies", "Boat=5")
    first, *others = prints_on(tmp_path / "out")
    assert len(others) == 4
    for each in others:
        assert any(np.array_equal(first, np.rot90(each, turn)) for turn in (0, 1, 3))


def test_grey_is_taken_with_convert_and_refused_without(layout, tmp_path):
    grey = make.picture(tmp_path / "grey.tif", mode="L", ppi=10)
    code, _, complaint = layout(grey, "--sheet", "letter")
    assert (code, "has grey" in complaint) == (2, True)
    code, told, _ = layout(grey, "--sheet", "letter", "--convert")
    assert code == 0
    assert "its colours (grey) were converted to sRGB" in told


def test_cmyk_without_a_profile_stays_refused(layout, tmp_path):
    file = make.picture(tmp_path / "inks.tif", mode="CMYK", ppi=30)
    code, _, complaint = layout(file, "--sheet", "letter", "--convert")
    assert code == 2
    assert "is CMYK without a profile" in complaint


# --contact


@pytest.fixture
def pictures(tmp_path):
    """A wide one and a high one of flat colours, and a finished print."""
    made = []
    for name, size, colour in (
        ("wide", (60, 30), (200, 40, 40)),
        ("high", (30, 90), (40, 160, 40)),
    ):
        made.append(tmp_path / f"{name}.png")
        Image.new("RGB", size, colour).save(made[-1])
    return [*made, finished(tmp_path, "Nia-Oak_Tide_2x2in", (2, 2))]


def test_a_contact_sheet_shows_each_picture_whole_in_its_cell_in_order(layout, pictures, tmp_path):
    code, told, _ = layout(*pictures, "--contact", "1x1in", "--sheet", "letter")
    assert code == 0
    assert "3 pictures in cells of 1 × 1 in" in told
    assert "Cuts" not in told
    wide, high, tide = prints_on(tmp_path / "out")
    assert wide.shape == high.shape == tide.shape == (300, 300, 3)
    assert (wide[75:225] == (200, 40, 40)).all()
    assert (wide[:75] == 255).all()
    assert (high[:, 100:200] == (40, 160, 40)).all()
    assert (high[:, :100] == 255).all()


def test_check_knows_a_contact_sheet_as_one(layout, pictures, tmp_path):
    layout(*pictures, "--contact", "1x1in", "--sheet", "letter")
    (file,) = (tmp_path / "out").glob("*.tif")
    assert file.name == "job-7_contact-sheet_8.5x11in.tif"
    found = check(file, room=ROOM)
    assert found.verdict == "fine"
    assert "a contact sheet of 3 pictures" in " ".join(item.found for item in found.items)


def test_cells_that_one_sheet_does_not_hold_go_on_over_the_next(layout, pictures, tmp_path):
    layout(*pictures, "--contact", "3.5x6in", "--sheet", "letter")
    files = sorted((tmp_path / "out").glob("*.tif"))
    assert len(files) == 2
    assert "contact-sheet" in [item.code for item in check(files[1], room=ROOM).items]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--contact", "9x9in", "--sheet", "letter"], "A cell does not fit"),
        (["--contact", "1x1in", "--sheet", "letter", "--copies", "wide=2"], "--copies is for"),
        (["--contact", "1x1in", "--sheet", "letter", "--convert"], "--convert is for"),
        (["--contact", "large", "--sheet", "letter"], "no sheet is called “large”"),
    ],
)
def test_refusals(layout, pictures, words, told):
    code, _, complaint = layout(*pictures, *words)
    assert code == 2
    assert told in complaint
