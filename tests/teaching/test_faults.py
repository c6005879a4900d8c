"""Practice cases: what each fault does to a file, by readers that are not ours; and how they are drawn."""

import random
from collections import Counter
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.errors import LabError
from labkit.files.checks.catalogue import catalogue
from labkit.files.checks.check import check
from labkit.files.writing.name import read_name
from labkit.geometry.length import length
from labkit.teaching.faults import (
    ANSWERS,
    FAULTS,
    GOOD,
    ODDITIES,
    cases,
    draw_case,
    make_case,
    read_cases,
)
from labkit.teaching.faults.cases import good_hand_in, our_pictures
from labkit.teaching.faults.made import write
from tests.files import labelled, make, sheets
from tests.geometry.refused import refusal
from tests.properties import a_few

BY_NAME = {each.name: each for each in (*GOOD, *FAULTS, *ODDITIES)}


@pytest.fixture(scope="module")
def room():
    """Sheets of 4 × 6 in and A6, so that a hand-in is made in a moment."""
    return labelled.small_room()


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    return labelled.pictures(tmp_path_factory.mktemp("shown"), bundled=False)


@pytest.fixture
def made(room, shown, tmp_path):
    """A case of the fault with that name, and its file."""

    def make_one(name: str, seed: int = 1):
        case = draw_case(random.Random(seed), 1, shown, room=room, kind=BY_NAME[name])
        return case, make_case(case, tmp_path)

    return make_one


# The tables


def test_there_are_twelve_common_faults_and_as_many_rarer_ones_or_more():
    levels = Counter(fault.level for fault in FAULTS)
    assert levels[1] == 12
    assert levels[2] >= 12


def test_no_name_comes_twice():
    assert len(BY_NAME) == len(GOOD) + len(FAULTS) + len(ODDITIES)


def test_each_fault_says_what_to_do_and_why():
    for fault in (*FAULTS, *ODDITIES):
        assert fault.answer in ANSWERS
        assert 1 <= fault.reason.count(". ") + fault.reason.count("? ") + 1 <= 3, fault
        assert fault.reason[-1] in ".?", fault
        assert set(fault.codes) <= set(catalogue())
        assert fault.ways, fault


def test_oddities_are_asked_about_and_good_ones_are_printed():
    assert {oddity.answer for oddity in ODDITIES} == {"ask"}
    assert {good.answer for good in GOOD} == {"print"}
    assert "print" not in {fault.answer for fault in FAULTS}


def test_counter_and_check_agree():
    """What the check stops is sent back; what it calls "look" is asked about."""
    for fault in (*FAULTS, *ODDITIES):
        grades = {catalogue()[code].grade for code in fault.codes}
        assert fault.answer == ("send back" if "stop" in grades else "ask"), fault.name
        assert grades & {"stop", "look"}, fault.name


# What is in the files, by Pillow and tifffile


@pytest.mark.parametrize("good", a_few(GOOD, 3), ids=lambda good: good.name)
def test_a_good_one_is_the_sheet_it_says(made, room, good):
    case, file = made(good.name)
    with Image.open(file) as image:
        sheet = case.sheet
        assert image.size == (sheet.width.pixels(300), sheet.height.pixels(300))
        assert image.info["dpi"] == (300, 300)
        assert (image.mode, image.info["compression"]) == ("RGB", "tiff_lzw")
        assert image.info["icc_profile"]
    assert file.name == case.name
    told = read_name(room.name_pattern, file.stem)
    assert (told["owner"], told["title"]) == (case.owner, case.title)
    assert told["sheet"] == sheet.label


def ink(file: Path) -> tuple[int, int, int, int]:
    """White pixels left, above, right and below of anything."""
    with Image.open(file) as image:
        values = np.asarray(image.convert("RGB"))
    dark = (values != 255).any(axis=2)
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    height, width = dark.shape
    return columns[0], rows[0], width - 1 - columns[-1], height - 1 - rows[-1]


def test_the_named_places(made):
    left, top, right, bottom = ink(made("centred")[1])
    assert abs(left - right) <= 1
    assert abs(top - bottom) <= 1
    left, top, right, bottom = ink(made("at the optical centre")[1])
    assert abs(left - right) <= 1
    assert top / (top + bottom) == pytest.approx(2 / 5, abs=0.002)  # Gage (1920), Fig. 9–10
    left, top, right, bottom = ink(made("even on three sides")[1])
    assert max(left, top, right) - min(left, top, right) <= 1
    assert bottom > top


def test_off_its_place_is_off_by_so_much(made):
    case, file = made("a little off its place")
    left, _, right, _ = ink(file)
    assert abs(left - right) in {30, 40, 60}  # twice 1/20, 1/15, 1/10 in at 300 ppi
    assert case.answer == "ask"


def test_the_print_to_the_edge_has_its_marks(made, room):
    case, file = made("to the edge")
    layout = case.hand_in.layout
    left = (layout.trim.box.left - room.bleed - length("6mm")).pixels(300)
    assert abs(ink(file)[0] - left) <= 1


TIFF_FACTS = {
    "wrong resolution on the label": lambda page: page.tags[282].value in ((72, 1), (96, 1)),
    "two resolutions": lambda page: page.tags[282].value != page.tags[283].value,
    "only the shape of a pixel": lambda page: page.tags[296].value == 1,
    "layers": lambda page: b"ryaL" in page.tags[37724].value,
    "CMYK": lambda page: page.photometric.name == "SEPARATED" and page.shape[2] == 4,
    "no profile": lambda page: 34675 not in page.tags,
    "transparent parts": lambda page: (page.asarray()[..., 3] == 0).any(),
    "two pages": lambda page: len(page.parent.pages) == 2,
    "BigTIFF": lambda page: page.parent.is_bigtiff,
    "lossy packing in a TIFF": lambda page: page.compression.name == "JPEG",
    "a flag that turns it": lambda page: page.tags[274].value != 1,
    "a printer's profile in the file": lambda page: page.tags[34675].value[12:16] == b"prtr",
    "paper that is not white": lambda page: page.asarray()[0, 0].min() in (249, 250, 254, 246),
    "a black sheet": lambda page: page.asarray()[0, 0].max() <= 40,
    "grey from some line on": lambda page: (page.asarray()[-16:] == 128).all(),
}


@pytest.mark.parametrize("name", a_few(TIFF_FACTS, 3))
def test_the_fault_is_in_the_file_and_in_no_good_one(made, name):
    with tifffile.TiffFile(made(name)[1]) as tiff:
        assert TIFF_FACTS[name](tiff.pages[0])
    with tifffile.TiffFile(made("centred")[1]) as tiff:
        page = tiff.pages[0]
        with suppress(KeyError, IndexError):  # no such tag, no such channel
            assert not TIFF_FACTS[name](page)


def test_a_turned_one_stands_as_the_good_one_when_the_flag_is_obeyed(room, shown, tmp_path):
    good = good_hand_in(random.Random(3), "centre", shown, room)
    upright = tifffile.imread(write(good, tmp_path))
    for flag in (3, 6, 8):
        file = write(replace(good, flag=flag), tmp_path)
        assert (np.asarray(sheets.seen(file)) == upright).all()
        assert not np.array_equal(tifffile.imread(file), upright)


def test_the_picture_alone_has_no_white_round_it(made):
    case, file = made("no sheet round it")
    assert ink(file) == (0, 0, 0, 0)
    with Image.open(file) as image:
        assert image.size == (case.hand_in.box.width, case.hand_in.box.height)


def test_too_few_pixels_say_how_few_they_are(made):
    case, file = made("too few pixels")
    with Image.open(file) as image:
        ppi = image.info["dpi"][0]
        assert ppi in (150, 180, 200)
        assert image.size[0] == case.sheet.width.pixels(Fraction(int(ppi)))


def test_a_jpeg_is_one_and_says_so(made):
    case, file = made("JPEG instead of TIFF")
    assert file.suffix == ".jpg"
    with Image.open(file) as image:
        assert (image.format, image.info["dpi"]) == ("JPEG", (300, 300))
    assert case.codes == ("format",)


def test_a_file_that_is_cut_short_is_not_read(made):
    file = made("cut short")[1]
    with pytest.raises(Exception, match=r"."), Image.open(file) as image:
        image.load()


def test_an_enlarged_one_has_little_detail(made):
    """Next to nothing of its power lies above a quarter cycle a pixel, as in no picture of its own size."""

    def fine(name: str) -> float:
        case, file = made(name)
        box = case.hand_in.box
        with Image.open(file) as image:
            part = image.convert("L").crop((box.left, box.top, box.right, box.bottom))
        power = np.abs(np.fft.rfft(np.asarray(part, float) - 128, axis=1)) ** 2
        return power[:, power.shape[1] // 2 :].sum() / power[:, 1:].sum()

    assert fine("enlarged from fewer pixels") < fine("centred") / 3
    assert fine("a soft picture") < fine("centred") / 10


def test_marks_lie_on_the_paper(made):
    case, file = made("marks on the paper")
    box = case.hand_in.box
    with Image.open(file) as image:
        values = np.asarray(image).copy()
    values[box.top : box.bottom, box.left : box.right] = 255
    areas = sum(mark.width * mark.height for mark in case.hand_in.strays)
    assert (values != 255).any(axis=2).sum() == areas


def test_the_edge_that_fades_begins_white(made):
    case, file = made("an edge as white as the paper")
    box = case.hand_in.box
    with Image.open(file) as image:
        rows = np.asarray(image)[box.top : box.bottom, box.left : box.right].astype(int)
    assert (rows[:, 0] == 255).all()
    assert rows[:, 1:10].mean() > 220
    assert rows[:, box.width // 2].mean() < 200


def test_the_same_picture_twice_makes_both_files(made, tmp_path):
    case, file = made("the same picture twice")
    assert {path.name for path in tmp_path.iterdir()} == {file.name, case.beside}
    one, other = (tifffile.imread(tmp_path / name) for name in (file.name, case.beside))
    assert (one == other).all()
    assert made("centred")[0].beside == ""


def test_names_that_tell_nothing(made, room):
    case, file = made("a name from a camera or scanner")
    assert read_name(room.name_pattern, file.stem) is None
    assert case.owner not in file.name
    assert read_name(room.name_pattern, made("another size in the name")[1].stem)["sheet"] in (
        "11x17in",
        "13x19in",
    )


# Drawn


def test_the_same_seed_gives_the_same_bytes(room, shown, tmp_path):
    made = []
    for name in ("one", "other"):
        folder = tmp_path / name
        folder.mkdir()
        drawn = cases(7, 1, 6, pictures=shown, room=room)
        made.append([(case, make_case(case, folder).read_bytes()) for case in drawn])
    assert made[0] == made[1]
    assert cases(8, 1, 6, pictures=shown, room=room) != [case for case, _ in made[0]]


@pytest.mark.parametrize("level", [1, 2])
def test_a_set_is_mixed_as_at_a_counter(room, shown, level):
    drawn = cases("Ada Brook", level, 20, pictures=shown, room=room)
    clean = [case for case in drawn if case.fault is None]
    odd = [case for case in drawn if case.fault in ODDITIES]
    faulty = [case for case in drawn if case.fault in FAULTS]
    assert (len(clean), len(odd), len(faulty)) == (8, 2, 10)
    assert len({case.kind for case in faulty}) == 10
    assert {case.fault.level for case in faulty + odd} == {level}
    assert {case.answer for case in clean} == {"print"}
    assert {case.kind for case in clean} == {"nothing wrong"}


def test_no_fault_comes_twice_before_all_were_seen(room, shown):
    drawn = cases(1, 1, 60, pictures=shown, room=room)
    seen = Counter(case.kind for case in drawn if case.fault in FAULTS)
    assert len(seen) == 12
    assert max(seen.values()) - min(seen.values()) <= 1


def test_one_case_of_chance(room, shown):
    drawn = [draw_case(random.Random(seed), 1, shown, room=room) for seed in range(200)]
    share = sum(case.fault is None for case in drawn) / len(drawn)
    assert 0.3 < share < 0.5
    assert {case.answer for case in drawn} == set(ANSWERS)


def test_our_own_pictures_and_the_shipped_room_are_the_default():
    first = cases(3, 2, 5)[0]
    files = {demo.file for demo, _ in our_pictures()}
    assert first.hand_in.picture in files
    assert first.sheet.name in ("letter", "A4", "9x12in", "10x12in", "6x19.5in")
    assert first.cost > 0


def test_the_cost_is_the_papers_price(made, room):
    case, _ = made("off a roll")
    route = room.route(case.sheet)
    assert route.is_roll
    assert case.cost == route.price()
    case = draw_case(random.Random(1), 1, our_pictures(), kind=BY_NAME["centred"])
    assert case.cost == Decimal("2.40")  # letter and A4 on the first paper of room.toml


def test_a_room_without_a_roll_long_enough_has_no_print_off_it(room, shown):
    without = sheets.keeping(room, *(sheet.name for sheet in room.sheets), rolls=False)
    drawn = cases(1, 1, 40, pictures=shown, room=without)
    assert max(max(case.sheet.width, case.sheet.height) for case in drawn) <= length("12in")


def test_what_cannot_be_drawn_is_refused(room, shown, tmp_path):
    assert refusal(cases, 1, 3, 5) == (
        "there is no level 3: level 1 has the common faults, level 2 the rarer."
    )
    assert refusal(cases, 1, 1, 0) == "0 cases are none: ask for one or more."
    tiny = make.picture(tmp_path / "tiny.png", size=(60, 40))
    with pytest.raises(LabError, match="no picture can be placed “trim” on the smaller sheets of"):
        good_hand_in(random.Random(1), "trim", [(shown[0][0], (60, 40))], room)
    assert tiny.exists()


# A technician's own


@pytest.fixture
def own(tmp_path):
    """A folder with two files and a table of them."""
    make.picture(tmp_path / "Nia-Oak_Tide_letter.tif", size=(85, 110), ppi=10)
    (tmp_path / "broken.tif").write_bytes(b"II*\0")

    def table(text: str, encoding: str = "utf-8") -> Path:
        (tmp_path / "cases.csv").write_text(text, encoding=encoding)
        return tmp_path

    return table


def test_own_files_with_their_verdicts(own):
    folder = own(
        "file,verdict,reason\n"
        "Nia-Oak_Tide_letter.tif,print,Nothing is wrong.\n"
        '\nbroken.tif,Send  Back,"It broke off, so I need it again."\n'
    )
    good, broken = read_cases(folder)
    assert (good.answer, good.reason, good.owner, good.title) == (
        "print",
        "Nothing is wrong.",
        "Nia Oak",
        "Tide",
    )
    assert (good.sheet.name, good.cost) == ("letter", Decimal("2.40"))
    assert (broken.answer, broken.reason) == ("send back", "It broke off, so I need it again.")
    assert (broken.sheet, broken.cost, broken.level, broken.fault) == (None, None, 0, None)
    assert make_case(broken, folder / "elsewhere") == folder / "broken.tif"
    assert good.kind == "nothing wrong"
    assert broken.kind == "from the technician's own files"


def test_a_table_as_spreadsheets_save_it(own):
    folder = own("Reason;File;Verdict;Note\r\nWhose?;broken.tif;ask;x\r\n", "utf-8-sig")
    assert [(case.answer, case.reason) for case in read_cases(folder)] == [("ask", "Whose?")]


HEAD = "file,verdict,reason\n"
WRONG_TABLES = [
    (
        "file,reason\nbroken.tif,why\n",
        "cases.csv has no column verdict: its first line names the columns file, verdict and reason.",
    ),
    (
        "",
        "cases.csv has no column file, verdict and reason: its first line names the columns file, "
        "verdict and reason.",
    ),
    (
        HEAD + "broken.tif,maybe,why\n",
        "cases.csv, line 2: “maybe” is no verdict; write print, ask or send back.",
    ),
    (
        HEAD + '"broken.tif",ask,"two\nlines"\nbroken.tif,ask\n',
        "cases.csv, line 4: the reason is missing; say in a sentence what you would tell the student.",
    ),
    (HEAD + ",ask,why\n", "cases.csv, line 2: there is no file named; look at the spelling."),
]


@pytest.mark.parametrize(("text", "sentence"), WRONG_TABLES)
def test_a_wrong_table_is_refused_with_its_line(own, text, sentence):
    assert refusal(read_cases, own(text)) == sentence


def test_a_table_that_is_missing_or_names_nothing(own, tmp_path):
    assert refusal(read_cases, tmp_path) == (
        f"there is no cases.csv in {tmp_path}: make one with the columns file, verdict and reason."
    )
    assert refusal(read_cases, own(HEAD)) == (
        f"cases.csv in {tmp_path} names no file: add a line for each, with file, verdict and reason."
    )
    assert refusal(read_cases, own(HEAD + "gone.tif,ask,why\n")) == (
        f"cases.csv, line 2: there is no file “gone.tif” in {tmp_path}; look at the spelling."
    )


def test_a_table_that_is_no_text(own, tmp_path):
    folder = own(HEAD + "broken.tif,ask,größer\n", "latin-1")
    assert refusal(read_cases, folder) == (
        f"{tmp_path / 'cases.csv'} cannot be read (not UTF-8): save it as a CSV file in UTF-8."
    )


@pytest.mark.parametrize("name", ["enlarged from fewer pixels", "an edge as white as the paper"])
@pytest.mark.parametrize("seeds", [range(1), pytest.param(range(1, 9), marks=pytest.mark.slow)])
def test_the_check_agrees_with_the_technician_on_what_pixels_show(name, seeds, tmp_path, warm):
    """So it does for whatever part of a picture chance has."""
    kind, room = BY_NAME[name], sheets.shipped()
    for seed in seeds:
        case = draw_case(random.Random(seed), 2, our_pictures(), room=room, kind=kind)
        told = check(make_case(case, tmp_path), room=room)
        assert {item.code for item in told.faults} & set(case.codes), (seed, told)


def test_what_prints_well_though_it_goes_back_costs_no_paper(room, shown):
    for name, costs in (("JPEG instead of TIFF", False), ("BigTIFF", False), ("layers", True)):
        kind = BY_NAME[name]
        case = draw_case(random.Random(1), kind.level, shown, room=room, kind=kind)
        assert (case.cost is not None) == costs
