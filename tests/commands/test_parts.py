"""A picture in parts, from the command line: the pixels of the whole, names, tickets, refusals."""

import json

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.geometry.length import inches
from labkit.geometry.parts import Split
from labkit.geometry.pixelbox import PixelBox
from labkit.job.words import check
from tests.files.make import srgb
from tests.properties import a_few

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture
def tide(tmp_path):
    """24 × 16 in at 25 ppi, every pixel another."""
    values = np.random.default_rng(5).integers(0, 256, (400, 600, 3)).astype("u1")
    file = tmp_path / "tide.png"
    Image.fromarray(values).save(file, dpi=(25, 25), icc_profile=srgb())
    return file


@pytest.fixture
def prepare(tmp_path, capsys):
    def run(*words) -> tuple[int, str, str]:
        told = ["--owner", "Ada Brook", "--title", "Tide", "--out", tmp_path / "out"]
        code = main(["prepare", *map(str, (*words, *told))])
        return code, *capsys.readouterr()

    return run


def facts(prepare, *words):
    code, said, complaint = prepare(*words, "--json")
    assert (code, complaint) == (0, ""), complaint
    return json.loads(said)


def test_every_part_has_the_tone_step_in_its_unit(prepare, tide):
    step = ("--lighter", "4", "--by", "lightness")
    asked = (tide, "--sheet", "13x19in", "--parts", "2x1", "--width", "20in", *step)
    assert [(part["lighter"], part["lighter_by"]) for part in facts(prepare, *asked)] == [
        (4, "lightness")
    ] * 2


def shown(made: dict) -> np.ndarray:
    """A print file's picture, which lies at the centre of its sheet."""
    sheet, ppi = tifffile.imread(made["file"]), made["ppi"]
    box, part = made["picture"], made["part"]
    left, top = (inches(box[side]).pixels(ppi) for side in ("left_in", "top_in"))
    if part is None:
        return sheet[top:, left:][: round(box["height_in"] * ppi), : round(box["width_in"] * ppi)]
    on = on_the_whole(made)
    picture = sheet[top : top + on.height, left : left + on.width].copy()
    sheet[top : top + on.height, left : left + on.width] = 255
    assert (sheet == 255).all()
    return picture


def on_the_whole(made: dict) -> PixelBox:
    """Where a part lies, each edge rounded by the one rule."""
    part, ppi = made["part"], made["ppi"]
    size = inches(part["whole_width_in"]), inches(part["whole_height_in"])
    columns, rows = COUNTS[part["of"]]
    between = {word: inches(part[f"{word}_in"]) for word in ("gap", "overlap")}
    box = Split(size, columns, rows, **between).parts[part["number"] - 1].box
    left, top, right, bottom = (
        side.pixels(ppi) for side in (box.left, box.top, box.right, box.bottom)
    )
    return PixelBox(left, top, right - left, bottom - top)


COUNTS = {3: (3, 1), 4: (2, 2)}


@pytest.mark.parametrize("ways", a_few([["--resample", 23], [], ["--resample", 41]]))
@pytest.mark.parametrize(
    ("parts", "between", "covered"),
    [("3x1", ["--gap", "2in"], 5 / 6), ("2x2", ["--overlap", "1/2in"], 1), ("2x2", [], 1)],
)
def test_joined_they_are_the_whole_pixel_by_pixel(
    prepare, tide, tmp_path, ways, parts, between, covered
):
    whole = facts(prepare, tide, "--sheet", "36x24in", *ways)
    wanted = shown({**whole, "part": None})
    joined, seen = np.zeros_like(wanted), np.zeros(wanted.shape[:2], bool)
    made = facts(prepare, tide, "--sheet", "13x19in", "--parts", parts, *between, *ways)
    for each in made:
        on = on_the_whole(each)
        place = slice(on.top, on.bottom), slice(on.left, on.right)
        assert np.array_equal(shown(each), wanted[place]), each["part"]
        joined[place], seen[place] = shown(each), True
    assert np.array_equal(joined[seen], wanted[seen])
    assert seen.mean() == pytest.approx(covered, abs=0.01)


def test_names_and_tickets_say_which_part(prepare, tide, tmp_path):
    code, said, _ = prepare(tide, "--sheet", "13x19in", "--parts", "3x1", "--gap", "2in")
    assert code == 0
    assert "What lies behind each gap of 2 in (50.8 mm) is on no part" in said
    names = sorted(file.name for file in (tmp_path / "out").iterdir())
    assert names[2] == "Ada-Brook_Tide-part-2-of-3_13x19in.tif"
    ticket = (tmp_path / "out/Ada-Brook_Tide-part-2-of-3_13x19in_ticket.html").read_text()
    assert "<h1>Tide, part 2 of 3</h1>" in ticket
    assert "Left: hang it 2 in (50.8 mm) from part 1" in ticket
    assert "begins 8.667 in (220.1 mm) from its left" in ticket
    with tifffile.TiffFile(tmp_path / "out" / names[2]) as tiff:
        assert tiff.pages[0].tags["DocumentName"].value == "Tide, part 2 of 3"


def test_a_part_is_looked_at_from_as_far_away_as_the_whole(prepare, tmp_path):
    """24 in need 200 ppi in the shipped room, and each half of them would need 300 by itself."""
    values = np.random.default_rng(7).integers(0, 256, (600, 4800, 3)).astype("u1")
    Image.fromarray(values).save(tmp_path / "wall.png", dpi=(200, 200), icc_profile=srgb())
    told = facts(prepare, tmp_path / "wall.png", "--parts", "2x1", "--sheet", "19x13in")
    assert not any(each["warnings"] for each in told)
    part = tmp_path / "out" / "Ada-Brook_Tide-part-1-of-2_19x13in.tif"
    assert "ppi-floor" not in {item.code for item in check(part).items}
    with tifffile.TiffFile(part) as tiff:
        pixels = tiff.asarray()
    tifffile.imwrite(part, pixels, resolution=(200, 200), resolutionunit="inch", iccprofile=srgb())
    assert "ppi-floor" in {item.code for item in check(part).items}


def test_on_a_roll_each_takes_the_length_it_needs(prepare, tide):
    """A wall 80 in wide in two parts of 40 1/4 in, 53.3 in high: across 44 in, 53.3 in with two borders of
    half an inch, the next quarter of an inch."""
    words = ["--width", "80in", "--parts", "2x1", "--overlap", "1/2in", "--roll", "44in"]
    one, other = facts(prepare, tide, *words)
    assert (one["sheet"]["width_in"], one["sheet"]["height_in"]) == (44, 54.5)
    assert other["picture"]["width_in"] == 40.25


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--sheet", "13x19in", "--gap", "1in"], "--gap is for a picture in parts"),
        (["--roll", "24in"], "--roll is for a picture in parts"),
        (["--sheet", "13x19in", "--parts", "3x1", "--fit"], "--fit is for a print on one sheet"),
        (["--sheet", "A4", "--parts", "3x1"], "does not fit on A4"),
        (["--roll", "17in", "--parts", "2x1", "--width", "80in"], "take more parts"),
        (["--sheet", "13x19in", "--parts", "nine"], "such as 3x1"),
        (["--sheet", "13x19in", "--parts", "3x1", "--gap", "12in"], "leave nothing"),
    ],
)
def test_refusals_leave_nothing(prepare, tide, tmp_path, words, told):
    code, said, complaint = prepare(tide, *words)
    assert (code, said) == (2, "")
    assert told in complaint
    out = tmp_path / "out"
    assert not out.exists() or list(out.iterdir()) == []
