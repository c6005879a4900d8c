"""Judging at the counter: reasons, outcomes, what they cost; and what the exercise asks."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from labkit.files.checks.catalogue import catalogue
from labkit.files.header.reading import read_picture
from labkit.geometry.layout import PLACES, lay_out
from labkit.geometry.length import length
from labkit.job import words as job
from labkit.room.rules import load_room
from labkit.teaching.at_the_counter import (
    KINDS,
    NOTHING,
    ODD,
    OUTCOMES,
    Decided,
    Score,
    counter_brief,
    decide,
    money,
    reasons_for,
)
from labkit.teaching.faults import ANSWERS, FAULTS, GOOD, ODDITIES, Case
from labkit.teaching.judge import judge
from labkit.teaching.pictures import demo_pictures
from tests.files import sheets
from tests.geometry.refused import refusal
from tests.properties import a_few
from tests.teaching.test_margins import NAMES

BY_FIGURES = {"packing", "jpeg-quality"}
"""For information only, unless the figures say otherwise."""
ALONE, LABEL, NAME = (
    next(kind for kind, known in KINDS.items() if code in known)
    for code in ("picture-without-sheet", "resolution-label", "name")
)


def case(kind, **fields) -> Case:
    """A case of a kind in the tables, without its file."""
    return Case(
        fault=kind if kind not in GOOD else None,
        answer=kind.answer,
        reason=kind.reason,
        name="one.tif",
        owner="Nia Oak",
        title="One",
        sheet=None,
        cost=Decimal("2.40"),
        level=1,
        codes=kind.codes,
        **fields,
    )


def by_code(code: str):
    return next(fault for fault in FAULTS if code in fault.codes)


# Reasons


def test_every_finding_of_a_hand_in_goes_under_one_kind():
    hand_in = {code: entry for code, entry in catalogue().items() if not entry.told}
    told = {code for code, entry in hand_in.items() if entry.grade != "fine"} | BY_FIGURES
    known = [code for kind in KINDS.values() for code in kind]
    assert len(known) == len(set(known))
    assert set(known) == told


def test_every_fault_has_a_reason_that_fits():
    for fault in (*FAULTS, *ODDITIES):
        fit = reasons_for(case(fault))
        assert fit, fault
        assert set(fit) <= {*KINDS, ODD}
        assert (ODD in fit) == (fault in ODDITIES), fault


def test_of_good_work_nothing_is_wrong():
    assert all(reasons_for(case(good)) == (NOTHING,) for good in GOOD)


def test_of_a_technicians_own_file_nobody_knows_the_kind():
    own = replace(case(by_code("picture-without-sheet")), fault=None, codes=())
    assert reasons_for(own) == ()
    assert decide(own, "send back", NAME).has_right_reason


# A decision


@pytest.mark.parametrize(
    ("given", "reason", "told"),
    [
        ("", NAME, "decide first: print it, ask, or send it back."),
        ("throw away", NAME, "decide first: print it, ask, or send it back."),
        ("print", "", "say why as well: choose a reason, or “nothing is wrong”."),
        ("ask", NOTHING, "if nothing is wrong, print it; else choose what it is."),
        ("send back", NOTHING, "if nothing is wrong, print it; else choose what it is."),
    ],
)
def test_what_is_no_decision(given, reason, told):
    assert refusal(decide, case(GOOD[0]), given, reason) == told


@pytest.mark.parametrize("answer", ANSWERS)
@pytest.mark.parametrize("given", ANSWERS)
def test_every_decision_is_right_or_has_a_name(answer, given):
    decided = Decided(answer, given, NAME, (NAME,))
    assert decided.is_right == (answer == given)
    assert decided.outcome == ("" if answer == given else OUTCOMES[answer, given])


def test_right_for_the_wrong_reason():
    decided = decide(case(by_code("picture-without-sheet")), "send back", NAME)
    assert decided.is_right
    assert not decided.has_right_reason
    assert decide(case(by_code("picture-without-sheet")), "send back", ALONE).has_right_reason


def test_good_work_goes_under_what_was_held_against_it_and_bad_under_what_is_wrong():
    assert decide(case(GOOD[0]), "send back", NAME).kind == NAME
    assert decide(case(by_code("picture-without-sheet")), "print", NOTHING).kind == ALONE
    assert Decided("ask", "print", NOTHING, ()).kind == "other"


# A round


@pytest.fixture
def score():
    """Two right (one for the wrong reason), one good sent back, three bad ones printed, one unasked."""
    return Score(
        (
            decide(case(GOOD[0]), "print", NOTHING),
            decide(case(by_code("picture-without-sheet")), "send back", NAME),
            decide(case(GOOD[1]), "send back", NAME),
            decide(case(by_code("picture-without-sheet")), "print", NOTHING),
            decide(case(by_code("picture-without-sheet")), "print", NOTHING),
            decide(case(by_code("resolution-label")), "print", NOTHING),
            decide(case(ODDITIES[0]), "print", NOTHING),
        )
    )


def test_mistakes_are_told_apart_with_the_paper_they_cost(score):
    placed = reasons_for(case(ODDITIES[0]))[0]
    assert score.summary("£") == [
        ("decided as the technician would", "2 of 7"),
        ("and for a reason that fits", "1 of 2"),
        ("good work sent back", f"1 ({NAME})"),
        ("bad work printed", f"3 ({ALONE}, 2×; {LABEL}), £7.20 of paper"),
        ("printed without asking", f"1 ({placed}), £2.40 of paper"),
    ]


def test_the_two_kinds_that_matter_are_told_even_where_there_is_none():
    assert Score().summary("£")[2:] == [
        ("good work sent back", "none"),
        ("bad work printed", "none"),
    ]


def test_work_sent_back_costs_no_paper_and_work_without_a_price_none_that_is_known(score):
    assert score.wasted("good work sent back") == 0
    free = Decided("send back", "print", NOTHING, (ALONE,), None)
    assert Score((free,)).wasted("bad work printed") == 0
    assert Score((free,)).summary("£")[3] == ("bad work printed", f"1 ({ALONE})")


def test_each_decision_is_counted_once(score):
    wrong = sum(len(score.having(outcome)) for outcome in OUTCOMES.values())
    assert wrong + len(score.right) == len(score.decided)


@pytest.mark.parametrize(
    ("amount", "currency", "told"),
    [("6.2", "£", "£6.20"), ("0", "$", "$0.00"), ("12.345", "EUR", "EUR 12.34")],
)
def test_money(amount, currency, told):
    assert money(Decimal(amount), currency) == told


# The exercise


@pytest.mark.parametrize("name", a_few(NAMES[::3]))
def test_what_it_asks_can_be_made_and_passes(tmp_path, quick, pictures, coarse, name):
    brief = counter_brief(name, pictures, coarse)
    made = job.write(
        read_picture(brief.picture),
        brief.layout,
        owner=name,
        title=brief.title,
        out=tmp_path,
        room=coarse,
    )
    assert made.file.stem == brief.stem
    assert judge(made.file, brief, coarse).hints == ()


def test_ten_names_give_ten_tasks_each_always_the_same(pictures, coarse):
    briefs = [counter_brief(name, pictures, coarse) for name in NAMES]
    assert len({brief.sentence() for brief in briefs}) >= len(NAMES) - 1
    assert counter_brief(" ada   BROOK ", pictures, coarse).layout == briefs[0].layout
    assert counter_brief("Ada Brook", pictures, coarse) == briefs[0]


@pytest.mark.parametrize("name", [f"Reader {number}" for number in range(8)])
def test_with_our_own_pictures_sliders_reach_the_answer_and_the_label_is_wrong(name):
    """Whole 1/4 in on a sheet of inches, whole 5 mm on one of millimetres."""
    room = load_room()
    pictures = tuple((demo, read_picture(demo.file).pixels) for demo in demo_pictures())
    brief = counter_brief(name, pictures, room)
    layout, facts = brief.layout, read_picture(brief.picture)
    border = layout.borders.left
    assert border == layout.borders.right
    step = length("5mm" if layout.sheet.unit == "mm" else "1/4in")
    assert (border / step).denominator == 1
    assert layout.picture.width == layout.sheet.width - border * 2
    assert layout.picture.width >= length("4in")
    assert min(each for _, each in layout.borders.items()) >= length("1/2in")
    assert brief.raster.own_ppi >= room.working_ppi
    assert facts.size[0] != layout.picture.width
    assert facts.size[0].both() in brief.sentence()
    assert border.both() in brief.sentence()
    words = {"centre": "in the centre", "optical": "optical centre", "even-three": "equal borders"}
    (at,) = (place for place in PLACES if words[place] in brief.sentence())
    asked = lay_out(
        brief.pixels,
        layout.sheet,
        unprintable=layout.unprintable,
        width=layout.picture.width,
        at=at,
    )
    assert asked == layout


def test_a_picture_without_a_label_is_told_so(pictures, coarse):
    assert all(read_picture(demo.file).ppi is None for demo, _ in pictures)
    assert "no label that says how large it is" in counter_brief("Nia", pictures, coarse).sentence()


def test_the_picture_handed_in_as_it_came_does_not_pass(tmp_path, quick, pictures, coarse):
    brief = counter_brief("Ada Brook", pictures, coarse)
    judged = judge(brief.picture, brief, coarse)
    assert not judged.passed
    assert any("no resolution" in hint for hint in judged.hints)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"shift": 6}, "The slip gives the left and the right border"),
        ({"ppi": 30}, "Forget the label it came with"),
        ({"name": "boat.tif"}, "At the printer, the name is all"),
    ],
)
def test_hints_teach(tmp_path, quick, pictures, coarse, change, told):
    from PIL import Image

    brief = counter_brief("Ada Brook", pictures, coarse)
    box = brief.raster.picture
    moved = replace(brief.raster, picture=replace(box, left=box.left + change.get("shift", 0)))
    image = sheets.by_hand(Image.open(brief.picture), moved)
    file = tmp_path / change.get("name", f"{brief.stem}.tif")
    sheets.save(image, file, change.get("ppi", 60))
    hints = judge(file, brief, coarse).hints
    assert any(told in hint for hint in hints), hints


def test_a_print_of_another_width_gets_the_sum(tmp_path, quick, pictures, coarse):
    brief = counter_brief("Ada Brook", pictures, coarse)
    wide = brief.layout.picture.width * Fraction(9, 10)
    layout = lay_out(brief.pixels, brief.layout.sheet, width=wide)
    made = job.write(
        read_picture(brief.picture),
        layout,
        owner="Ada Brook",
        title=brief.title,
        out=tmp_path,
        room=coarse,
    )
    hints = judge(made.file, brief, coarse).hints
    assert any("The slip gives the borders, not the width" in hint for hint in hints), hints


def test_without_a_name_or_a_sheet_there_is_no_task(pictures, coarse):
    assert refusal(counter_brief, " ", pictures, coarse).startswith("give your name first")
    tiny = sheets.keeping(coarse, "4x3in")
    assert refusal(counter_brief, "Ada", pictures, tiny) == (
        "no sheet in stock at Quillmarsh College Print Room takes a print of 4 in (101.6 mm) with "
        "borders of 1/2 in (12.7 mm): add a larger one to the room's file."
    )
