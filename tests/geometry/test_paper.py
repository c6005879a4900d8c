"""Sheets by name and by size; the sizes themselves are checked in tests/standards/test_papers.py."""

import pytest
from hypothesis import given

from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.paper import Sheet, catalogue, find_sheet, sheet_of
from tests.geometry.refused import refusal
from tests.geometry.strategies import sheets, thorough


def test_a_sheet_tells_its_name_and_both_sizes():
    assert str(find_sheet("A4")) == "A4, 210 × 297 mm (8.27 × 11.69 in)"
    assert str(find_sheet("letter")) == "letter, 8.5 × 11 in (215.9 × 279.4 mm)"
    assert str(find_sheet("13x19in")) == "13 × 19 in (330.2 × 482.6 mm)"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("a4", "A4"),
        (" A4 ", "A4"),
        ("ISO-A4", "A4"),
        ("iso_a4", "A4"),
        ("jis b4", "JIS B4"),
        ("JB4", "JIS B4"),
        ("b4", "B4"),
        ("Letter", "letter"),
        ("ansi a", "letter"),
        ("US Letter", "letter"),
        ("ANSI B", "tabloid"),
        ("half-letter", "statement"),
        ("arch-d", "ARCH D"),
        ("Super B", "13x19in"),
        ("13 x 19 in", "13x19in"),
    ],
)
def test_finds_a_sheet_by_any_of_its_names(text, name):
    found = find_sheet(text)
    assert found.name == name
    assert found in catalogue()


def test_every_name_of_the_catalogue_finds_its_own_sheet():
    assert len(catalogue()) == 72
    assert [find_sheet(sheet.name) for sheet in catalogue()] == list(catalogue())
    assert not any(sheet.is_turned for sheet in catalogue())
    assert all(sheet.standard for sheet in catalogue())


def test_a_size_lies_as_it_is_given():
    upright, turned = find_sheet("8.5x14.25in"), find_sheet("14.25 × 8.5 in")
    assert (upright.width, upright.height) == (inches("8.5"), inches("14.25"))
    assert (turned.width, turned.height) == (inches("14.25"), inches("8.5"))
    assert not upright.is_turned
    assert turned.is_turned
    assert turned == upright.turned()
    assert upright.name == turned.name == "8.5x14.25in"
    assert upright.standard == ""


def test_a_size_that_a_document_lays_down_names_it():
    assert find_sheet("297x420mm").standard == "ISO 216:2007"
    assert find_sheet("420x297mm").standard == "ISO 216:2007"
    assert find_sheet("298x420mm").standard == ""


def test_a_size_stays_in_the_unit_it_is_given_in():
    assert find_sheet("32.9x48.3cm").size == "329x483mm"
    assert find_sheet("32.9x48.3cm").unit == "mm"
    assert find_sheet("8 1/2 x 11 in").size == "8.5x11in"
    assert find_sheet("8 1/2 x 11 in").unit == "in"


def test_the_size_of_a_turned_sheet_is_told_as_it_lies():
    turned = find_sheet("A3").turned()
    assert turned.size == "420x297mm"
    assert str(turned) == "A3, 420 × 297 mm (16.54 × 11.69 in)"


def test_a_size_in_either_unit():
    sheet = find_sheet("14.25x8.5in")
    assert sheet.in_unit("in") == "14.25 × 8.5 in"
    assert sheet.in_unit("mm") == "362 × 215.9 mm"  # 361.95, told to a tenth
    assert str(sheet) == "14.25 × 8.5 in (362 × 215.9 mm)"


def test_a_label_for_file_names():
    assert find_sheet("A3").label == "A3"
    assert find_sheet("A3").turned().label == "420x297mm"
    assert find_sheet("19x13in").label == "19x13in"
    assert find_sheet("13x19in").label == "13x19in"


def test_a_square_is_not_turned():
    assert not find_sheet("12x12in").is_turned


def test_a_sheet_is_found_as_it_is():
    mine = sheet_of(inches(7), inches(9))
    assert find_sheet(mine) is mine
    assert mine == Sheet("7x9in", inches(7), inches(9), "in", "")


def test_the_same_size_within_a_tolerance():
    a3, counter = find_sheet("A3"), find_sheet("11.7x16.5in")  # 297.18 × 419.1 mm
    assert a3.same_size(counter, millimetres("0.9"))
    assert not a3.same_size(counter, millimetres("0.89"))
    assert counter.same_size(a3, millimetres("0.9"))
    assert not a3.same_size(a3.turned(), millimetres(100))
    assert a3.same_size(a3, millimetres(0))


@pytest.mark.parametrize("text", ["poster", "", 13, None])
def test_refuses_a_name_nobody_knows(text):
    assert refusal(find_sheet, text) == (
        f"no sheet is called “{text}”: give a standard name such as A4 or letter "
        "(`labkit papers --all` lists them) or a size such as 13x19in."
    )


def test_refuses_a_size_without_a_unit():
    assert refusal(find_sheet, "13x19") == (
        "the size “13x19” has no unit: write 13x19in or 13x19mm."
    )


@pytest.mark.parametrize("text", ["0x19in", "13x0in"])
def test_refuses_a_size_of_nothing(text):
    assert refusal(find_sheet, text) == (
        "a sheet needs a width and a height above zero: give a size such as 13x19in."
    )


@thorough
@given(sheets)
def test_a_size_comes_back_from_its_text(sheet):
    found = find_sheet(sheet.size)
    assert found.same_size(sheet, length("0.0001in"))
    assert found.size == sheet.size


@thorough
@given(sheets)
def test_two_turns_are_none(sheet):
    assert sheet.turned().turned() == sheet
    assert (sheet.turned().width, sheet.turned().height) == (sheet.height, sheet.width)
