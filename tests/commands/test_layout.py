"""The command that lays prints out: what it says, what it writes, what it refuses."""

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.files.gang.gang import lay_out_prints
from labkit.files.gang.prints import read_prints
from labkit.geometry.length import length
from labkit.room.laying import medium_on_roll
from labkit.room.rules import load_room
from tests.files.gang.prints import finished
from tests.files.make import srgb

pytestmark = pytest.mark.usefixtures("warm")

ROOM = load_room()


@pytest.fixture
def files(tmp_path):
    return [
        finished(tmp_path, "Ada-Brook_Boat_8x10in", (8, 10)),
        finished(tmp_path, "Nia-Oak_Tide-1_5x7in", (5, 7), seed=1),
        finished(tmp_path, "Nia-Oak_Tide-2_5x7in", (5, 7), seed=2),
    ]


def layout(*words) -> int:
    return main(["layout", *map(str, words)])


def test_tells_pieces_cuts_paper_and_shares(files, capsys):
    assert layout(*files, "--roll", "24in", "--copies", "Boat=2") == 0
    told = capsys.readouterr().out
    assert "4 pieces on " in told
    assert "Boat (2 of 2)" in told
    assert "Cuts, in order:\n  1. " in told
    assert "leader 30 mm" in told
    assert "Nia Oak (1)" in told


def on_the_gang(made, box, ppi):
    left, top = box.left.pixels(ppi), box.top.pixels(ppi)
    return made[top : top + box.height.pixels(ppi), left : left + box.width.pixels(ppi)]


@pytest.mark.parametrize("depth", [8, 16])
@pytest.mark.parametrize("ways", [[], ["--one-file"]])
def test_every_pixel_of_every_piece_is_on_the_files_bit_for_bit(tmp_path, depth, ways):
    files = [
        finished(tmp_path, "Ada-Brook_Boat_8x10in", (8, 10), depth=depth),
        finished(tmp_path, "Nia-Oak_Tide_5x7in", (5, 7), seed=1, depth=depth),
        finished(tmp_path, "Leo-Fenn_Wall_20x6in", (20, 6), seed=2, depth=depth),
    ]
    out = tmp_path / "out"
    assert (
        layout(*files, "--roll", "24in", "--copies", "Tide=3", *ways, "--write", out, "--job", 7)
        == 0
    )
    prints, _ = read_prints(files, ROOM, copies={"Tide": 3})
    medium = medium_on_roll(ROOM, length("24in"))
    (gang,) = lay_out_prints(prints, medium, ROOM, gap=length("1/4in"), one_file=bool(ways))
    made = sorted(out.glob("job-7_prints*.tif"))
    assert len(made) == len(gang.runs)
    seen = turned = 0
    for run, file in zip(gang.runs, made, strict=True):
        sheet = tifffile.imread(file)
        assert sheet.shape[:2] == (gang.sheet(run).height.pixels(50), 24 * 50)
        for _, placed, box in gang.pieces_of(run):
            own = tifffile.imread(gang.by_name[placed.piece.name].picture.path)
            wanted = np.rot90(own, -1) if placed.turned else own
            assert np.array_equal(on_the_gang(sheet, box, 50), wanted)
            seen, turned = seen + 1, turned + placed.turned
    assert (seen, turned > 0) == (5, True)


def test_the_file_states_what_a_print_file_states(files, tmp_path):
    out = tmp_path / "out"
    layout(*files, "--roll", "24in", "--one-file", "--write", out, "--job", "7")
    (file,) = out.glob("*.tif")
    with tifffile.TiffFile(file) as tiff:
        page = tiff.pages[0]
        assert page.tags["XResolution"].value == (50, 1)
        assert page.tags[34675].value == srgb()
        assert "Tide 1, by Nia Oak" in page.tags["ImageDescription"].value


def test_slugs_and_marks_lie_outside_the_trims(files, tmp_path):
    """What is neither a piece nor white is a slug or a mark: black or grey, and there is some below
    every piece."""
    out = tmp_path / "out"
    layout(*files, "--roll", "24in", "--one-file", "--write", out)
    (file,) = out.glob("*.tif")
    sheet = tifffile.imread(file)
    prints, _ = read_prints(files, ROOM)
    (gang,) = lay_out_prints(
        prints, medium_on_roll(ROOM, length("24in")), ROOM, gap=length("1/4in"), one_file=True
    )
    rest, ppi = sheet.copy(), 50
    for _, _, box in gang.pieces_of(gang.runs[0]):
        on_the_gang(rest, box, ppi)[...] = 255
        low, left = box.bottom.pixels(ppi), box.left.pixels(ppi)
        assert sheet[low + 1 : low + 8, left + 4 : left + 150].min() < 100
    assert (rest[..., 0] == rest[..., 2]).all()


def test_the_page_to_work_from(files, tmp_path):
    out = tmp_path / "out"
    layout(*files, "--roll", "24in", "--write", out, "--job", "7")
    page = (out / "job-7_work-page.html").read_text()
    assert "<svg" in page
    assert "Cuts, in order" in page
    assert "job-7_prints" in page
    assert "£" in page
    assert 'src="' not in page  # nothing from elsewhere


SHORT = "18 in (457.2 mm) along the feed come out 0.036 in (0.9 mm) too short"
"""0.2 % of 18 in, which Bittern feeds too little of cotton matt 300; a cut may be off by 1/32 in."""


def test_a_printer_out_of_true_is_told_on_screen_and_page(tmp_path, capsys):
    """Three of 6 × 18 in lie upright beside each other; turned, one below another, they take more."""
    file = finished(tmp_path, "Leo-Fenn_Wall_6x18in", (6, 18), ppi=60)
    words = (
        "--roll",
        "24in",
        "--paper",
        "cotton matt 300",
        "--write",
        tmp_path / "out",
        "--job",
        "7",
    )
    assert layout(file, "--copies", "Wall=3", *words) == 0
    told = capsys.readouterr().out
    assert f"Bittern, roll, measured 2026-09-07: {SHORT}. Set that right at the printer" in told
    page = (tmp_path / "out" / "job-7_work-page.html").read_text()
    assert (
        f"<strong>Before you print:</strong> Bittern, roll, measured 2026-09-07: {SHORT}." in page
    )


def test_less_than_a_cut_may_be_off_is_not_told(files, capsys):
    """0.2 % of 10 in are 0.5 mm."""
    assert layout(*files, "--roll", "24in", "--paper", "cotton matt 300") == 0
    assert "along the feed" not in capsys.readouterr().out


def test_nothing_is_overwritten_unless_asked(files, tmp_path, capsys):
    out = tmp_path / "out"
    words = [*files, "--roll", "24in", "--write", out, "--job", "7"]
    assert layout(*words) == 0
    before = {file: file.read_bytes() for file in out.iterdir()}
    assert layout(*words) == 2
    assert "already exists" in capsys.readouterr().err
    assert {file: file.read_bytes() for file in out.iterdir()} == before
    assert layout(*words, "--replace") == 0


@pytest.mark.parametrize("cut", [0.5, 0.99])
def test_a_damaged_print_leaves_nothing_behind(files, tmp_path, capsys, cut):
    data = files[1].read_bytes()
    with tifffile.TiffFile(files[1]) as tiff:
        at = tiff.pages[0].dataoffsets[-1 if cut > 0.9 else 40]
    files[1].write_bytes(data[:at] + b"\xff" * 40 + data[at + 40 :])
    out = tmp_path / "out"
    assert layout(*files, "--roll", "24in", "--write", out) == 2
    assert "damaged" in capsys.readouterr().err
    assert list(out.iterdir()) == []


def test_other_kinds_of_file_come_along_bit_for_bit(tmp_path):
    """A PNG is decoded whole, not strip by strip."""
    values = np.random.default_rng(3).integers(0, 255, (200, 150, 3)).astype("u1")
    file = tmp_path / "card.png"
    Image.fromarray(values).save(file, dpi=(50, 50))
    out = tmp_path / "out"
    layout(file, "--sheet", "letter", "--write", out)
    (made,) = out.glob("*.tif")
    sheet = tifffile.imread(made)
    prints, _ = read_prints([file], ROOM)
    ppi = prints[0].picture.ppi[0]
    assert abs(float(ppi) - 50) < 0.1  # PNG counts pixels per metre
    found = [
        np.rot90(values, turn)
        for turn in (0, -1)
        if any(
            np.array_equal(sheet[y : y + w.shape[0], x : x + w.shape[1]], w)
            for w in [np.rot90(values, turn)]
            for y in range(4, 9)
            for x in range(4, 12)
        )
    ]
    assert len(found) == 1


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--roll", "20in"], "no roll of 20 in"),
        (["--roll", "24in", "--copies", "Boat"], "write it like --copies Boat=3"),
        (["--roll", "24in", "--copies", "Goat=2"], "no print is called “Goat”"),
        (["--sheet", "A4", "--max-length", "10ft"], "--max-length is for a roll"),
        (["--roll", "24in", "--gap", "3"], "the gap of “3” has no unit"),
        (["--roll", "24in", "--paper", "silk"], "no paper here is called “silk”"),
    ],
)
def test_refusals(files, capsys, words, told):
    assert layout(*files, *words) == 2
    assert told in capsys.readouterr().err


def test_what_the_greatest_length_leaves_out_is_named(files, capsys):
    words = ("--copies", "Boat=9", "--max-length", "2ft")
    assert layout(*files, "--roll", "24in", *words) == 1
    assert "No room is left for" in capsys.readouterr().out


def test_what_is_left_out_is_told_once_and_costs_nothing(tmp_path, files, capsys):
    walls = [
        finished(tmp_path, f"Leo-Fenn_Wall-{n}_30x9in", (30, 9), ppi=10, seed=n) for n in (1, 2)
    ]
    out = tmp_path / "out"
    stiff = ("--roll", "24in", "--max-length", "2ft", "--write", out)
    assert layout(*files, *walls, *stiff) == 1
    told = capsys.readouterr().out
    for text in (told, next(out.glob("*.html")).read_text(encoding="utf-8")):
        assert text.count("Left out:") == 1
        assert text.count("Wall 1 does not fit") == text.count("Wall 2 does not fit") == 1
    assert "£0.00" not in told


def test_a_ticket_of_a_shared_file_sends_to_the_page_to_work_from(files, tmp_path, capsys):
    out = tmp_path / "out"
    assert layout(*files, "--roll", "24in", "--one-file", "--write", out) == 0
    [made] = out.glob("*.tif")
    assert main(["ticket", str(made)]) == 0
    told = made.with_name(f"{made.stem}_ticket.html").read_text(encoding="utf-8")
    assert "3 prints lie on it: cut them apart" in told
    assert "Nothing to cut" not in told


def test_without_a_stock_all_of_it_is_compared(files, capsys):
    assert layout(*files, "--paper", "pearl 260") == 0
    told = capsys.readouterr().out
    assert told.startswith("Compared, the cheapest first:\n  paper")
    assert "Cheapest on pearl 260: " in told
    assert "Cuts, in order:" in told
