"""The command line: every option of ``prepare``, what it says, and its refusals.

Pictures are 60 × 40 pixels at 30 ppi, 2 by 1 1/3 in, unless another is asked for; sheets are small.
"""

import html
import json
import os
import re
import signal
import subprocess
import sys
import time
from fractions import Fraction
from functools import partial
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

import labkit
from labkit.__main__ import main
from labkit.files.header.reading import read_picture
from labkit.files.writing.tonesaid import said_steps
from labkit.geometry.length import inches, length
from labkit.geometry.light import ToneStep
from labkit.room.rules import new_room
from labkit.teaching.profiles import MATT
from tests.files import make, sheets

ROOT = Path(labkit.__file__).parents[1]
NAMED = ("--owner", "Ada Brook", "--title", "Boat")
STEM = "Ada-Brook_Boat_4x3in"

pytestmark = pytest.mark.usefixtures("warm")


@pytest.fixture
def out(tmp_path) -> Path:
    folder = tmp_path / "out"
    folder.mkdir()
    return folder


@pytest.fixture
def boat(tmp_path) -> Path:
    return make.picture(tmp_path / "boat.png", ppi=30, profile=make.srgb())


@pytest.fixture
def prepare(out, capsys):
    """Run the command in this process: its exit code, what it said, and what it complained of."""

    def run(*given, named=NAMED, sheet="4x3in", to=out) -> tuple[int, str, str]:
        where = ("--out", str(to)) if to else ()
        asked = ["prepare", *map(str, given), "--sheet", sheet, *named, *where]
        code = main(asked)
        said = capsys.readouterr()
        return code, said.out, said.err

    return run


@pytest.fixture
def facts(prepare):
    """Run it and read its JSON."""

    def run(*given, code=0, **named):
        got, said, complaint = prepare(*given, "--json", **named)
        assert (got, complaint) == (code, "")
        return json.loads(said)

    return run


@pytest.fixture
def refused(prepare, out):
    """Run it and give its one sentence; nothing may be left behind."""

    def run(*given, left=(), **named) -> str:
        code, said, complaint = prepare(*given, **named)
        assert (code, said) == (2, "")
        assert complaint.startswith("labkit: ")
        assert complaint.count("\n") == 1
        assert "Traceback" not in complaint
        assert left_in(out) == list(left)
        return complaint.removeprefix("labkit: ").strip()

    return run


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def corner(fact: dict) -> tuple[float, float]:
    return fact["picture"]["left_in"], fact["picture"]["top_in"]


def size(fact: dict) -> tuple[float, float]:
    return fact["picture"]["width_in"], fact["picture"]["height_in"]


# What it makes, and what it says


def test_the_file_the_ticket_and_the_words(prepare, boat, out):
    code, said, complaint = prepare(boat)
    assert (code, complaint) == (0, "")
    assert left_in(out) == [f"{STEM}.tif", f"{STEM}_ticket.html"]
    lines = said.splitlines()
    assert lines[0] == f"{STEM}.tif"
    for line in (
        "  sheet    4 × 3 in (101.6 × 76.2 mm), 120 × 90 pixels at 30 ppi",
        "  picture  2 in (50.8 mm) wide, 1.333 in (33.9 mm) high",
        "  left     1 in (25.4 mm)",
        "  top      0.833 in (21.2 mm)",
        "  right    1 in (25.4 mm)",
        "  bottom   0.833 in (21.2 mm)",
        "  profile  sRGB, 8 bits a channel",
        "  price    £3.12 for 1 print on cotton matt 300",
        f"  ticket   {STEM}_ticket.html",
        f"  folder   {out}",
    ):
        assert line in lines
    assert not any(line.startswith("  done") for line in lines)


def test_the_same_command_gives_the_same_bytes(prepare, boat, out):
    prepare(boat)
    first = [path.read_bytes() for path in sorted(out.iterdir())]
    prepare(boat, "--replace")
    assert [path.read_bytes() for path in sorted(out.iterdir())] == first


def test_without_a_folder_it_goes_to_the_readers_own(facts, boat, own_folder):
    made = facts(boat, to=None)
    assert Path(made["file"]).parent == own_folder / "exports"


def test_a_folder_is_made(facts, boat, tmp_path):
    made = facts(boat, to=tmp_path / "new" / "folder")
    assert Path(made["file"]).exists()


def test_a_doubt_about_the_picture_is_told(facts, boat, tmp_path):
    doubtful = tmp_path / "sea.jpg"
    with Image.open(boat) as image:
        image.convert("RGB").save(doubtful, quality=92)
    data = doubtful.read_bytes()
    doubtful.write_bytes(data[:-2] + bytes(range(1, 40)) + b"\xff\xd9")
    told = " ".join(facts(doubtful, "--title", "Sea", "--width", "1in")["warnings"])
    assert "Some data are left over at the end of the JPEG" in told
    assert "Look at all of it at full size before it is printed." in told


def test_the_facts_for_other_programs(facts, boat, out):
    made = facts(boat, "--width", "1in", "--left", "1/2in", "--top", "1/4in", "--copies", "2")
    assert re.fullmatch(r"\d{6}-[2-9A-HJ-NP-Z]{5}", made.pop("job"))
    warnings = made.pop("warnings")
    assert len(warnings) == 1
    assert made == {
        "file": str(out / f"{STEM}.tif"),
        "ticket": str(out / f"{STEM}_ticket.html"),
        "owner": "Ada Brook",
        "title": "Boat",
        "sheet": {"name": "4x3in", "width_in": 4.0, "height_in": 3.0},
        "ppi": 60,
        "pixels": [240, 180],
        "picture": {
            "left_in": 0.5,
            "top_in": 0.25,
            "width_in": 1.0,
            "height_in": pytest.approx(2 / 3),
            "ppi": 60,
        },
        "borders_in": {
            "left": 0.5,
            "top": 0.25,
            "right": 2.5,
            "bottom": pytest.approx(3 - 0.25 - 2 / 3),
        },
        "trim_in": None,
        "crop": {"left": 0.0, "top": 0.0, "width": 1.0, "height": 1.0},
        "profile": "sRGB",
        "depth": 8,
        "resampled": False,
        "lighter": 0.0,
        "lighter_by": "stops",
        "converted": [],
        "price": 6.24,
        "currency": "£",
    }


# Sheet


@pytest.mark.parametrize(
    ("sheet", "label", "inches_"),
    [
        ("A6", "A6", (105 / 25.4, 148 / 25.4)),
        ("a 6", "A6", (105 / 25.4, 148 / 25.4)),
        ("4x3in", "4x3in", (4, 3)),
        ("120x90mm", "120x90mm", (120 / 25.4, 90 / 25.4)),
        ("4 1/2 x 3 in", "4.5x3in", (4.5, 3)),
        ("letter", "letter", (8.5, 11)),
    ],
)
def test_a_sheet_by_its_name_or_its_size(facts, boat, sheet, label, inches_):
    made = facts(boat, sheet=sheet)
    assert (made["sheet"]["width_in"], made["sheet"]["height_in"]) == pytest.approx(inches_)
    assert made["sheet"]["name"] == label
    assert Path(made["file"]).name == f"Ada-Brook_Boat_{label}.tif"


def test_a_sheet_on_its_side(facts, boat):
    made = facts(boat, "--turn", sheet="A6")
    assert made["sheet"]["name"] == "148x105mm"
    assert made["pixels"] == [175, 124]  # 148 and 105 mm at 30 ppi: 174.8 and 124.02


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("A3+", "“A3+” is sold as 329 × 483 mm, as 330.2 × 482.6 mm and as 305 × 457 mm: measure"),
        ("ledger", "“ledger” is 11 × 17 in to some and 17 × 11 in to others: give the size"),
        ("B17", "no sheet is called “B17”: give a standard name such as A4 or letter"),
        ("13x19", "has no unit: write 13x19in or 13x19mm."),
        ("0x3in", "a sheet needs a width and a height above zero"),
    ],
)
def test_a_sheet_nobody_knows_or_all_know_differently(refused, boat, name, told):
    assert told in refused(boat, sheet=name)


# Size


@pytest.mark.parametrize(
    ("given", "made"),
    [
        ((), (2, 4 / 3)),
        (("--width", "3in"), (3, 2)),
        (("--width", "38.1mm"), (1.5, 1)),
        (("--height", "1in"), (1.5, 1)),
        (("--width", "3in", "--height", "2in"), (3, 2)),
        (("--fit",), (3, 2)),
        (("--fit", "--border", "3/4in"), (2.25, 1.5)),
        (("--fill",), (3, 2)),
        (("--fill", "--border", "1/4in"), (3.5, 2.5)),
        (("--fill", "--width", "2in", "--height", "2in"), (2, 2)),
    ],
)
def test_the_size_of_the_picture(facts, boat, given, made):
    assert size(facts(boat, *given)) == pytest.approx(made)


@pytest.mark.parametrize(
    ("given", "crop"),
    [
        ((), (1 / 6, 0)),
        (("--crop-at", "0,0"), (0, 0)),
        (("--crop-at", "1,1"), (1 / 3, 0)),
        (("--crop-at", "0.25,0.7"), (1 / 12, 0)),
    ],
)
def test_what_stays_of_a_cropped_picture(facts, boat, given, crop):
    """A square of a 3 : 2 picture is two thirds of its width."""
    made = facts(boat, "--fill", "--border", "1/2in", *given, sheet="3x3in")
    assert (made["crop"]["left"], made["crop"]["top"]) == pytest.approx(crop)
    assert (made["crop"]["width"], made["crop"]["height"]) == pytest.approx((2 / 3, 1))
    first = round(60 * crop[0])
    got = sheets.pixels(Path(made["file"]))[10:50, 10:50]
    assert np.array_equal(got, Image.open(boat).crop((first, 0, first + 40, 40)))


def test_a_crop_is_told(prepare, boat):
    said = prepare(boat, "--fill", sheet="3x3in")[1]
    assert "  cropped  33% of the picture" in said.splitlines()


def test_two_sides_and_fill_crop_to_just_that_box(facts, boat):
    """“boat.jpg” is 3 : 2; a square keeps two thirds of its width, here the left two thirds."""
    given = ("--fill", "--width", "2in", "--height", "2in", "--crop-at", "0,0.5")
    made = facts(boat, *given, "--left", "1/2in", "--top", "3/4in", sheet="4x3in")
    assert made["picture"] | {"ppi": 0} == {
        "left_in": 0.5,
        "top_in": 0.75,
        "width_in": 2,
        "height_in": 2,
        "ppi": 0,
    }
    assert (made["crop"]["left"], made["crop"]["height"]) == (0, 1)
    assert made["crop"]["width"] == pytest.approx(2 / 3)


def test_two_sides_of_another_ratio_are_refused_with_both(refused, boat):
    assert refused(boat, "--width", "3in", "--height", "1in") == (
        "3 in × 1 in is 3 : 1, but the picture is 3 : 2 and is never stretched: give the width alone "
        "(the height is then 2 in (50.8 mm)), or use fill to crop it to that shape."
    )


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("--width", "2in", "--fit"), "three ways to give a size: choose one."),
        (("--fit", "--fill"), "three ways to give a size: choose one."),
        (("--width", "3"), "the width of “3” has no unit: write 3in or 3mm."),
        (("--width", "wide"), "the width of “wide” is not a length"),
        (("--width", "0in"), "a width of 0 in (0 mm) leaves no picture"),
        (("--fill", "--crop-at", "2,0"), "lies outside the picture"),
        (("--fit", "--border", "2in"), "leave nothing of"),
        (
            ("--fill", "--width", "2in", "--height", "1in", "--border", "1/2in"),
            "width and height give the box that is filled, and so does a border",
        ),
        (("--width", "9in"), "9 in (228.6 mm) by 6 in (152.4 mm) does not fit on 4 × 3 in"),
        (("--width", "5in", "--left", "0in", "--top", "0in"), "the picture runs off 4 × 3 in"),
    ],
)
def test_a_size_that_cannot_be(refused, boat, given, told):
    assert told in refused(boat, *given)


def test_100_percent_needs_a_stated_size(refused, tmp_path):
    path = make.picture(tmp_path / "bare.png")
    assert refused(path) == (
        "the file does not state its size: give a width or a height, or use fit or fill."
    )


def test_a_picture_stating_two_resolutions_is_not_stretched(refused, facts, tmp_path):
    path = make.jfif(tmp_path / "odd.jpg", 1, 30, 60)
    assert "states 30 ppi across and 60 ppi down" in refused(path)
    assert size(facts(path, "--fit")) == (3, 2)


# Place


@pytest.mark.parametrize(
    ("given", "place"),
    [
        ((), (1, 5 / 6)),
        (("--at", "centre"), (1, 5 / 6)),
        (("--at", "center"), (1, 5 / 6)),
        (("--at", "optical"), (1, 2 / 3)),
        (("--left", "1/4in", "--top", "30mm"), (0.25, 30 / 25.4)),
    ],
)
def test_the_place_of_the_picture(facts, boat, given, place):
    assert corner(facts(boat, *given)) == pytest.approx(place)


def test_three_even_borders(facts, boat):
    """A 2 in picture on 3 in leaves 1/2 in left and right, so 1/2 in above."""
    made = facts(boat, "--at", "even-three", sheet="3x4in")
    assert made["borders_in"] == pytest.approx(
        {"left": 0.5, "top": 0.5, "right": 0.5, "bottom": 4 - 0.5 - 4 / 3}
    )


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("--at", "corner"), "“corner” is no place: use centre, optical, even-three, or give left"),
        (("--left", "1in"), "left and top go together"),
        (("--at", "even-three", "--width", "1in"), "three even borders of 1 1/2 in"),
    ],
)
def test_a_place_that_cannot_be(refused, boat, given, told):
    assert told in refused(boat, *given)


def test_a_border_below_the_printers_edge_is_refused_with_all_four(refused, boat):
    told = refused(boat, "--width", "2in", "--left", "1/16in", "--top", "1in", sheet="A4")
    edges = "left 4 mm (0.16 in), top 3 mm (0.12 in), right 4 mm (0.16 in), bottom 7 mm (0.28 in)"
    assert f"it cannot print nearer to the edges than {edges}." in told
    assert told.startswith("the border is too small for the printer (1/16 in (1.6 mm) on the left)")


# Trim and bleed


def test_a_trimmed_print_has_bleed_and_marks_where_they_should_be(facts, tmp_path):
    picture = make.picture(tmp_path / "poster.png", size=(450, 350))
    made = facts(picture, "--trim", "4x3in", "--bleed", "1/4in", sheet="6x5in")
    assert made["trim_in"] == {"left": 1, "top": 1, "width": 4, "height": 3, "bleed": 0.25}
    assert size(made) == (4.5, 3.5)
    assert (made["ppi"], made["pixels"]) == (100, [600, 500])
    got = sheets.pixels(Path(made["file"])).copy()
    assert np.array_equal(got[75:425, 75:525], Image.open(picture))
    got[75:425, 75:525] = 255
    black = (got == 0).all(-1)
    assert (got[~black] == 255).all()
    # 6 mm is 23.6 pixels; marks begin outside the bleed at 75 and 525, in line with cuts at 100 and 500
    down = sorted({int(x) for x in np.flatnonzero(black[60])})
    across = sorted({int(y) for y in np.flatnonzero(black[:, 60])})
    assert down == [100, 500]
    assert across == [100, 400]
    assert np.flatnonzero(black.any(0))[[0, -1]].tolist() == [51, 548]
    assert np.flatnonzero(black.any(1))[[0, -1]].tolist() == [51, 448]


def test_a_print_cut_to_a_white_border_has_marks_and_no_bleed(facts, tmp_path):
    """2 × 1 1/2 in in the centre of 6 × 5 in, 2 in left and right and 1 3/4 in above and below; cut to
    3/4 in and 1/4 in more below, from 1 1/4 in and 1 in on."""
    picture = make.picture(tmp_path / "poster.png", size=(200, 150))
    cut = ("--width", "2in", "--cut-to", "3/4in", "--below", "1/4in")
    made = facts(picture, *cut, sheet="6x5in")
    assert made["trim_in"] == {"left": 1.25, "top": 1, "width": 3.5, "height": 3.25, "bleed": 0}
    black = (sheets.pixels(Path(made["file"])) == 0).all(-1)
    black[175:325, 200:400] = False
    # marks of 23.6 pixels end at the cuts: 125 and 475 across, 100 and 425 down
    assert sorted({int(x) for x in np.flatnonzero(black[85])}) == [125, 475]
    assert sorted({int(y) for y in np.flatnonzero(black[:, 110])}) == [100, 425]
    assert not black[101:424, 126:474].any()


def test_bleed_is_the_rooms_own_and_the_trim_is_told(prepare, tmp_path):
    picture = make.picture(tmp_path / "poster.png")
    said = prepare(picture, "--trim", "3x2in", sheet="5x4in")[1]
    trim = "  trim     3 in (76.2 mm) wide, 2 in (50.8 mm) high, 1/8 in (3.2 mm) of bleed"
    assert trim in said.splitlines()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("--bleed", "1/8in"), "give the trim size as well"),
        (("--trim", "4x3in"), "does not fit what the printer reaches of 4 × 3 in"),
        (("--trim", "2x1in", "--fit"), "fit keeps borders and trim cuts them off"),
        (("--trim", "2x1in", "--width", "1in"), "stops short of the bleed by"),
        (("--border", "1in"), "a border is kept by fit and by fill"),
    ],
)
def test_a_trim_that_cannot_be(refused, boat, given, told):
    assert told in refused(boat, *given)


# Pixels


def test_more_pixels_than_the_room_works_with_are_reduced_and_both_figures_told(facts, tmp_path):
    picture = make.picture(tmp_path / "fine.png", size=(900, 600), profile=make.srgb())
    made = facts(picture, "--width", "2in")
    assert (made["ppi"], made["picture"]["ppi"], made["resampled"]) == (300, 450, True)
    assert made["pixels"] == [1200, 900]
    assert made["converted"] == [
        "The picture was reduced from 450 ppi to 300 ppi (900 × 600 to 600 × 400 pixels)."
    ]
    assert made["warnings"] == []
    wanted = Image.open(picture).resize((600, 400), Image.Resampling.LANCZOS)
    got = sheets.pixels(Path(made["file"]))[250:650, 300:900]
    assert np.abs(got.astype(int) - np.asarray(wanted)).max() <= 2


def test_fewer_are_not_enlarged_and_the_sheet_takes_the_pictures_own_ppi(facts, boat):
    made = facts(boat, "--width", "3in")
    assert (made["ppi"], made["pixels"], made["resampled"]) == (20, [80, 60], False)
    assert made["converted"] == []
    assert np.array_equal(sheets.pixels(Path(made["file"]))[10:50, 10:70], Image.open(boat))


def test_as_many_as_asked_for_are_kept_bit_for_bit(facts, tmp_path):
    picture = make.picture(tmp_path / "exact.png", size=(300, 200))
    made = facts(picture, "--width", "1in")
    assert (made["ppi"], made["picture"]["ppi"], made["resampled"]) == (300, 300, False)
    got = sheets.pixels(Path(made["file"]))
    at = 450, 350  # 1 1/2 in, and 1 1/6 in
    assert np.array_equal(got[at[1] : at[1] + 200, at[0] : at[0] + 300], Image.open(picture))


@pytest.mark.parametrize(("ppi", "verb"), [(60, "enlarged"), (15, "reduced")])
def test_new_pixels_where_asked_for(facts, boat, ppi, verb):
    made = facts(boat, "--resample", str(ppi))
    assert (made["ppi"], made["pixels"], made["resampled"]) == (ppi, [4 * ppi, 3 * ppi], True)
    assert made["converted"] == [
        f"The picture was {verb} from 30 ppi to {ppi} ppi (60 × 40 to {2 * ppi} × {4 * ppi // 3} pixels)."
    ]


def test_every_pixel_where_asked_for(facts, tmp_path):
    picture = make.picture(tmp_path / "fine.png", size=(900, 600))
    made = facts(picture, "--width", "2in", "--keep-pixels")
    assert (made["ppi"], made["pixels"], made["resampled"]) == (450, [1800, 1350], False)
    got = sheets.pixels(Path(made["file"]))
    assert np.array_equal(got[375:975, 450:1350], Image.open(picture))


def test_both_at_once_are_refused(refused, boat):
    assert "choose one of the two" in refused(boat, "--resample", "60", "--keep-pixels")
    assert "no picture can be resampled to 0 ppi" in refused(boat, "--resample", "0")


def test_the_file_says_what_its_own_ppi_was(facts, boat):
    named = ("--owner", "Ada Brook", "--title", "Boat & sail")
    made = facts(boat, "--resample", "60", named=named)
    with tifffile.TiffFile(made["file"]) as file:
        told = file.pages[0].tags[270].value
    assert told.startswith("Boat & sail, by Ada Brook. Picture 2 in (50.8 mm) wide")
    assert told.endswith("The picture's own resolution at this size is 30 ppi.")


def test_a_print_below_the_floor_is_told_with_both_figures_and_the_largest_that_is_not(
    prepare, boat
):
    code, said, _ = prepare(boat)
    assert code == 0
    (warning,) = (line for line in said.splitlines() if line.startswith("  look"))
    assert warning == (
        "  look     At 2 in (50.8 mm) wide the picture has 30 ppi; at that size this room asks for "
        "300 ppi, seen from 30 cm (11.81 in). It has enough up to 0.2 in (5.1 mm) by "
        "0.133 in (3.4 mm)."
    )


def test_the_strict_are_told_by_the_exit_code(prepare, boat, out, tmp_path):
    assert prepare(boat, "--strict")[0] == 1
    assert left_in(out) == [f"{STEM}.tif", f"{STEM}_ticket.html"]
    fine = make.picture(tmp_path / "fine.png", size=(300, 200))
    assert prepare(fine, "--width", "1in", "--strict", "--replace")[0] == 0


# Colour


def test_a_conversion_is_told(prepare, tmp_path):
    picture = make.picture(tmp_path / "grey.png", mode="LA", ppi=30)
    lines = prepare(picture)[1].splitlines()
    assert [line for line in lines if line.startswith("  done")] == [
        "  done     Transparency was laid on white, because paper is white and a print has no layers.",
        "  done     Grey was converted to RGB, because the printer takes RGB; sRGB was assumed.",
    ]
    assert "  profile  sRGB, 8 bits a channel" in lines


def test_cmyk_without_a_profile_is_refused_and_with_one_of_the_rooms_is_not(
    refused, facts, tmp_path
):
    picture = make.picture(tmp_path / "inks.tif", mode="CMYK", ppi=30)
    assert refused(picture).startswith(
        "“inks.tif” is CMYK and carries no profile, so its colours are"
    )
    (tmp_path / "house.icc").write_bytes(sheets.cmyk_profile())
    own = new_room(tmp_path / "own.toml")
    text = own.read_text(encoding="utf-8")
    own.write_text(
        text.replace('untagged_cmyk = ""', 'untagged_cmyk = "house.icc"'), encoding="utf-8"
    )
    made = facts(picture, "--room", own)
    assert made["converted"] == [
        "CMYK was converted to sRGB through house.icc, which this room assumes, because the printer "
        "takes RGB."
    ]


@pytest.mark.parametrize(
    ("name", "options"),
    [("a.jpg", {}), ("a.tif", {"compression": "tiff_lzw"}), ("a.png", {})],
)
def test_a_turned_picture_is_printed_as_it_is_seen(facts, tmp_path, name, options):
    picture = make.picture(tmp_path / name, orientation=6, ppi=30, **options)
    made = facts(picture, sheet="3x4in")
    assert size(made) == pytest.approx((4 / 3, 2))
    at = [round(side * 30) for side in corner(made)]
    got = sheets.pixels(Path(made["file"]))[at[1] : at[1] + 60, at[0] : at[0] + 40]
    assert np.array_equal(got, sheets.seen(picture))


def test_a_telephones_pictures(facts, tmp_path):
    picture = make.telephone_jpeg(tmp_path / "ABCD0412.jpg")
    made = facts(picture, "--width", "2in")
    assert np.array_equal(sheets.pixels(Path(made["file"]))[25:65, 30:90], sheets.seen(picture))
    heic = ROOT / "tests" / "files" / "phone.heic"
    assert facts(heic, "--fit", "--replace")["profile"]


# Names, series, tickets


def test_owner_and_title_may_come_from_the_name(facts, tmp_path):
    picture = make.picture(tmp_path / "Nia-Oak_First-light_4x3in.png", ppi=30)
    made = facts(picture, named=())
    assert (made["owner"], made["title"]) == ("Nia Oak", "First light")
    assert Path(made["file"]).name == "Nia-Oak_First-light_4x3in.tif"
    assert facts(picture, named=("--title", "Tide"))["title"] == "Tide"


def test_names_in_any_script(facts, boat):
    made = facts(boat, named=("--owner", "Ольга", "--title", "舟 ½"))
    assert Path(made["file"]).name == "Ольга_舟-½_4x3in.tif"
    assert read_picture(made["file"]).pixels == (120, 90)


@pytest.mark.parametrize(
    ("named", "told"),
    [
        ((), "the owner is missing"),
        (("--owner", "Ada"), "the title is missing"),
        (("--owner", "...", "--title", "Boat"), "nothing is left of the owner “...”"),
        (("--owner", "Ada", "--title", "../.."), "nothing is left of the title “../..”"),
        (("--owner", " ", "--title", "Boat"), "the owner is missing"),
    ],
)
def test_a_name_with_nothing_in_it(refused, boat, named, told):
    assert told in refused(boat, named=named)


@pytest.mark.parametrize("owner", ["../../etc", "/x", "a\\b", ".."])
def test_a_name_never_leads_out_of_the_folder(prepare, boat, out, tmp_path, owner):
    before = {*tmp_path.rglob("*")}
    prepare(boat, named=("--owner", owner, "--title", "Boat"))
    made = {*tmp_path.rglob("*")} - before
    assert all(path.parent == out for path in made)


def test_a_series(prepare, tmp_path, out):
    files = [
        make.picture(tmp_path / f"Ada-Brook_{title}_4x3in.png", ppi=30) for title in ("One", "Two")
    ]
    code, said, complaint = prepare(*files, named=())
    assert (code, complaint) == (0, "")
    assert [name for name in left_in(out) if name.endswith(".tif")] == [
        "Ada-Brook_One_4x3in.tif",
        "Ada-Brook_Two_4x3in.tif",
    ]
    lines = said.splitlines()
    assert lines[0].split() == ["file", "sheet", "picture", "ppi", "price", "to", "note"]
    assert lines[1].startswith(
        "Ada-Brook_One_4x3in.tif  4x3in  2 in × 1.333 in  30   £3.12  At 2 in"
    )
    assert lines[-1] == "2 made, £6.24 in all."


def test_a_name_of_three_parts_without_a_size_tells_no_owner(refused, tmp_path):
    """As for a check, Nia_Oak_Boat is a first name, a surname and a title, and no owner called Nia."""
    boat = make.picture(tmp_path / "Nia_Oak_Boat.png", ppi=30)
    assert refused(boat, named=()).startswith("the owner is missing")


def test_a_series_does_not_replace_its_own_files(prepare, tmp_path, out):
    files = [
        make.picture(tmp_path / f"Ada-Brook_One_{size}.png", ppi=30) for size in ("4x3in", "A4")
    ]
    code, said, complaint = prepare(*files, "--replace", named=())
    assert code == 2
    assert complaint.endswith(
        "another picture of this series has the same owner and title: rename one.\n"
    )
    assert said.splitlines()[-1].startswith("1 made")
    assert len([name for name in left_in(out) if name.endswith(".tif")]) == 1


def test_one_title_cannot_name_a_series(refused, boat):
    assert refused(boat, boat) == (
        "one title cannot name several files: leave it out, and name the pictures like "
        "Ada-Brook_Boat_13x19in.jpg."
    )


def test_one_bad_picture_does_not_stop_the_others(prepare, tmp_path, out):
    good = [make.picture(tmp_path / f"Ada_{title}_4x3in.png", ppi=30) for title in ("One", "Two")]
    bad = tmp_path / "Ada_Bad_4x3in.png"
    bad.write_bytes(b"not a picture")
    code, said, complaint = prepare(
        good[0], bad, tmp_path / "Ada_None_4x3in.png", good[1], named=()
    )
    assert code == 2
    assert said.splitlines()[-1] == "2 made, £6.24 in all."
    first, second = complaint.splitlines()
    assert first.startswith(f"labkit: {bad}: ")
    assert second.startswith(f"labkit: {tmp_path / 'Ada_None_4x3in.png'}: ")
    assert len(left_in(out)) == 4


def test_the_facts_of_a_series_are_a_list(prepare, tmp_path):
    files = [make.picture(tmp_path / f"Ada_{title}_4x3in.png", ppi=30) for title in ("One", "Two")]
    code, said, _ = prepare(*files, "--json", "--strict", named=())
    assert code == 1
    assert [made["title"] for made in json.loads(said)] == ["One", "Two"]


def test_more_copies_than_sheets_are_left_is_told(facts, boat):
    """Of rag board 450 the room has 25 sheets of 13 × 19 in."""
    order = "--paper", "rag board 450", "--keep-pixels", "--copies"
    assert not any(
        "left" in told for told in facts(boat, *order, "25", sheet="13x19in")["warnings"]
    )
    made = facts(boat, *order, "30", "--replace", sheet="13x19in")
    told = "30 sheets of rag board 450, 13x19in, is more than is left (25)."
    assert told in made["warnings"]
    assert told in html.unescape(Path(made["ticket"]).read_text(encoding="utf-8"))


def test_copies_paper_course_and_due_reach_the_ticket(facts, boat):
    order = (
        "--copies",
        "3",
        "--paper",
        "pearl 260",
        "--course",
        "Print & proof",
        "--due",
        "2031-05-04",
    )
    made = facts(boat, *order, sheet="A4")
    assert made["price"] == 4.80
    page = html.unescape(Path(made["ticket"]).read_text(encoding="utf-8"))
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))
    for told in (
        "Copies 3",
        "Paper pearl 260",
        "Course Print & proof",
        "Due 2031-05-04",
        "Price £4.80",
    ):
        assert told in words
    assert "Look At 2 in (50.8 mm) wide the picture has 30 ppi" in words
    assert "data:image/jpeg;base64," in page


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("--paper", "velvet"), "no paper here is called “velvet”: use one of cotton matt 300"),
        (("--copies", "0"), "0 copies have no price"),
    ],
)
def test_an_order_that_cannot_be(refused, boat, given, told):
    assert told in refused(boat, *given)


def test_an_existing_file_stays_unless_it_is_to_be_replaced(prepare, refused, boat, out):
    prepare(boat)
    names, before = left_in(out), (out / f"{STEM}.tif").read_bytes()
    told = refused(boat, "--width", "1in", left=names)
    assert told.startswith(f"{STEM}.tif already exists in {out}: nothing was overwritten.")
    assert "Give another title, another folder, or ask to replace it." in told
    assert (out / f"{STEM}.tif").read_bytes() == before
    assert prepare(boat, "--width", "1in", "--replace")[0] == 0
    assert left_in(out) == names
    assert (out / f"{STEM}.tif").read_bytes() != before


def test_a_file_that_cannot_be_made_anew_leaves_the_old_one(prepare, refused, boat, out):
    prepare(boat)
    names, before = left_in(out), (out / f"{STEM}.tif").read_bytes()
    boat.write_bytes(boat.read_bytes()[:-60])
    assert "damaged or cut short" in refused(boat, "--replace", left=names)
    assert (out / f"{STEM}.tif").read_bytes() == before


def test_the_picture_itself_is_never_replaced(refused, tmp_path, out):
    picture = make.picture(out / f"{STEM}.tif", ppi=30)
    before = picture.read_bytes(), picture.stat().st_mtime_ns
    told = refused(picture, "--replace", left=[picture.name])
    assert (
        told
        == f"{picture} is the picture itself, which is only read: give another title or folder."
    )
    assert (picture.read_bytes(), picture.stat().st_mtime_ns) == before


def test_the_original_stays_as_it_was(prepare, boat):
    before = boat.read_bytes(), boat.stat().st_mtime_ns
    boat.chmod(0o400)
    assert prepare(boat)[0] == 0
    assert (boat.read_bytes(), boat.stat().st_mtime_ns) == before


# Bad input: one sentence, exit 2, nothing left behind


def noise(path: Path, **options) -> Path:
    values = np.random.default_rng(1).integers(0, 256, (80, 90, 3), np.uint8)
    Image.fromarray(values).save(path, **options)
    return path


@pytest.mark.parametrize("name", ["cut.jpg", "cut.png", "cut.tif"])
@pytest.mark.parametrize("share", [0.5, 0.97])
def test_a_picture_cut_short(refused, tmp_path, name, share):
    picture = noise(tmp_path / name)
    picture.write_bytes(picture.read_bytes()[: int(picture.stat().st_size * share)])
    told = refused(picture, "--fit")
    assert name in told
    assert "copy" in told


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("empty.jpg", b"", "“empty.jpg” is empty (0 bytes): copy it again"),
        ("list.jpg", b"milk, bread, paper", "“list.jpg” is not a picture"),
        ("notes.pdf", b"%PDF-1.7\n", "PDF"),
    ],
)
def test_what_is_not_a_picture(refused, tmp_path, name, data, told):
    (tmp_path / name).write_bytes(data)
    assert told in refused(tmp_path / name)


def test_a_picture_that_is_not_there_or_a_folder(refused, tmp_path):
    assert "gone.jpg" in refused(tmp_path / "gone.jpg")
    assert "folder" in refused(tmp_path)


def test_more_pixels_than_the_room_allows(refused, tmp_path):
    picture = make.png_header(tmp_path / "bomb.png", 30_000, 30_000)
    told = refused(picture, "--fit")
    assert "bomb.png" in told
    assert "900 " in told
    assert "400 " in told


def test_a_folder_that_cannot_be_written_to(refused, boat):
    told = refused(boat, to=boat / "prints")
    assert told == f"the folder {boat / 'prints'} cannot be made (not a directory): choose another."
    if os.path.isdir("/proc/self"):
        assert re.fullmatch(
            r"/proc/self cannot be written to \(.+\): choose another folder\.",
            refused(boat, to=Path("/proc/self")),
        )


def test_a_room_file_that_is_not_there_or_wrong(refused, boat, tmp_path):
    assert "none.toml" in refused(boat, "--room", tmp_path / "none.toml")
    (tmp_path / "own.toml").write_text("working_ppi = \n")
    assert "own.toml, line 1" in refused(boat, "--room", tmp_path / "own.toml")


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (
            ["--mat", "2in"],
            "unrecognized arguments: --mat 2in. `labkit --help` lists what can be said.",
        ),
        (
            ["--copies", "2.5"],
            "--copies: “2.5” is no whole number: write it like 3, without a unit.",
        ),
        (
            ["--lighter", "0,3in"],
            "--lighter: “0,3in” is no number: write it like 0.3, without a unit.",
        ),
        (["--roll", "24in"], "--roll: not allowed with argument --sheet."),
    ],
)
def test_what_is_not_understood_ends_it_with_one_sentence(boat, capsys, given, sentence):
    with pytest.raises(SystemExit) as ended:
        main(["prepare", str(boat), "--sheet", "A4", *given])
    assert ended.value.code == 2
    assert capsys.readouterr().err == f"labkit: {sentence}\n"


def test_a_step_with_a_comma_is_the_step(facts, boat):
    assert facts(boat, "--lighter", "0,3")["lighter"] == 0.3


# In a process of its own


def command(*given, **options) -> subprocess.Popen:
    return subprocess.Popen(
        [sys.executable, "-m", "labkit", "prepare", *map(str, given), *NAMED],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        cwd=ROOT,
        **options,
    )


@pytest.fixture
def large(tmp_path) -> Path:
    """A picture that takes a while, and whose file is of some size."""
    values = np.random.default_rng(1).integers(0, 256, (1500, 2000, 3), np.uint8)
    path = tmp_path / "large.tif"
    Image.fromarray(values).save(path)
    return path


def test_a_full_disk(large, out):
    """A limit on the size of a file is told as a full disk is: no more can be written."""

    resource = pytest.importorskip("resource")

    def limited():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1_000_000, 1_000_000))

    run = command(large, "--sheet", "A3", "--fit", "--out", out, preexec_fn=limited)
    said, complaint = run.communicate(timeout=60)
    assert (run.returncode, said) == (2, "")
    assert complaint == (
        f"labkit: the disk of {out} is full: make room, or choose another folder.\n"
    )
    assert left_in(out) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no signals are sent to processes there")
@pytest.mark.parametrize("how", ["SIGTERM", "SIGINT"])
def test_ended_from_outside_it_leaves_nothing(large, out, how):
    given = (large, "--sheet", "44x96in", "--fit", "--resample", "300", "--out", out)
    heard = partial(signal.signal, getattr(signal, how), signal.SIG_DFL)
    run = command(
        *given, start_new_session=True, preexec_fn=heard
    )  # a shell may ignore them for it
    deadline = time.monotonic() + 60
    while not left_in(out) and run.poll() is None and time.monotonic() < deadline:
        time.sleep(0.01)
    assert [name.split(".")[-1] for name in left_in(out)] == ["part"]
    run.send_signal(getattr(signal, how))
    said, complaint = run.communicate(timeout=60)
    assert (run.returncode, said) == (2, "")
    assert complaint == "labkit: stopped; nothing was left behind.\n"
    assert left_in(out) == []


def test_it_runs_by_its_name_from_anywhere(boat, out):
    run = command(boat, "--sheet", "4x3in", "--out", out)
    said, complaint = run.communicate(timeout=60)
    assert (run.returncode, complaint) == (0, "")
    assert said.startswith(f"{STEM}.tif\n")


def test_the_parent_holds_no_pixels(boat, out):
    """Reading facts, placing and telling need no array: the child decodes, and sends none back."""
    code = (
        "import sys; from labkit.__main__ import main; "
        f"main(['prepare', {str(boat)!r}, '--sheet', '4x3in', '--out', {str(out)!r}, *{NAMED!r}]); "
        "print(*sorted(sys.modules))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT)
    loaded = run.stdout.splitlines()[-1].split()
    assert "labkit.job.words" in loaded
    assert not {"numpy", "matplotlib", "ipywidgets", "anywidget", "imagecodecs"} & set(loaded)


def test_the_sizes_of_these_tests():
    """Fractions that the tests above write as decimals."""
    assert inches(Fraction(4, 3)) == inches(2) * Fraction(40, 60)
    assert length("38.1mm") == inches(Fraction(3, 2))


# One tone step


def test_a_tone_step_is_told_and_made(prepare, boat, out):
    code, said, _ = prepare(boat, "--lighter", "-0.3")
    assert code == 0
    assert "done     The picture was made 0.3 stops darker at middle grey" in said
    plain = sheets.pixels(out / f"{STEM}.tif")
    prepare(boat, "--replace")
    assert (plain.astype(int) <= sheets.pixels(out / f"{STEM}.tif")).all()
    assert plain.mean() < sheets.pixels(out / f"{STEM}.tif").mean() - 2


def test_too_large_a_tone_step_is_refused(refused, boat):
    assert refused(boat, "--lighter", "3").startswith(
        "a tone step is a number of stops from -2 to 2"
    )


def test_a_step_by_lightness_is_told_in_its_unit_everywhere(prepare, boat, out):
    code, said, _ = prepare(boat, "--lighter", "4", "--by", "lightness")
    told = "The picture was made 4 L* units lighter at middle grey"
    assert (code, told in " ".join(said.split())) == (0, True)
    assert told in (out / f"{STEM}_ticket.html").read_text(encoding="utf-8")
    assert said_steps(sheets.description_in(out / f"{STEM}.tif")) == (ToneStep(4.0, "lightness"),)
    _, said, _ = prepare(boat, "--lighter", "-4", "--by", "lightness", "--json", "--replace")
    made = json.loads(said)
    assert (made["lighter"], made["lighter_by"]) == (-4, "lightness")
    assert "4 L* units darker" in made["converted"][-1]


def test_a_step_of_none_is_said_to_change_nothing(prepare, boat, out):
    prepare(boat)
    plain = sheets.pixels(out / f"{STEM}.tif")
    code, said, _ = prepare(boat, "--lighter", "0", "--replace")
    assert (code, "neither lighter nor darker, as asked" in said) == (0, True)
    assert (plain == sheets.pixels(out / f"{STEM}.tif")).all()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--lighter", "25", "--by", "lightness"), "a tone step is a number of L* units from -24"),
        (("--lighter", "4"), "a tone step is a number of stops from -2 to 2"),
        (("--lighter", "4", "--by", "percent"), "tone steps are told in stops or in lightness"),
        (("--by", "lightness"), "lightness is what a tone step is told in, and no step is asked"),
        (("--lighter", "nan"), "a tone step is a number of stops"),
    ],
)
def test_a_step_that_cannot_be_made_is_refused_in_its_unit(refused, boat, words, told):
    assert refused(boat, *words).startswith(told)


def test_of_a_series_a_unit_without_a_step_is_refused_once(prepare, boat, out):
    code, said, complaint = prepare(boat, boat, "--by", "lightness", named=())
    assert (code, said, complaint.count("\n")) == (2, "", 1)


def test_a_second_step_is_stated_beside_the_first_and_asked_about(prepare, boat, out, tmp_path):
    prepare(boat, "--lighter", "-0.3")
    first, again = out / f"{STEM}.tif", tmp_path / "again"
    code, said, _ = prepare(
        first, "--whole", "--lighter", "4", "--by", "lightness", to=again, named=()
    )
    assert code == 0
    assert "look     The file given had been made 0.3 stops darker already" in said
    made = said_steps(sheets.description_in(again / f"{STEM}.tif"))
    assert made == (ToneStep(-0.3), ToneStep(4.0, "lightness"))
    ticket = (again / f"{STEM}_ticket.html").read_text(encoding="utf-8")
    assert "had been made 0.3 stops darker at middle grey before" in ticket
    code, said, _ = prepare(again / f"{STEM}.tif", "--whole", to=tmp_path / "last", named=())
    assert said_steps(sheets.description_in(tmp_path / "last" / f"{STEM}.tif")) == made
    assert "already" not in said


def test_a_finished_sheet_can_be_made_lighter_where_it_lies(prepare, out, tmp_path):
    whole = make.picture(tmp_path / "whole.png", size=(1200, 900), ppi=300, profile=make.srgb())
    code, said, _ = prepare(whole, "--whole", "--lighter", "0.3")
    assert code == 0
    assert "0.3 stops lighter" in said
    was, now = (np.asarray(Image.open(file)) for file in (whole, out / f"{STEM}.tif"))
    assert (now >= was).all()
    assert now.mean() > was.mean() + 2


def test_a_finished_file_made_lighter_keeps_its_sheet_its_place_and_its_name(
    prepare, out, boat, capsys
):
    """The sheet need not be said again; what was done stands in the file, the summary and the ticket."""
    prepare(boat)
    first = out / f"{STEM}.tif"
    was = sheets.pixels(first).astype(int)
    code = main(["prepare", str(first), "--whole", "--lighter", "0.3", "--out", str(out / "new")])
    assert (code, "0.3 stops lighter" in capsys.readouterr().out) == (0, True)
    made = out / "new" / first.name
    now = sheets.pixels(made).astype(int)
    assert now.shape == was.shape
    assert ((now == 255).all(-1) == (was == 255).all(-1)).all()
    assert (now >= was).all()
    assert now.mean() > was.mean() + 1
    with tifffile.TiffFile(made) as tiff:
        told = tiff.pages[0].tags["ImageDescription"].value
    assert "0.3 stops lighter" in told
    assert "left 0 in" not in told  # the picture's own borders, not the sheet's
    assert "0.3 stops lighter" in (made.parent / f"{STEM}_ticket.html").read_text(encoding="utf-8")


def test_without_a_sheet_it_is_asked_for(boat, tmp_path, capsys):
    names = "--owner", "Ada Brook", "--title", "Boat", "--out", str(tmp_path / "none")
    assert main(["prepare", str(boat), *names]) == 2
    assert "say on which sheet" in capsys.readouterr().err
    unsaid = make.picture(tmp_path / "unsaid.png", size=(123, 457), ppi=None)
    assert main(["prepare", str(unsaid), "--whole", *names]) == 2
    assert "does not say which sheet it is" in capsys.readouterr().err


def test_a_printers_profile_in_a_picture_is_said_and_not_kept(prepare, out, tmp_path):
    inky = tmp_path / "inky.png"
    plain = Image.new("RGB", (60, 40), (128, 128, 128))
    plain.save(inky, dpi=(30, 30), icc_profile=MATT.read_bytes())
    code, said, _ = prepare(inky)
    assert code == 0
    assert "  profile  sRGB, 8 bits a channel" in said
    assert "because that is a printer's" in said
    sheet = sheets.pixels(out / f"{STEM}.tif")
    inked = sheet[(sheet != 255).any(-1)]
    assert len(inked) == 60 * 40
    assert (inked != 128).all()


# Several pages


def pages(path: Path) -> Path:
    """Three pages of 60 × 40 pixels, all red, all green, all blue, and a thumbnail of the first."""
    with tifffile.TiffWriter(path) as tiff:
        for number in range(3):
            values = np.zeros((40, 60, 3), np.uint8)
            values[..., number] = 255
            tiff.write(
                values, photometric="rgb", resolution=(30, 30), resolutionunit="inch", metadata=None
            )
            if number == 0:
                tiff.write(values[::4, ::4], photometric="rgb", subfiletype=1, metadata=None)
    return path


def moving(path: Path) -> Path:
    """Three frames, the same."""
    frames = [
        Image.new("RGB", (60, 40), colour) for colour in ((255, 0, 0), (0, 255, 0), (0, 0, 255))
    ]
    lossless = {"lossless": True} if path.suffix == ".webp" else {}
    frames[0].save(path, save_all=True, append_images=frames[1:], **lossless)
    return path


def test_a_file_of_several_pages_is_refused_with_their_number(refused, tmp_path):
    told = refused(pages(tmp_path / "scans.tif"), "--width", "2in")
    assert told == (
        "“scans.tif” has 3 pages, and a print is made of one: say which, from 1 to 3 (page=1 in "
        "open_picture, --page 1 on the command line)."
    )
    assert "has 3 frames" in refused(moving(tmp_path / "waves.gif"), "--width", "2in")


@pytest.mark.parametrize("name", ["scans.tif", "waves.gif", "waves.png", "waves.webp"])
@pytest.mark.parametrize("page", [1, 2, 3])
def test_one_of_several_pages_is_taken(facts, tmp_path, name, page):
    path = (pages if name == "scans.tif" else moving)(tmp_path / name)
    made = facts(path, "--page", page, "--width", "2in")
    colour = sheets.pixels(Path(made["file"]))[45, 60]
    assert list(colour) == [255 * (number == page) for number in (1, 2, 3)]


def test_a_page_that_is_not_there(refused, boat, tmp_path):
    scans = pages(tmp_path / "scans.tif")
    assert refused(scans, "--page", 4) == (
        "“scans.tif” has 3 pages, and no page 4: choose one that is there."
    )
    assert "“boat.png” has one page, and no page 2" in refused(boat, "--page", 2)
    assert "no page 0" in refused(scans, "--page", 0)


# What no file can state, and disks that fail


def test_a_picture_too_small_for_its_sheet_is_refused_before_anything_is_written(refused, tmp_path):
    dot = make.picture(tmp_path / "dot.png", size=(4, 3))
    assert refused(dot, "--fit") == (
        "4 × 3 pixels printed 2.667 in (67.7 mm) wide make 1.5 ppi, and a print file has at least 2: take a "
        "larger picture, or make the print smaller."
    )


def test_a_disk_that_turns_read_only_is_told_by_its_folder(prepare, boat, out, monkeypatch):
    from labkit.files.writing import part

    def read_only(*_, **__):
        raise OSError(30, "Read-only file system", "a.part")

    with monkeypatch.context() as disk:
        disk.setattr(part, "_name", read_only)
        disk.setattr(Path, "unlink", read_only)
        code, _, told = prepare(boat, "--fit")
    assert code == 2
    assert told == (
        f"labkit: {out} cannot be written to (read-only file system): choose another folder.\n"
    )


def test_the_old_file_is_kept_where_the_new_ticket_cannot_be_written(facts, prepare, boat, out):
    made = facts(boat, "--fit")
    file, ticket = Path(made["file"]), Path(made["ticket"])
    before = file.read_bytes()
    ticket.unlink()
    (ticket / "in the way").mkdir(parents=True)
    code, _, told = prepare(boat, "--fill", "--replace")
    assert (code, told.count("\n")) == (2, 1)
    assert file.read_bytes() == before
    assert {each.name for each in out.iterdir()} == {file.name, ticket.name}
