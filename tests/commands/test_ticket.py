"""The command line: a ticket for any finished file, and what ``prepare`` says of a finished sheet."""

import html
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image

from labkit.__main__ import main
from labkit.teaching.pictures import demo_pictures
from tests.files import sheets

pytestmark = pytest.mark.usefixtures("warm")

STEM = "Ada-Brook_Boat_letter"


@dataclass(frozen=True)
class Told:
    """What a run said, and its exit code."""

    code: int
    out: str
    err: str


def photo(folder: Path, size: tuple[int, int] = (2250, 1500)) -> Path:
    """One of our pictures in so many pixels, alone."""
    with Image.open(demo_pictures()[0].file) as shown:
        return sheets.save(shown.convert("RGB").resize(size), folder / "photo.tif")


@pytest.fixture(scope="module")
def letter(tmp_path_factory) -> Path:
    """By another program: 2250 × 1500 pixels, 7 1/2 × 5 in, 1/2 in from three edges of a letter."""
    sheet = Image.new("RGB", (2550, 3300), "white")
    with Image.open(photo(tmp_path_factory.mktemp("photo"))) as shown:
        sheet.paste(shown, (150, 150))
    return sheets.save(sheet, tmp_path_factory.mktemp("made") / f"{STEM}.tif")


@pytest.fixture
def run(capsys):
    """Run a command in this process."""

    def run(*given) -> Told:
        code = main([str(each) for each in given])
        said = capsys.readouterr()
        return Told(code, said.out, said.err)

    return run


def test_it_tells_the_tone_step_that_a_finished_file_states(run, tmp_path):
    made = tmp_path / "made"
    asked = ("--sheet", "letter", "--lighter", "4", "--by", "lightness")
    named = ("--owner", "Ada Brook", "--title", "Boat")
    assert run("prepare", photo(tmp_path), *asked, *named, "--out", made).code == 0
    assert run("ticket", made / f"{STEM}.tif", "--replace").code == 0
    told = words(made / f"{STEM}_ticket.html")
    assert "The picture had been made 4 L* units lighter at middle grey before." in told


def words(ticket: Path) -> str:
    text = re.sub(r"<style>.*?</style>", "", ticket.read_text(encoding="utf-8"), flags=re.S)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text)))


def test_a_file_of_another_program_gets_the_ticket_of_what_was_measured(letter, run, tmp_path):
    before = letter.read_bytes()
    order = ("--copies", 3, "--paper", "pearl 260", "--course", "Photo 2", "--due", "2031-05-12")
    made = run("ticket", letter, *order, "--out", tmp_path)
    assert (made.code, made.err) == (0, "")
    for line in (
        r"  job      \d{6}-[2-9A-HJ-NP-Z]{5}",
        "  printer  Heron, sheet feed",
        "  paper    pearl 260, letter",
        "  price    £4.80 for 3 prints",
    ):
        assert re.search(f"^{line}$", made.out, re.M), made.out
    text = words(tmp_path / f"{STEM}_ticket.html")
    for told in (
        "Boat Ada Brook",
        "Copies 3",
        "Course Photo 2",
        "Due 2031-05-12",
        "Price £4.80",
        "Paper used 3 sheets",
        # 7 1/2 × 5 in, 1/2 in from three edges: one cut at 6 in
        "Picture 7 1/2 × 5 in",
        "left 1/2 in 12.7 mm",
        "bottom 5 1/2 in 139.7 mm",
        "One cut 6 in (152.4 mm) from the top edge leaves equal borders all round.",
        "Finished size 8 1/2 × 6 in",
        "media setting “Pearl”",
        "Dries for 12 hours",
    ):
        assert told in text, told
    assert letter.read_bytes() == before


def test_a_ticket_lies_beside_its_file_and_takes_no_others_place(letter, run):
    ticket = letter.with_name(f"{STEM}_ticket.html")
    assert run("ticket", letter).code == 0
    first = ticket.read_bytes()
    again = run("ticket", letter, "--copies", 9)
    assert again.code == 2
    assert "already exists" in again.err
    assert ticket.read_bytes() == first
    assert run("ticket", letter, "--copies", 9, "--replace").code == 0
    assert "Copies 9" in words(ticket)
    ticket.unlink()


def test_what_prepare_wrote_has_the_same_number_and_measures_on_a_ticket(letter, run, tmp_path):
    given = (
        "--sheet",
        "letter",
        "--width",
        "7 1/2in",
        "--at",
        "even-three",
        "--owner",
        "Ada Brook",
    )
    made = run("prepare", photo(tmp_path), *given, "--title", "Boat", "--out", tmp_path / "made")
    file = tmp_path / "made" / f"{STEM}.tif"
    told = run("ticket", file, "--out", tmp_path / "again")
    job = re.compile(r"job +(\S+)")
    assert job.search(made.out)[1] == job.search(told.out)[1]
    one, other = (words(tmp_path / folder / f"{STEM}_ticket.html") for folder in ("made", "again"))
    for part in (
        "At the printer.*Copies printed",
        "Picture 7 1/2.*? mm",
        "Measure before.*as marked",
    ):
        assert re.search(part, one)[0] == re.search(part, other)[0]


def test_a_paper_not_kept_in_the_size_is_told_with_those_that_are(letter, run, tmp_path):
    made = run("ticket", letter, "--paper", "rag board 450", "--out", tmp_path)
    assert "look     “rag board 450” is not kept in letter" in made.out
    assert "cotton matt 300 (£2.40), pearl 260 (£1.60), plain 120 (£0.30)" in made.out
    assert "price    not priced" in made.out
    assert "which is not kept here" in words(tmp_path / f"{STEM}_ticket.html")


def test_what_is_not_to_be_printed_as_it_is_has_no_ticket(letter, run, tmp_path):
    pages = tmp_path / "pages.tif"
    small = Image.new("RGB", (300, 300), "navy")
    small.save(pages, save_all=True, append_images=[small, small], dpi=(300, 300))
    alone = photo(tmp_path, (900, 600))
    for file, told in (
        (
            pages,
            "“pages.tif” has 3 pages, and a print is made of one: say which with --page N, from 1 to 3",
        ),
        (tmp_path / "none.tif", "none.tif cannot be printed as it is. "),
        (alone, "The file is the picture alone, 3 × 2 in"),
    ):
        made = run("ticket", file)
        assert (made.code, made.out) == (2, "")
        assert told in made.err, made.err
    assert not list(tmp_path.glob("*ticket.html"))
    several = run("ticket", letter, pages, "--out", tmp_path)
    assert several.code == 2
    assert STEM in several.out
    assert "3 pages" in several.err
    assert run("ticket", letter, "--paper", "velvet").err.startswith(
        "labkit: no paper here is called"
    )


def test_one_page_of_several_has_a_ticket_of_its_own(letter, run, tmp_path):
    """The first is a small picture, the second the finished sheet; there is no third."""
    pages = tmp_path / "Ada-Brook_Pages_letter.tif"
    with Image.open(letter) as sheet:
        first, kept = (
            Image.new("RGB", (300, 300), "navy"),
            {"icc_profile": sheet.info["icc_profile"]},
        )
        first.save(pages, save_all=True, append_images=[sheet], dpi=(300, 300), **kept)
    made = run("ticket", pages, "--page", 2)
    assert (made.code, made.err) == (0, "")
    assert "look     This is page 2 of 2: print that one." in made.out
    text = words(tmp_path / "Ada-Brook_Pages_letter_ticket.html")
    assert "Picture 7 1/2 × 5 in" in text
    assert "This is page 2 of 2" in text
    assert "has 2 pages, and no page 3" in run("ticket", pages, "--page", 3, "--replace").err


def test_whole_tells_the_picture_inside_the_sheet(letter, run, tmp_path):
    made = run("prepare", letter, "--sheet", "letter", "--whole", "--out", tmp_path)
    assert "  picture  7 1/2 in (190.5 mm) wide, 5 in (127 mm) high" in made.out
    assert "  bottom   5 1/2 in (139.7 mm)" in made.out
    assert "Finished size 8 1/2 × 6 in" in words(tmp_path / f"{STEM}_ticket.html")


def test_a_finished_sheet_placed_as_a_picture_is_told(letter, run, tmp_path):
    made = run("prepare", letter, "--sheet", "A4", "--fit", "--out", tmp_path)
    assert made.code == 0
    assert (
        "look     The picture is a finished sheet of letter, with white borders of its own"
        in made.out
    )
    assert "bottom 5 1/2 in (139.7 mm)" in made.out
    assert "--whole" in made.out


def test_the_cuts_of_a_finished_file_to_the_widest_border(letter, run, tmp_path):
    """7 1/2 × 5 in at 1/2 in from three edges of 8 1/2 × 11 in, 1/4 in more below: one cut, at 1/2 + 5 +
    3/4 in."""
    told = run("ticket", letter, "--cut-to", "widest", "--below", "1/4in", "--out", tmp_path)
    assert told.code == 0
    text = words(tmp_path / f"{STEM}_ticket.html")
    assert "Bottom: cut 6 1/4 in (158.8 mm) from the top edge of the sheet" in text
    assert "Finished size 8 1/2 × 6 1/4 in" in text


def test_cuts_that_cannot_be_made_leave_no_ticket(letter, run, tmp_path):
    for given, told in (
        (("--cut-to", "1in"), "no room for these borders"),
        (("--below", "1/4in"), "give the border as well"),
        (("--cut-to", "1/2in", "--below", "some"), "is not a length"),
    ):
        said = run("ticket", letter, *given, "--out", tmp_path)
        assert said.code == 2
        assert told in said.err
    assert list(tmp_path.iterdir()) == []


def test_a_border_short_by_less_than_a_pixel_is_not_short(run, tmp_path):
    """At 100 ppi 236 px are 59.94 mm. Round a picture 591 px wide on A4 20 mm of white are 79 px; the 78
    px on the left are 0.19 mm short, less than a pixel, which is 0.254 mm."""
    sheet = Image.new("RGB", (827, 1169), "white")
    with Image.open(photo(tmp_path)) as shown:
        sheet.paste(shown.resize((591, 600)), (78, 100))
    file = sheets.save(sheet, tmp_path / "Ada-Brook_Boat_A4.tif", ppi=100)
    assert run("ticket", file, "--cut-to", "20mm").code == 0
    assert "short on the left" in run("ticket", file, "--cut-to", "20.1mm", "--replace").err
