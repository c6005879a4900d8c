"""The command line: a ruler sheet written, its measures read, and kept in the room's own file."""

import json
import re
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from html import unescape
from pathlib import Path

import numpy as np
import pytest
import tifffile

from labkit.__main__ import main
from labkit.drawing.pages.ruler import ruler_page
from labkit.files.header.reading import read_picture
from labkit.geometry.length import inches, length
from labkit.room.measures import errors_of
from labkit.room.rules import SHIPPED, load_room
from labkit.room.ruling import ruling_on_roll, ruling_on_sheet
from tests.files import make
from tests.files.scanned import Warp, read_marks, scan

pytestmark = pytest.mark.usefixtures("warm")

LETTER = ("--sheet", "letter", "--paper", "plain 120")
STEM = "Quillmarsh-College-Print-Room_Ruler-Heron-sheet-feed-plain-120_letter"
ROOM = load_room()


@dataclass(frozen=True)
class Told:
    """What a run said, and its exit code."""

    code: int
    out: str
    err: str


@pytest.fixture
def run(capsys):
    """Run a command in this process."""

    def run(*given) -> Told:
        code = main([str(each) for each in given])
        said = capsys.readouterr()
        return Told(code, said.out, said.err)

    return run


@pytest.fixture
def own_room(own_folder) -> Path:
    """A room file of the reader's own."""
    file = own_folder / "room.toml"
    file.write_bytes(SHIPPED.read_bytes())
    return file


def three(**measures) -> list[str]:
    """The same figures three times."""
    given = []
    for name, figure in measures.items():
        given += [f"--{name.replace('_', '-')}", *[figure] * 3]
    return given


# Written


def test_a_ruler_sheet_is_a_print_file_of_exactly_the_sheet(run, tmp_path):
    """8 1/2 × 11 in at 254 ppi: 2159 × 2794 pixels."""
    told = run("ruler", *LETTER, "--out", tmp_path)
    assert told.code == 0
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        f"{STEM}.tif",
        f"{STEM}_measure.html",
    ]
    facts = read_picture(tmp_path / f"{STEM}.tif")
    assert (facts.pixels, facts.ppi, facts.colours) == ((2159, 2794), (254, 254), "RGB")
    assert facts.size == (inches("8.5"), inches(11))
    page = (tmp_path / f"{STEM}_measure.html").read_text(encoding="utf-8")
    assert "3 times, at 100 %" in page
    assert "8 in or 200 mm" in page
    assert 'labkit ruler read --sheet letter --printer "Heron" --paper "plain 120"' in unescape(
        page
    )


def test_the_end_lines_in_the_file_are_whole_pixels_apart(run, tmp_path):
    """Inches above the bar across: the first and last columns of ink, 4 pixels thick, 8 × 254 apart."""
    run("ruler", *LETTER, "--out", tmp_path)
    ruler = ruling_on_sheet(ROOM, "letter", paper="plain 120").ruler
    row = tifffile.imread(tmp_path / f"{STEM}.tif")[ruler.across_at.pixels(254) - 30, :, 0]
    inked = np.flatnonzero(row == 0)
    assert inked[-4] - inked[0] == 8 * 254
    assert inked[0] + 2 == ruler.across.start.pixels(254)


def test_nothing_is_overwritten(run, tmp_path):
    run("ruler", *LETTER, "--out", tmp_path)
    before = (tmp_path / f"{STEM}.tif").read_bytes()
    taken = run("ruler", *LETTER, "--out", tmp_path).err
    assert "already exists" in taken
    assert "title" not in taken
    assert (tmp_path / f"{STEM}.tif").read_bytes() == before
    assert run("ruler", *LETTER, "--out", tmp_path, "--replace").code == 0


# Read


def test_a_sheet_scaled_to_the_printable_area(run):
    """(330.2 - 8) / 330.2 of 12 in is 11.709 in, of 18 in 17.564 in."""
    told = run("ruler", "read", "--sheet", "13x19in", *three(across="11.71in", along="17.56in"))
    assert told.code == 1
    assert "across   97.58 % ± 0.12 %" in told.out
    assert "Likely: scaled to the printable area" in told.out
    assert "100 %" in told.out


def test_the_unit_says_which_side_of_the_bar_was_read(run):
    """310 mm is where the millimetres end on 13 in: 302.5 / 310 = 97.58 %."""
    told = run("ruler", "read", "--sheet", "13x19in", *three(across="302.5mm", along="448.9mm"))
    assert "across   97.58 % ± 0.11 %" in told.out


def test_nothing_to_mend(run):
    sound = three(
        across="8in", along="10in", left="1in", right="1in", top="25.5mm", bottom="25.4mm"
    )
    told = run("ruler", "read", *LETTER, *sound)
    assert told.code == 0
    assert "Nothing to mend" in told.out
    assert "offset   0.1 mm down where the print begins ± 0.35 mm (not more than can" in told.out
    assert "sheet    0.1 mm longer than its name" in told.out


@pytest.mark.parametrize(
    "given",
    [
        ["11.71in", "11.72in", "11.71in"],
        ["11.71", "in", "11.72", "in", "11.71", "in"],
        ["11.71 in 11.72 in 11.71 in"],
        ["11.71 in, 11.72 in,", "11.71 in."],
        ["11 71/100", "in", "11,72in", '11.71"'],
        ["11.71in. 293/25 in 1171/100in"],
    ],
)
def test_a_figure_and_its_unit_may_stand_apart(run, given):
    along = ["--along", "17.56in", "17.57in", "17.56in"]
    told = run("ruler", "read", "--sheet", "13x19in", "--across", *given, *along)
    assert "3 prints measured" in told.out
    assert "across   97.61 % ± 0.12 %" in told.out


def test_one_print_is_not_enough_to_change_anything(run):
    told = run("ruler", "read", *LETTER, "--across", "7.9in", "--along", "9.9in")
    assert "Print and measure 3 before you change anything" in told.out


def test_a_feed_error_alone_is_no_offset(run):
    """0.48 % on 19 in: a mark at 1 in comes out at 0.995 in, one at 18 in at 17.914 in, 1.086 in from the
    far edge. Nothing about loading or an offset, and none is kept."""
    feed = three(across="12in", along="17.914in", top="0.995in", bottom="1.086in")
    told = run("ruler", "read", "--sheet", "13x19in", *feed)
    assert "Likely: the feed" in told.out
    assert "loaded" not in told.out
    assert "offset   0.01 mm" in told.out


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (["--along", "10in"], "--across is missing"),
        (["--across", "8in", "--along", "10in", "10in"], "1 of --across, 2 of --along"),
        (["--across", "8in", "--along", "10"], "has no unit"),
        (["--across", "8", "8in", "--along", "10in"], "2 of --across"),
        (["--across", "8", "8", "--along", "10in", "10in"], "--across of “8” has no unit"),
        (["--across", "8mm", "--along", "10in"], "check the unit"),
        (
            ["--across", "8in", "--along", "10in", "--left", "25in", "--right", "1in"],
            "check the unit",
        ),
        (
            ["--across", "8in", "--along", "10in", "--left", "10mm"],
            "--left alone says nothing, for paper may be cut a little large: measure --right or --left-below",
        ),
        (["--across", "8in", "--along", "10in", "--top", "1in"], "measure --bottom as well"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(run, given, told):
    said = run("ruler", "read", *LETTER, *given)
    assert said.code == 2
    assert told in said.err


def test_measures_without_the_word_read_are_no_wish_to_write(run, tmp_path):
    said = run("ruler", *LETTER, "--out", tmp_path, "--across", "8in")
    assert "labkit ruler read" in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "warp",
    [
        Warp(),
        Warp(across=0.9758, along=0.9758, down=3.4),
        Warp(across=1.0, along=0.996, right=0.8, down=-1.2),
        Warp(across=1.002, along=1.0, right=-0.5, slope=0.004),
    ],
    ids=["true", "scaled", "feed", "askew"],
)
def test_a_synthetic_scan_reads_back_what_was_done_to_it(warp):
    """The sheet rendered, warped by Pillow, its marks read and entered. To a tenth of what a hand sees:
    0.02 % of scale, 0.05 mm of offset, 0.1 mm of skew over the sheet."""
    ruling = ruling_on_sheet(ROOM, "letter", paper="plain 120")
    read = read_marks(scan(ruling.ruler, warp), ruling.ruler)
    errors = errors_of({name: [figure] for name, figure in read.items()}, ruling)
    assert float(errors.across.mean) == pytest.approx(warp.across - 1, abs=2e-4)
    assert float(errors.along.mean) == pytest.approx(warp.along - 1, abs=2e-4)
    assert float(errors.skew.mean) == pytest.approx(warp.slope, abs=0.1 / 228.6)
    upright = warp.slope == 0
    if upright:  # marks above lean away with the print
        assert float(errors.offset_across.mean) * 25.4 == pytest.approx(warp.right, abs=0.05)
        assert float(errors.offset_along.mean) * 25.4 == pytest.approx(warp.down, abs=0.05)


def test_a_roll_says_why_its_ends_are_not_read(run, tmp_path):
    """Also where somebody measured them."""
    bars = three(across="23in", along="39in", top="1in", bottom="1in")
    told = run("ruler", "read", "--roll", "24in", *bars)
    assert "Offset along the feed is not read of a roll" in told.out
    assert "offset " not in told.out
    assert "not read of a roll" not in run("ruler", "read", *LETTER, *OFF).out
    ruling = ruling_on_roll(ROOM, inches(24))
    assert "Offset along the feed is not read of a roll" in ruler_page(ruling, ROOM, "ruler.tif")
    letter = ruling_on_sheet(ROOM, "letter", paper="plain 120")
    assert "not read of a roll" not in ruler_page(letter, ROOM, "ruler.tif")


def test_the_figures_as_json(run, own_room):
    """7.98 of 8 in is 0.25 % short; 26 mm on the left and 25 on the right, so 0.5 mm to the right."""
    told = run("ruler", "read", *LETTER, *OFF, "--json", "--keep")
    assert told.code == 1
    facts = json.loads(told.out)
    assert (facts["printer"], facts["path"], facts["paper"]) == ("Heron", "sheet", "plain 120")
    assert (facts["stock"], facts["prints"], facts["enough"]) == ("letter", 3, True)
    assert facts["across"]["mean"] == pytest.approx(-0.0025)
    assert facts["across"]["values"] == [facts["across"]["mean"]] * 3
    assert facts["offset_across"]["mean"] == pytest.approx(0.5)
    assert facts["offset_across"]["doubt"] == pytest.approx(0.25 + 0.0025 * 107.95)
    assert (facts["across"]["is_seen"], facts["offset_along"], facts["skew"]) == (True, None, None)
    assert all(each["name"] and each["mend"] for each in facts["causes"])
    assert facts["kept"]["date"] == date.today().isoformat()
    assert load_room(own_room).settings != ROOM.settings


def test_json_of_what_cannot_be_kept_is_a_refusal_and_no_figures(run, own_room):
    said = run(
        "ruler", "read", *LETTER, "--across", "7.98in", "--along", "9.98in", "--json", "--keep"
    )
    assert (said.code, said.out) == (2, "")
    assert "--json is for what was measured" in run("ruler", *LETTER, "--json").err


# Kept


OFF = three(across="7.98in", along="9.98in", left="26mm", right="25mm")


def test_it_is_kept_with_its_date_and_the_file_as_it_was(run, own_room):
    before = own_room.read_text(encoding="utf-8")
    told = run("ruler", "read", *LETTER, *OFF, "--keep")
    assert told.code == 1
    room = load_room(own_room)
    (setting,) = (
        each for each in room.settings if (each.paper, each.path) == ("plain 120", "sheet")
    )
    measured = setting.measured
    assert (measured.date, measured.across) == (date.today(), Fraction("0.9975"))
    assert (measured.along, measured.offset_across) == (Fraction("0.998"), length("0.5mm"))
    kept = own_room.with_name(f"room.before-{date.today()}.toml")
    assert kept.name in told.out
    assert kept.read_text(encoding="utf-8") == before
    notes = re.compile(r"^\s*#.*$", re.M)
    assert notes.findall(own_room.read_text(encoding="utf-8")) == notes.findall(before)


def test_a_second_time_keeps_both_earlier_files(run, own_room):
    for _ in range(2):
        run("ruler", "read", *LETTER, *OFF, "--keep")
    names = sorted(each.name for each in own_room.parent.glob("room.before*"))
    assert names == [f"room.before-{date.today()}-2.toml", f"room.before-{date.today()}.toml"]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (three(across="7.70in", along="9.63in"), "scaled to the printable area"),
        (["--across", "7.98in", "--along", "9.98in"], "print and measure 3"),
    ],
)
def test_what_is_a_setting_or_too_little_is_not_kept(run, own_room, given, told):
    before = own_room.read_bytes()
    said = run("ruler", "read", *LETTER, *given, "--keep")
    assert said.code == 2
    assert told in said.err  # (215.9 - 8) / 215.9 = 0.963
    assert own_room.read_bytes() == before
    assert [each.name for each in own_room.parent.iterdir()] == ["room.toml"]


def test_the_room_that_comes_with_the_package_is_never_changed(run):
    before = SHIPPED.read_bytes()
    assert "room new" in run("ruler", "read", *LETTER, *OFF, "--keep").err
    assert SHIPPED.read_bytes() == before


def test_a_roll_says_nothing_of_its_ends():
    ruling = ruling_on_roll(ROOM, inches(44))
    sides = {"across": ["43in"], "along": ["39in"], "top": ["1in"], "bottom": ["1in"]}
    assert errors_of(sides, ruling).offset_along is None


def test_what_was_kept_is_told_of_the_next_print_whose_file_stays_as_it_is(
    run, own_room, tmp_path, warm
):
    """0.5 % along the feed: 9.95 in of 10. On 6 in, the picture's height, 0.8 mm is not more than 1/32 in;
    on 9 in it is 0.045 in, 1.1 mm."""
    picture = make.picture(tmp_path / "pier.png", size=(200, 300))
    order = ("--sheet", "letter", "--paper", "plain 120", "--owner", "Ada", "--title")
    before = run("prepare", picture, *order, "Before", "--height", "9in", "--out", tmp_path)
    assert run("ruler", "read", *LETTER, *three(across="8in", along="9.95in"), "--keep").code == 1
    after = run("prepare", picture, *order, "After", "--height", "9in", "--out", tmp_path)
    told = "9 in (228.6 mm) along the feed come out 0.045 in (1.1 mm) too short"
    assert told not in before.out
    assert told in " ".join(after.out.split())
    one, other = (
        tifffile.imread(tmp_path / f"Ada_{name}_letter.tif") for name in ("Before", "After")
    )
    assert np.array_equal(one, other)
    small = run("prepare", picture, *order, "Small", "--height", "6in", "--out", tmp_path)
    assert "come out" not in small.out
    ticket = run("ticket", tmp_path / "Ada_After_letter.tif", "--paper", "plain 120", "--replace")
    assert told in " ".join(ticket.out.split())
