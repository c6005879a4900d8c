"""``day``: a folder of hand-ins walked from the plan to the record, against sums worked by hand."""

import json
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image

from labkit.__main__ import main
from labkit.files.record.record import add_to_record, read_record
from labkit.job.log import entries_of
from labkit.job.ticket import write_ticket
from labkit.room.rules import load_room
from tests.files import handed_in, labelled
from tests.files.handed_in import Wanted
from tests.files.sheets import shipped

TODAY = "2031-05-12"


@dataclass(frozen=True)
class Walk:
    """A room, a folder of hand-ins, and a record that is its own."""

    root: Path
    room: Path
    record: Path

    def run(self, capsys, *given) -> tuple[int, str]:
        code = main([str(each) for each in given])
        said = capsys.readouterr()
        assert not said.err, said.err
        return code, said.out

    def day(self, capsys, *more) -> tuple[int, dict]:
        given = "--room", self.room, "--record", self.record, "--date", TODAY, "--json"
        code, told = self.run(capsys, "day", self.root, *given, *more)
        return code, json.loads(told)

    def log(self, capsys, file: dict, group: dict, *more) -> None:
        given = "--paper", group["paper"], "--course", file["course"], "--job", file["job"]
        where = "--room", self.room, "--record", self.record, "--date", TODAY
        self.run(
            capsys, "log", "add", file["file"], "--copies", file["copies"], *given, *where, *more
        )


def walk_of(folder, wanted, *, faults: bool = False) -> Walk:
    root, pictures = folder / "handed in", folder / "pictures"
    root.mkdir(), pictures.mkdir()
    file = handed_in.room_file(folder)
    room = handed_in.small_room(file)
    handed_in.folder_of(wanted, root, pictures, room)
    if faults:
        shown = labelled.pictures(pictures, bundled=False)
        list(labelled.faults(root, shown, room, strengths=1))
    return Walk(root, file, folder / "record.csv")


def summed(plan: dict) -> dict[tuple[str, ...], tuple]:
    """What each group takes: prints, sheets or metres, price."""
    return {
        (g["printer"], g["paper"], g["stock"]): (
            g["prints"],
            g["metres"] and round(g["metres"], 4),
            g["price"],
        )
        for g in plan["groups"]
    }


SMALL = (
    Wanted("Nia Oak", "A6"),
    Wanted("Ada Brook", "A6", "pearl 260"),
    Wanted("Ewan Tarn", "4x6in", "Ewan Tarn", "pearl 260,3,Photo 2,2031-05-14"),
    Wanted("Tam Reed", "A6", "", ",2,Photo 1,2031-05-13"),
    Wanted("Juno Vale", "", "", "pearl 260,2,Photo 1,", at="roll"),
)


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    return walk_of(tmp_path_factory.mktemp("day"), SMALL)


def test_groups_are_those_worked_by_hand(small, capsys):
    """A roll print is 19.5 × 6 in; it lies with 152.4 mm along the 24 in roll, 232.4 mm with leader and
    tail, £15.00 a metre: £3.486, so £3.49 each."""
    code, plan = small.day(capsys)
    assert code == 0
    assert summed(plan) == {
        ("Heron", "cotton matt 300", "A6"): (3, None, 2.40),
        ("Heron", "pearl 260", "A6"): (1, None, 0.50),
        ("Heron", "pearl 260", "4x6in"): (3, None, 1.80),
        ("Bittern", "pearl 260", "24 in roll"): (2, 0.4648, 6.98),
    }
    four = next(g for g in plan["groups"] if g["stock"] == "4x6in")
    assert (four["left"], four["is_enough"], four["due"]) == (500, True, "2031-05-14")
    # cotton dries for a day: to be handed out on the 13th it is printed on the 12th, so first
    assert [g["paper"] for g in plan["groups"] if g["printer"] == "Heron"] == [
        "cotton matt 300",
        "pearl 260",
        "pearl 260",
    ]
    # two of 19.5 × 6 in are 0.150968 m², 11 minutes each; 5 to put the roll in
    minutes = {each["printer"]: each["minutes"] for each in plan["printers"]}
    assert minutes["Bittern"] == pytest.approx(0.150968 * 11 + 5, abs=0.001)


def test_what_will_not_be_dry_in_time_is_told_wherever_it_is_listed(small, capsys, tmp_path):
    """Cotton dries for a day: Tam's, due on the 13th, is printed on the 13th too late; Nia's is not due."""
    page = tmp_path / "day.html"
    given = "--room", small.room, "--record", small.record, "--date", "2031-05-13"
    _, told = small.run(capsys, "day", small.root, *given, "--report", page)
    assert "£1.60  due 2031-05-13, not dry by then" in told
    [tam] = [line for line in told.splitlines() if "Tam Reed" in line]
    assert tam.rstrip().endswith("Photo 1, due 2031-05-13, not dry by then")
    first, behind = page.read_text(encoding="utf-8").split('<div class="behind">')
    assert first.count("<strong>not dry by then</strong>") == 1
    assert behind.count("<strong>not dry by then</strong>") == 1


def test_what_day_counts_is_what_the_ticket_says_and_the_record_sums(small, capsys, tmp_path):
    _, plan = small.day(capsys)
    room, day, lines = load_room(small.room), date.fromisoformat(TODAY), []
    for group in plan["groups"]:
        for file in group["files"]:
            asked = {"room": room, "day": day, "copies": file["copies"], "paper": group["paper"]}
            made = write_ticket(Path(file["file"]), **asked, out=tmp_path)
            page = made.ticket.read_text(encoding="utf-8")
            assert made.number == file["job"]
            for told in (
                f"<strong>{group['printer']}, {group['path']}</strong>",
                f"<dt>Price</dt><dd>£{file['price']:.2f}</dd>",
                f"{file['area_m2']:.3f} m²" if group["sheets"] else "of the 24 in roll",
            ):
                assert told in page
            lines += entries_of(Path(file["file"]), **asked)
    add_to_record(small.record, lines)
    by_paper = {}
    for line in lines:
        key = line.printer, line.paper
        area, price = by_paper.get(key, (0, Decimal(0)))
        by_paper[key] = area + float(line.area_m2), price + line.price
    planned = {}
    for group in plan["groups"]:
        key = group["printer"], group["paper"]
        area, price = planned.get(key, (0, 0))
        planned[key] = area + group["area_m2"], price + group["price"]
    assert by_paper.keys() == planned.keys()
    for key, (area, price) in planned.items():
        assert by_paper[key][0] == pytest.approx(area, abs=0.0001 * len(lines))
        assert float(by_paper[key][1]) == pytest.approx(price)
    jobs = {file["job"] for group in plan["groups"] for file in group["files"]}
    assert {line.job for line in lines} == jobs
    # walked again, nothing is left to print
    code, again = small.day(capsys)
    assert (code, again["groups"]) == (0, [])
    assert {one["copies"] for one in again["printed"]} == {1, 2, 3}
    assert (
        "Printed before"
        in small.run(capsys, "day", small.root, "--record", small.record, "--room", small.room)[1]
    )
    small.record.unlink()


def test_only_copies_that_came_out_well_are_taken_off(small, capsys):
    file = next(small.root.rglob("*_Study-2_*"))
    given = {"room": load_room(small.room), "day": date(2031, 5, 11), "paper": "pearl 260"}
    add_to_record(small.record, entries_of(file, **given, spoiled=2, why="head strike"))
    _, plan = small.day(capsys)
    assert next(g for g in plan["groups"] if g["stock"] == "4x6in")["prints"] == 2
    small.record.unlink()


def test_the_page_can_be_ticked_and_nothing_is_moved(small, capsys, tmp_path):
    before = {file: file.stat().st_mtime_ns for file in small.root.rglob("*")}
    page = tmp_path / "day.html"
    given = "--room", small.room, "--record", small.record, "--date", TODAY
    _, told = small.run(capsys, "day", small.root, *given, "--report", page)
    assert {file: file.stat().st_mtime_ns for file in small.root.rglob("*")} == before
    text = page.read_text(encoding="utf-8")
    for piece in ("To print on 2031-05-12", "cotton matt 300, A6", "3 sheets of 500 left", "£6.98"):
        assert piece in text
    assert "Heron: 7 prints, " in told
    assert "<script" not in text
    assert "due 2031-05-13" in told
    code = main(["day", str(small.root), "--report", str(page), *map(str, given)])
    assert code == 2
    assert "is there already" in capsys.readouterr().err


def test_what_is_asked_and_what_goes_back_has_its_message(small, capsys, tmp_path):
    """A size the paper is not kept in, a file of two pages, and one that is empty."""
    sheet = next(small.root.glob("Tam*.tif"))
    (tmp_path / "rag board 450").mkdir()
    held = tmp_path / "rag board 450" / sheet.name
    held.write_bytes(sheet.read_bytes())
    with Image.open(sheet) as image:
        pages = {"save_all": True, "append_images": [image.copy()]}
        made = Image.effect_noise(image.size, 90).convert("RGB")
        made.save(tmp_path / "Ola-Strand_Two_A6.tif", dpi=(300, 300), **pages)
    (tmp_path / "Ewan-Tarn_None_A6.tif").touch()
    given = "--room", small.room, "--record", small.record, "--date", TODAY
    code, told = small.run(capsys, "day", tmp_path, *given, "--json")
    plan = json.loads(told)
    assert (code, plan["groups"]) == (1, [])
    (ask,) = plan["ask"]
    assert ask["codes"] == []
    assert "“rag board 450” is not kept in 148x105mm" in ask["message"]
    assert "pearl 260 (£0.50)" in ask["message"]
    back = {each["file"].rpartition("_")[0][-3:]: each for each in plan["back"]}
    assert "has 2 pages" in back["Two"]["message"]
    assert back["one"]["codes"] == ["empty"]
    assert all(each["message"].endswith("Quillmarsh College Print Room") for each in plan["back"])


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (["--date", "12.5.31"], "--date is “12.5.31”: give a day as in 2031-05-12."),
        (["--report", "day.txt"], "day.txt is to be written, and does not end in .html"),
        ([], "there is no file to print in what was given"),
    ],
)
def test_what_cannot_be_asked_is_refused(tmp_path, capsys, given, told):
    assert main(["day", str(tmp_path), *given]) == 2
    assert told in capsys.readouterr().err


# A week's folder

NAMES = ("Nia Oak", "Ada Brook", "Ewan Tarn", "Inés Ribera", "Tam Reed", "Juno Vale", "Ola Strand")


def week() -> list[Wanted]:
    """Thirty-six good ones: of the first 32 a sheet in turn A6 or 4 × 6 in; each fourth on pearl by its
    folder, two prints, the next three on pearl by the table; four rolls, two prints of each second."""
    made = []
    for number in range(32):
        owner, size = NAMES[number % 7], ("A6", "4x6in")[number % 2]
        folder = ("", owner, "pearl 260", "")[number % 4]
        row = ("", "", ",2,Photo 2,2031-05-14", "pearl 260,3,Photo 1,2031-05-13")[number % 4]
        made.append(Wanted(owner, size, folder, row))
    for number in range(4):
        row = (",1,,", "pearl 260,2,Photo 2,2031-05-20")[number % 2]
        made.append(Wanted(NAMES[number], "", "", row, at="roll"))
    return made


@pytest.mark.slow
def test_a_weeks_folder_is_walked_twice(tmp_path, capsys):
    """Eighty files: 36 good ones and every fault there is.

    Numbers 0, 4 … 28 are A6 on cotton, one each: 8 at £0.80. 1, 5 … are 4 × 6 in on cotton, one each: 8 at
    £0.90, of 12 left. 2, 6 … are A6 on pearl by their folder, two each: 16 at £0.50. 3, 7 … are 4 × 6 in on
    pearl, three each: 24 at £0.60. Two rolls on cotton, one each, 2 × 232.4 mm at £20.00 a metre, £4.648,
    so £4.65 each; two on pearl, two each, 4 × 232.4 mm, £3.49 each.
    """
    walk = walk_of(tmp_path, week(), faults=True)
    code, plan = walk.day(capsys)
    assert code == 1
    assert summed(plan) == {
        ("Heron", "cotton matt 300", "A6"): (8, None, 6.40),
        ("Heron", "cotton matt 300", "4x6in"): (8, None, 7.20),
        ("Heron", "pearl 260", "A6"): (16, None, 8.00),
        ("Heron", "pearl 260", "4x6in"): (24, None, 14.40),
        ("Bittern", "cotton matt 300", "24 in roll"): (2, 0.4648, 9.30),
        ("Bittern", "pearl 260", "24 in roll"): (4, 0.9296, 13.96),
    }
    files = [file for group in plan["groups"] for file in group["files"]]
    held = [*plan["ask"], *plan["back"]]
    assert len(files) == 36
    assert len(files) + len(held) == sum(1 for f in walk.root.rglob("*") if f.is_file()) - 1
    assert len(held) > 40
    for group in plan["groups"]:
        for file in group["files"]:
            walk.log(capsys, file, group)
    lines = read_record(tmp_path / "record.csv")
    assert sum(line.price for line in lines) == Decimal("59.26")
    _, told = walk.run(capsys, "log", "show", "--by", "paper", "--record", walk.record)
    assert "£22.90" in told  # cotton: 6.40 + 7.20 + 9.30
    assert "£36.36" in told  # pearl: 8.00 + 14.40 + 13.96
    # the next day: nothing of it comes again, and what is held back still does
    _, again = walk.day(capsys)
    assert again["groups"] == []
    assert len(again["printed"]) == 36
    assert len(again["ask"]) + len(again["back"]) == len(held)
    # one of them is printed again by its number
    number = lines[0].job
    where = "--record", walk.record, "--room", walk.room, "--out", tmp_path / "again"
    code, told = walk.run(capsys, "log", "again", number, *where)
    assert code == 0
    (ticket,) = (tmp_path / "again").iterdir()
    assert number in ticket.read_text(encoding="utf-8")


def test_the_rooms_first_paper_is_the_one_when_nobody_says():
    """What the sums above take for granted."""
    assert shipped().papers[0].name == "cotton matt 300"
