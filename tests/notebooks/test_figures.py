"""Figures and rules that lessons, notes, room file, pictures and package each state: one and the same."""

import re
from itertools import pairwise

import nbformat
import pytest

from labkit.files.checks.catalogue import catalogue
from labkit.files.header.reading import read_picture
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet, iso_tolerance
from labkit.geometry.resolution import ppi_at, ppi_for_eye
from labkit.geometry.trim import MARK_LENGTH, MARK_WIDTH
from labkit.room.rules import load_room
from labkit.teaching.faults import FAULTS, ODDITIES
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.progress import LESSONS
from tests.notebooks.normal import FOLDER, notebooks

ROOM = load_room(None)
HARBOUR, TOWER = (read_picture(demo.file) for demo in demo_pictures()[:2])
NOTES = (FOLDER / "teaching-notes.md").read_text(encoding="utf-8")


def prose(number: str) -> str:
    """All that a lesson says, without what its cells give out."""
    (file,) = (each for each in notebooks() if each.name.startswith(number))
    return "\n".join(cell.source for cell in nbformat.read(file, as_version=4).cells)


def notes_on(number: str) -> str:
    """What the notes say of a lesson."""
    return re.split(r"^## ", NOTES.partition(f"\n## {number} ")[2], flags=re.M)[0]


def inches_of(picture) -> str:
    """Width by height at 100 %, as the label has it."""
    return " × ".join(side.inch_text().removesuffix(" in") for side in picture.size) + " in"


A4 = find_sheet("A4").width
AT_30_CM, AT_1_M = (f"{ppi_for_eye(length(away)):.0f} ppi" for away in ("30cm", "100cm"))
STATED = [
    ("02", f"The label of our harbour makes it {inches_of(HARBOUR)}"),
    ("03", "A picture of {} × {} pixels is 3 : 2".format(*HARBOUR.pixels)),
    ("01", f"Our clock tower is labelled {float(TOWER.ppi[0]):g} ppi"),
    ("01", f"{int(TOWER.size[0].inches)} inches wide, says the label"),
    ("01", f"{TOWER.pixels[0]} ÷ {ROOM.working_ppi} = {TOWER.pixels[0] // ROOM.working_ppi} in"),
    ("01", "How many of the {} × {} pixels".format(*TOWER.pixels)),
    ("01", f"From 30 cm, the distance at which we read, the eye can use {AT_30_CM}"),
    ("01", f"at 30 cm is {AT_30_CM}; at 1 m it is {AT_1_M}"),
    ("02", f"Half a pixel at {ROOM.working_ppi} ppi is {25.4 / ROOM.working_ppi / 2:.3f} mm"),
    ("02", f"a cutter may be off by {iso_tolerance(A4).said('mm')}"),
    ("02", f"{A4.said('mm')} is {float(A4.inches):.5f}"[:-1]),
    ("04", f"Ours are {MARK_LENGTH.said('mm')} long and {float(MARK_WIDTH.mm):g} mm thick"),
    ("04", f"{ROOM.bleed.said()} or 3 mm is usual"),
]  # fmt: skip
"""What a lesson says, with its figures worked out from where they come from."""


@pytest.mark.parametrize(("number", "told"), STATED, ids=[told for _, told in STATED])
def test_a_lesson_has_the_figure_that_its_source_has(number, told):
    assert told in prose(number)


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("02", f"At 100 % the harbour is {inches_of(HARBOUR)}"),
        ("04", f"within the room's tolerance ({ROOM.tolerance.place.inches} in"),
        ("01", f"({ppi_for_eye(length('100cm')):.0f}.)"),
        ("01", f"At 10 in none of the {TOWER.pixels[0]} × {TOWER.pixels[1]} pixels is changed"),
    ],
)
def test_the_notes_have_it_too(number, told):
    assert told in notes_on(number)


def test_our_pictures_are_as_large_as_the_notes_say():
    widest = [picture.pixels[0] // ROOM.working_ppi for picture in (HARBOUR, TOWER)]
    assert "Our two pictures are {} in and {} in wide at 300 ppi.".format(*widest) in notes_on("01")
    assert ppi_at(HARBOUR.pixels[0], HARBOUR.size[0]) == HARBOUR.ppi[0]


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.name)
def test_minutes_are_the_same_everywhere_and_add_up(lesson):
    number = lesson.name[:2]
    told = re.search(r"\*\*Minutes\.\*\* (\d+) in class: (.*?)\. Alone (\d+)\.", notes_on(number))
    in_class, parts, alone = told.groups()
    assert f"**Time:** {in_class} minutes in class, {alone} alone." in prose(number)
    assert int(alone) == lesson.minutes
    assert sum(int(minutes) for minutes in re.findall(r" (\d+)(?:,|$| \()", parts)) == int(in_class)


def test_start_here_leads_to_every_lesson_in_order():
    led_to = re.findall(r"^\| \[\d\d (.+?)\]\((.+?)\.ipynb\) \|", prose("00"), re.M)
    assert led_to == [(lesson.title, lesson.name) for lesson in LESSONS]


@pytest.mark.parametrize(("lesson", "after"), pairwise(LESSONS), ids=lambda lesson: lesson.name)
def test_a_lesson_leads_on_to_the_next(lesson, after):
    (told,) = re.findall(r"^\*\*Next:\*\*(.*)$", prose(lesson.name[:2]), re.M)
    assert f"[{after.name[:2]} {after.title}]({after.name}.ipynb)" in told


CALLED = {
    "stop": {
        "layers": ("layers",),
        "transparency": ("transparency",),
        "CMYK without its profile": ("cmyk-unknown",),
        "two pages": ("several-pages",),
        "no sheet round the picture": ("picture-without-sheet",),
        "no resolution or a wrong one": (
            "resolution-missing", "resolution-shape", "resolution-unequal", "resolution-label",
        ),
        "a picture in the edge that the printer cannot reach": ("unprintable",),
        "too little bleed": ("bleed-short",),
        "a broken file": ("damaged",),
    },
    "look": {
        "JPEG or lossy packing: is there an original?": ("format", "compression"),
        "CMYK with its profile: may it be made RGB?": ("cmyk",),
        "a flag that turns it: which way up?": ("turned-flag",),
        "paper not quite white, a dark sheet, marks, an odd place: is it meant?": (
            "surround", "surround-colour", "stray-marks", "off-centre", "unusual-place",
        ),
        "softness, too few pixels": ("soft", "enlarged", "ppi-floor"),
        "a size not in stock": ("sheet-unstocked",),
        "no profile, or a printer's": ("profile-missing", "profile-class"),
        "a name that does not say whose it is": ("name", "name-camera"),
        "the same picture twice": ("same-picture",),
    },
}  # fmt: skip
"""What the lesson at the counter calls the findings of a grade."""
BETWEEN = {"stop": ", ", "look": " · "}


@pytest.mark.parametrize("grade", CALLED)
def test_the_counter_sends_back_what_the_check_stops_and_asks_about_the_rest(grade):
    (told,) = re.findall(rf"^> \| \*\*.*?\*\* \({grade}\) \| (.*) \|$", prose("08"), re.M)
    assert told.split(BETWEEN[grade]) == list(CALLED[grade])
    answer = {"stop": "send back", "look": "ask"}[grade]
    for codes in CALLED[grade].values():
        assert {code: catalogue()[code].grade for code in codes} == dict.fromkeys(codes, grade)
        drawn = [each for each in (*FAULTS, *ODDITIES) if set(each.codes) <= set(codes)]
        assert {each.answer for each in drawn} <= {answer}
