"""``log``: what was printed goes into the record, is summed up, and is printed again."""

import json
import re
from datetime import date
from decimal import Decimal

import pytest
import tifffile
from PIL import Image

from labkit.__main__ import main
from labkit.files.record.record import read_record
from labkit.job.log import fingerprint
from labkit.room.rules import load_room
from tests.files import make, sheets
from tests.files.gang.prints import finished

pytestmark = pytest.mark.usefixtures("warm")

STEM = "Ada-Brook_Boat_A4"


@pytest.fixture
def print_file(tmp_path):
    """A sheet of A4 at 100 ppi with a picture in its middle; low in ppi, which a person may print."""
    sheet = Image.new("RGB", (827, 1169), "white")
    sheet.paste(make.drawing((600, 400)), (113, 384))
    file = tmp_path / f"{STEM}.tif"
    sheet.save(file, compression="tiff_lzw", dpi=(100, 100), icc_profile=make.srgb())
    return file


@pytest.fixture
def log(tmp_path, capsys):
    """Run an action of the command; its exit code, what it said, and what it complained of."""

    def run(action, *given):
        code = main(["log", action, *map(str, given), "--record", str(tmp_path / "record.csv")])
        said = capsys.readouterr()
        return code, said.out, said.err

    return run


@pytest.fixture
def entries(tmp_path):
    return lambda: read_record(tmp_path / "record.csv")


def test_good_and_spoiled_prints_are_a_line_each(print_file, log, entries):
    given = "--copies", 3, "--spoiled", 1, "--why", "head strike", "--course", "Photo 2"
    code, said, _ = log("add", print_file, *given, "--date", "2031-05-12")
    assert code == 0
    assert said.splitlines()[-1].endswith("record.csv: 2 lines added.")
    good, spoiled = entries()
    assert (good.owner, good.title, good.size, good.course) == (
        "Ada Brook",
        "Boat",
        "A4",
        "Photo 2",
    )
    assert (good.copies, good.date, good.result) == (3, date(2031, 5, 12), "good")
    assert (spoiled.copies, spoiled.why, spoiled.waste_m2) == (1, "head strike", spoiled.area_m2)
    assert good.job == spoiled.job
    assert good.job.startswith("310512-")


def test_paper_and_price_are_those_of_the_ticket(print_file, log, entries):
    """A4 is 0.210 × 0.297 m, so two sheets are 0.1247 m²."""
    log("add", print_file, "--copies", 2, "--paper", "pearl 260")
    (line,) = entries()
    paper = load_room().paper("pearl 260")
    each = next(kept.price for kept in paper.sheets if kept.sheet.label == "A4")
    assert line.price == each * 2
    assert line.area_m2 == Decimal("0.1247")
    assert line.printer


def test_totals_of_a_term(print_file, log):
    log("add", print_file, "--course", "Photo 2", "--copies", 2, "--date", "2031-05-12")
    log("add", print_file, "--course", "Photo 2", "--date", "2031-06-01")
    head, row = log("show", "--by", "course")[1].splitlines()
    assert head.split()[:3] == ["course", "prints", "spoiled"]
    assert row.split()[:4] == ["Photo", "2", "3", "0"]
    assert " 1  " in log("show", "--since", "2031-06-01")[1]
    assert "nothing was printed since 2032-01-01" in log("show", "--since", "2032-01-01")[1]


def test_spoiled_prints_are_priced_apart(print_file, log):
    """A4 of cotton matt 300 costs £2.40: two good ones £4.80, three spoiled ones £7.20."""
    given = "--copies", 2, "--spoiled", 3, "--why", "ink", "--paper", "cotton matt 300"
    log("add", print_file, *given, "--course", "Photo")
    every, spoiled, _, head, row, plain = log("show", "--all")[1].splitlines()
    assert "£4.80" in every
    assert "£7.20" in spoiled
    assert head.split("  ")[-1].strip() == "without a price"
    assert row.split()[-2:] == ["£4.80", "£7.20"]
    assert plain.endswith("is the room's loss.")


def test_a_job_is_printed_again_by_its_number(print_file, log, entries, tmp_path):
    log("add", print_file, "--copies", 2, "--paper", "pearl 260", "--course", "Photo 2")
    number = entries()[0].job
    code, said, _ = log("again", number.lower())
    assert (code, said.strip()) == (0, str(tmp_path / f"{STEM}_ticket.html"))
    page = (tmp_path / f"{STEM}_ticket.html").read_text(encoding="utf-8")
    assert number in page
    assert "pearl 260" in page


def test_a_file_saved_since_is_told(print_file, log, entries):
    log("add", print_file, "--date", "2031-05-12")
    with Image.open(print_file) as image:
        image.load()
        kept = {"compression": "tiff_lzw", "dpi": (100, 100), "icc_profile": make.srgb()}
        image.transpose(Image.Transpose.FLIP_LEFT_RIGHT).save(print_file, **kept)
    code, said, _ = log("again", entries()[0].job)
    assert code == 1
    assert f"{STEM}.tif is not the file that was printed on 2031-05-12" in said


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (["--copies", 0], "0 good and 0 spoiled prints make no line"),
        (["--spoiled", 1], "say with --why what spoiled them"),
        (["--date", "12.5.31"], "--date is “12.5.31”: give a day as in 2031-05-12."),
        (["--paper", "vellum"], "no paper here is called “vellum”"),
    ],
)
def test_what_makes_no_line_is_refused_and_nothing_is_written(
    print_file, log, entries, given, sentence
):
    code, _, complaint = log("add", print_file, *given)
    assert code == 2
    assert sentence in complaint
    assert entries() == ()


def test_an_unknown_number_and_a_file_that_is_gone_are_refused(print_file, log, entries):
    complained = log("again", "310512-ABCDE")[2]
    assert "the record has no job 310512-ABCDE: `labkit log show --all` lists" in complained
    log("add", print_file)
    print_file.unlink()
    assert "is not there any more: say with --file" in log("again", entries()[0].job)[2]


def test_a_picture_that_is_no_sheet_was_not_printed_as_one(tmp_path, log, entries):
    picture = make.picture(tmp_path / "boat.png")
    assert "“boat.png” is no finished sheet" in log("add", picture)[2]
    assert entries() == ()


def test_the_papers_of_a_job_are_told_apart(print_file, log, entries, tmp_path):
    for paper, copies in (("pearl 260", 3), ("cotton matt 300", 1)):
        log("add", print_file, "--paper", paper, "--copies", copies, "--date", "2031-05-12")
    number = entries()[0].job
    code, _, complained = log("again", number)
    assert code == 2
    assert "--paper, “pearl 260” or “cotton matt 300”" in complained
    assert log("again", number, "--paper", "Pearl 260")[0] == 0
    told = (tmp_path / f"{STEM}_ticket.html").read_text()
    assert "pearl 260" in told
    assert "cotton matt 300" not in told
    assert re.search(r"Copies(\s|<[^>]+>)*3\b", told)


def test_a_number_of_another_day_finds_the_job(print_file, log, entries):
    log("add", print_file, "--date", "2031-05-12")
    signs = entries()[0].job.partition("-")[2]
    code, said, _ = log("again", f"310513-{signs}")
    assert code == 0
    assert f"The record has this file as job 310512-{signs}." in said
    log("add", print_file, "--date", "2031-05-20")
    complained = log("again", f"310513-{signs}")[2]
    assert f"say which, 310512-{signs} or 310520-{signs}" in complained


def test_copies_that_the_record_has_already_are_told_and_added(print_file, log, entries):
    assert "look" not in log("add", print_file, "--copies", 2, "--date", "2031-05-12")[1]
    code, said, _ = log("add", print_file, "--date", "2031-05-13")
    assert code == 0
    assert "the record had 2 copies of Boat" in said
    assert "2031-05-12" in said
    assert [each.copies for each in entries()] == [2, 1]
    log("add", print_file, "--paper", "pearl 260")
    assert "look" not in log("add", print_file, "--spoiled", 1, "--copies", 0, "--why", "ink")[1]


@pytest.mark.parametrize(("rows", "left"), [(",1\n", 0), (",1\n{0},pearl 260,1\n", 1)])
def test_day_counts_a_print_on_any_paper_where_none_is_asked_for(
    print_file, log, tmp_path, capsys, rows, left
):
    """Printed on pearl: that is the job without a paper, unless another job of the file asks for pearl."""
    (tmp_path / "jobs.csv").write_text(
        f"file,paper,copies\n{STEM}.tif," + rows.format(f"{STEM}.tif")
    )
    log("add", print_file, "--paper", "pearl 260")
    main(["day", str(tmp_path), "--record", str(tmp_path / "record.csv"), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert len(told["printed"]) == 1
    assert len(told["ask"]) == left


# Prints that share a file


@pytest.fixture
def shared(tmp_path, log, capsys):
    """A print file of a 4 × 5 in and two of a 3 × 4 in, named in mm; their own files, and what was told."""
    files = [
        finished(tmp_path, "Ada-Brook_Boat_4x5in", (4, 5), ppi=100),
        finished(tmp_path, "Nia-Oak_Tide_76x102mm", (3, 4), seed=1, ppi=100),
    ]
    words = "--roll", "17in", "--paper", "pearl 260", "--copies", "Tide=2", "--job", "T1"
    assert main(["layout", *map(str, (*files, *words, "--write", tmp_path / "out"))]) == 0
    told = capsys.readouterr().out
    (file,) = (tmp_path / "out").glob("*.tif")
    return file, files, told


def test_prints_that_share_a_file_are_booked_to_their_people(shared, log, entries):
    """The shares are those that were told when they were laid out, and add up to the price of the paper."""
    file, (ada_file, nia_file), told = shared
    assert log("add", file, "--course", "Photo 2")[0] == 0
    ada, nia = entries()
    assert {ada.paper, nia.paper} == {"pearl 260"}
    assert (ada.owner, ada.title, ada.size, ada.copies) == ("Ada Brook", "Boat", "4x5in", 1)
    assert (nia.owner, nia.title, nia.size, nia.copies) == ("Nia Oak", "Tide", "76x102mm", 2)
    assert (ada.fingerprint, nia.fingerprint) == (fingerprint(ada_file), fingerprint(nia_file))
    assert ada.job == nia.job
    assert float(nia.area_m2 / ada.area_m2) == pytest.approx(24 / 20, rel=0.01)
    for line in (ada, nia):
        assert re.search(rf"£{line.price}  {line.title}, {line.owner}", told)
    _, *rows = log("show", "--by", "owner")[1].splitlines()
    assert [row.split()[:3] for row in rows] == [["Ada", "Brook", "1"], ["Nia", "Oak", "2"]]


def test_on_another_paper_its_price_is_shared_by_area(shared, log, entries, tmp_path):
    log(
        "add",
        shared[0],
        "--paper",
        "cotton matt 300",
        "--copies",
        2,
        "--spoiled",
        1,
        "--why",
        "ink",
    )
    ada, nia, *spoiled = entries()
    assert (ada.copies, nia.copies) == (2, 4)
    assert [(each.copies, each.waste_m2) for each in spoiled] == [
        (1, spoiled[0].area_m2),
        (2, spoiled[1].area_m2),
    ]
    assert ada.price + nia.price == 2 * (spoiled[0].price + spoiled[1].price) > 0
    assert float(ada.price / (ada.price + nia.price)) == pytest.approx(20 / 44, abs=0.01)


def test_day_does_not_list_what_was_printed_with_others(shared, log, tmp_path, capsys):
    """Neither the prints, which alone are no sheets, nor the file they share, lying in a folder below."""

    def day() -> dict:
        main(["day", str(tmp_path), "--record", str(tmp_path / "record.csv"), "--json"])
        return json.loads(capsys.readouterr().out)

    before = day()
    assert len(before["back"]) == 2
    assert len(before["groups"]) == 1
    log("add", shared[0])
    after = day()
    assert sorted(each["copies"] for each in after["printed"]) == [1, 1, 2]
    assert after["groups"] == after["ask"] == after["back"] == []


def test_a_file_that_prints_share_is_printed_again_whole(shared, log, entries):
    log("add", shared[0], "--paper", "pearl 260", "--copies", 3)
    code, said, _ = log("again", entries()[0].job)
    assert (code, "look" in said) == (0, False)
    (ticket,) = shared[0].parent.glob("*_ticket.html")
    assert re.search(r"Copies(\s|<[^>]+>)*3\b", ticket.read_text(encoding="utf-8"))


def test_a_file_that_does_not_say_whose_its_prints_are_is_one_line(shared, log, entries):
    file, _, _ = shared
    with tifffile.TiffFile(file) as tiff:
        values, said = tiff.pages[0].asarray(), tiff.pages[0].tags[270].value
    before, _, _ = said.partition(" Whose they are")
    sheets.save_by_tifffile(values, file, (100, 100), description=before, software="labkit")
    log("add", file)
    (line,) = entries()
    assert (line.owner, line.copies) == ("job T1", 1)
