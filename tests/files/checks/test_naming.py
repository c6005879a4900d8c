"""What a hand-in's name tells: whose, what and what size; and what of it does not travel."""

import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.checks.name_parts import read_file_name
from labkit.files.checks.naming import name_findings
from labkit.files.writing.name import MOST_CHARACTERS, file_name
from labkit.geometry.paper import catalogue, find_sheet
from tests.files.sheets import keeping, room_with, shipped
from tests.properties import examples

SIZE_FIRST = "show_{sheet}_{title}_{owner}"


def told(name, sheet="A3", pattern=None):
    """The findings on a name, by their codes."""
    room = room_with("", name_pattern=pattern) if pattern else shipped()
    sheet = sheet and find_sheet(sheet)
    found = name_findings(Path("hand-ins") / name, sheet, room)
    assert len({one.code for one in found}) == len(found)
    return {one.code: one for one in found}


def expected(finding) -> str:
    """The name that a remedy asks for."""
    return re.fullmatch(r"(?:Rename it to|Name the finished TIFF) (.+)\.tif\.", finding.remedy)[1]


# Names that say it all


@pytest.mark.parametrize(
    ("name", "sheet"),
    [
        ("Nia-Oak_boat_A3.tif", "A3"),
        ("Nia Oak_low tide_A3.TIFF", "A3"),
        ("Nia_boat_a3.tif", "A3"),  # there are people of one name
        ("Nia-Oak_boat_13x19in.tif", "13x19in"),
        ("Nia-Oak_boat_13x19in.tif", "19x13in"),
        ("Nia-Oak_boat_19x13.tif", "13x19in"),
        ("Nia-Oak_boat_13×19.tif", "13x19in"),
        ("Nia-Oak_boat_8½x11in.tif", "letter"),
        ("Nia-Oak_boat_8.5x11", "letter"),  # no ending
        ("Nia-Oak_boat_letter.tif", "11x8.5in"),
        ("Nia-Oak_boat_11.7x16.5.tif", "A3"),  # as A3 is called at a counter
        ("Nia-Oak_boat_297x420.tif", "A3"),
        ("Nia-Oak_boat_30x42cm.tif", "A3"),
        ("Nia-Oak_boat_33x48.tif", "13x19in"),
        ("Nia-Oak_grid-4x6_13x19in.tif", "13x19in"),
        ("Nia-Oak_untitled_A3.tif", "A3"),
        ("山本さくら_海と空_A3.tif", "A3"),
        ("مريم نور_بحر_A3.tif", "A3"),
        ("नीता-दास_नदी का तट_A3.tif", "A3"),
        ("Nia-Oak_boat_13x19in.tif", None),
    ],
)
def test_a_name_that_says_it_all(name, sheet):
    assert told(name, sheet) == {}


def test_accents_kept_apart_are_for_information():
    """NFD, as Unicode Standard Annex 15 defines it: the file system wrote it so, not its owner."""
    name = unicodedata.normalize("NFD", "Zoë-Oak_Möwe_A3.tif")
    finding = told(name)["name-characters"]
    assert (finding.grade, finding.remedy) == ("fine", "")
    assert told(name) == {"name-characters": finding}


# Names that say something


@pytest.mark.parametrize(
    ("name", "sheet", "reason", "better"),
    [
        ("Nia-Oak_boat.tif", "19x13in", "does not say what size", "Nia-Oak_boat_19x13in"),
        ("Nia_Oak_boat.tif", "A3", "does not say what size", "Nia-Oak_boat_A3"),
        ("beach.tif", None, "does not say what size", "Your-Name_Its-Title_Its-Size"),
        ("love letter.tif", "A3", "does not say what size", "Your-Name_Its-Title_A3"),
        ("nia_low_tide.tif", "A3", "does not say what size", "Your-Name_Its-Title_A3"),
        ("Nia-Oak_v2x3.tif", "A3", "does not say what size", "Your-Name_Its-Title_A3"),
        ("Nia-Oak_boat_1920x1080.tif", "A3", "does not say what size", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3+.tif", "13x19in", "“A3+” means several sizes", "Nia-Oak_boat_13x19in"),
        ("beach 8x10.tif", None, "no underscore parts whose", "Your-Name_Its-Title_8x10in"),
        ("Nia-Oak-boat-A3.tif", "A3", "no underscore parts whose", "Your-Name_Its-Title_A3"),
        (
            "Nia_Oak_boat_11x17.tif",
            "11x17in",
            "not by the pattern: whose, what",
            "Nia-Oak_boat_11x17in",
        ),
        ("Nia-Oak_low_tide_A3.tif", "A3", "not by the pattern: whose, what", "Nia-Oak_low-tide_A3"),
        ("Nia Oak - boat - A3.tif", "A3", "not by the pattern: whose, what", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3_final.tif", "A3", "not by the pattern: whose, what", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3.jpg.tif", "A3", "not by the pattern: whose, what", "Nia-Oak_boat_A3"),
        ("نور مريم_بحر.tif", "A3", "does not say what size", "نور-مريم_بحر_A3"),
        ("13x19.tif", "13x19in", "a size and nothing else", "Your-Name_Its-Title_13x19in"),
        ("+.tif", "A3", "which says nothing", "Your-Name_Its-Title_A3"),
    ],
)
def test_a_name_that_does_not_follow_the_pattern(name, sheet, reason, better):
    found = told(name, sheet)
    assert set(found) == {"name"}
    assert found["name"].grade == "look"
    assert f"named “{name}”" in found["name"].found
    assert reason in found["name"].found
    assert expected(found["name"]) == better


def test_an_owner_of_one_word_is_asked_about_only_beside_something_else():
    assert "(is “Nia” the whole name?)" in told("Nia_boat.tif")["name"].found
    assert "whole name" not in told("山本_海.tif")["name"].found
    assert told("Nia_boat_A3.tif") == {}


def test_a_pattern_of_another_order():
    assert told("show_A3_boat_Nia-Oak.tif", pattern=SIZE_FIRST) == {}
    for name in ("boat_Nia-Oak_A3.tif", "A3_boat_Nia-Oak.tif", "show_boat_Nia-Oak.tif"):
        assert expected(told(name, pattern=SIZE_FIRST)["name"]) == "show_A3_boat_Nia-Oak"


# Names nobody gave


@pytest.mark.parametrize(
    "name",
    [
        # four free characters and four digits: the Design rule for Camera File system (from memory)
        "ABCD0412.jpg", "QM__0412.JPG", "N1010203.tif", "XYZ00123.tif", "0412.tif", "scan 0412.tif",
        "Scan_0412 8x10.tif",
        "20240611_142233.jpg", "2024-06-11 14.22.33.jpg", "AB-20240611-0003.jpg",
        "Screenshot 2024-06-11.png", "1718101353123.jpg",
        "3f2a9c1e-7b44-4c1d-9e0a-1234567890ab.jpg", "9f86d081884c7d65.jpg",
        "スクリーンショット 2024-06-11.png",
    ],
)  # fmt: skip
def test_a_running_number_a_date_or_a_code(name):
    found = told(name)
    assert "name" not in found
    assert "with a running number, a date or a code" in found["name-camera"].found
    assert expected(found["name-camera"]) == "Your-Name_Its-Title_A3"
    assert found["name-camera"].grade == "look"


@pytest.mark.parametrize(
    "name",
    [
        "untitled.tif", "Untitled-1.tif", "image (3).jpg", "final final v2.tif", "Final_FINAL_print.tif",
        "A3 final.tif", "无标题.tif", "unbenannt.tif", "page 2.tif", "image.jpg.tif",
    ],
)  # fmt: skip
def test_words_that_stand_in_any_name(name):
    found = told(name)
    assert set(found) == {"name-camera"}
    assert "nothing but words that stand in any name" in found["name-camera"].found


@pytest.mark.parametrize(
    ("name", "better"),
    [
        ("Copy of Nia-Oak_boat_A3.tif", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3 (2).tif", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3 - Copy.tif", "Nia-Oak_boat_A3"),
        ("Nia-Oak_boat_A3_copy 2.tif", "Nia-Oak_boat_A3"),
        ("Nia_Oak_boat_A3(1).tif", "Nia-Oak_boat_A3"),
        ("copy of boat.tif", "Your-Name_Its-Title_A3"),
    ],
)
def test_a_second_copy(name, better):
    found = told(name)
    assert set(found) == {"name-camera"}
    assert "as a program names a second copy" in found["name-camera"].found
    assert expected(found["name-camera"]) == better


@pytest.mark.parametrize(
    "name", ["beach 0412.tif", "Nia 3.tif", "dune2024.tif", "facade.tif", "ABCDE.tif"]
)
def test_a_word_of_ones_own_is_no_camera_name(name):
    assert set(told(name)) == {"name"}


# The size in the name against the size of the file


@pytest.mark.parametrize(
    ("name", "sheet", "named"),
    [
        ("Nia-Oak_boat_A3.tif", "13x19in", "A3"),
        ("Nia-Oak_boat_12x18.tif", "13x19in", "12x18"),
        ("Nia-Oak_boat_letter.tif", "A4", "letter"),
        ("Nia-Oak_boat_297x420mm.tif", "13x19in", "297x420mm"),
        ("Nia-Oak_boat_30x40cm.tif", "A3", "30x40cm"),
        ("Nia_Oak_boat_11x17.tif", "13x19in", "11x17"),
        ("Nia_Oak_boat_letter.tif", "A3", "letter"),
        ("beach 8x10.tif", "13x19in", "8x10"),
        ("box 4x6.tif", "A3", "4x6"),
        ("beach 20 x 30 cm.tif", "13x19in", "20 x 30 cm"),
        ("beach SRA3.tif", "A3", "SRA3"),
        ("beach-a4-print.tif", "A3", "a4"),
    ],
)
def test_another_size_than_the_file(name, sheet, named):
    finding = told(name, sheet)["name-size"]
    assert finding.grade == "look"
    assert finding.found.startswith(f"the name says {named}, and the file is ")


def test_it_is_told_in_both_units_and_the_name_to_have_follows_the_file():
    found = told("Nia_Oak_boat_11x17.tif", "13x19in")
    assert found["name-size"].found == (
        "the name says 11x17, and the file is 13 × 19 in (330.2 × 482.6 mm)"
    )
    assert expected(found["name"]) == "Nia-Oak_boat_13x19in"


@pytest.mark.parametrize(
    "name",
    [
        "beach v2x3.tif", "beach 16x9.tif", "beach 3x2.tif", "beach 1920x1080.tif", "2x3x4 beach.tif",
        "beach 8x10px.tif", "beach 0x0in.tif", "beachA4.tif", "beach A4+.tif", "beach A11.tif",
        "love letter.tif", "beach 8x10 A3.tif", "beach 11x17in or A3.tif",
        "box 4 x 6 x 8.tif", "box 4×6×8.tif", "4in x 6in x 8in.tif", "4×6×8b.tif",
        "beach A4 plus.tif", "love_letter.tif",
    ],
)  # fmt: skip
def test_what_is_no_size_or_agrees_is_not_told(name):
    assert "name-size" not in told(name, "A3")


@given(st.sampled_from(catalogue()), st.sampled_from(catalogue()))
@examples(150)
def test_a_size_agrees_with_its_own_sheet_either_way_round_and_no_other(named, sheet):
    found = told(f"Nia-Oak_boat_{named.label}.tif", sheet.turned())
    apart = max(abs(named.width - sheet.width), abs(named.height - sheet.height)).mm
    assume(not 1.7 < apart < 5.1)  # sizes so near are one to some
    assert ("name-size" in found) == (apart > 2)


# Characters that do not travel


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("Nia-Oak_boat?_A3.tif", "has “?”, which not every system takes"),
        ('Nia-Oak_"boat"<>:|*\\_A3.tif', 'has “"”, “*”, “:”, “<”, “>”, “\\” and “|”'),
        ("Nia-Oak_boat\n_A3.tif", "has characters that nobody sees (U+000A)"),
        ("Nia-Oak\u202e_boat_A3.tif", "(U+202E)"),
        ("Nia-Oak_bo\udce9at_A3.tif", "(U+DCE9)"),
        ("Nia-Oak_boat_A3 .tif", "ends in a space"),
        ("Nia-Oak_boat_A3.tif.", "ends in a dot"),
        ("Nia-Oak_boat_A3.tif ", "ends in a space"),
        (".Nia-Oak_boat_A3.tif", "begins with a dot, which hides it"),
        (
            "Nia-Oak_boat#_A3.tif",
            "has “#”, which some programs and services take for something else",
        ),
        ("Nia-Oak_bo & at%_A3.tif", "has “%” and “&”, "),
        ("Nia-Oak_boat🏖️_A3.tif", "has “🏖”, which some programs"),
        ("-Nia-Oak_boat_A3.tif", "begins with a hyphen, which programs take for an option"),
    ],
)
def test_characters_that_do_not_travel(name, reason):
    found = told(name)
    assert set(found) == {"name-characters"}
    assert reason in found["name-characters"].found
    assert found["name-characters"].grade == "look"
    assert expected(found["name-characters"]) in ("Nia-Oak_boat_A3", "Nia-Oak_bo-at_A3")


@pytest.mark.parametrize("name", ["CON.tif", "lpt1.tif", "com3.boat.tif", "nul", "Aux .tif"])
def test_names_of_devices(name):
    assert "some systems keep for a device" in told(name)["name-characters"].found


@pytest.mark.parametrize(
    "name", ["console.tif", "com10.tif", "Con-Oak_boat_A3.tif", "نیم\u200cروز_ب_A3.tif"]
)
def test_what_only_resembles_them_travels(name):
    assert "name-characters" not in told(name)


def test_long_names():
    fits = f"Nia-Oak_{'t' * (MOST_CHARACTERS - len('Nia-Oak__A3'))}_A3"
    assert told(f"{fits}.tif") == {}
    found = told(f"{fits.replace('t_', 'tt_')}.tif")
    assert (
        "is 121 characters long (121 bytes), more than the 120 (200)"
        in found["name-characters"].found
    )
    assert expected(found["name-characters"]) == fits
    assert "(229 bytes)" in told(f"Nia_{'海' * 74}_A3.tif")["name-characters"].found
    assert "(300 bytes)" in told("x" * 300)["name-characters"].found


# Reading back


def test_what_a_name_says():
    room = shipped()
    says = {"owner": "Nia Oak", "title": "low tide", "sheet": "A3"}
    for name in (
        "Nia-Oak_low-tide_A3.tif",
        "Nia Oak_low tide_A3 (2).jpg",
        "copy of Nia-Oak_low-tide_A3",
    ):
        assert read_file_name(Path(name), room) == says
    assert read_file_name(Path("Nia_low_tide.tif"), room) is None


# For any name at all

SCRIPTS = (
    "Latin", "abcZÉß", "ΑΒγδ", "Жищй", "אבגד", "ابتث", "नदीका", "กขค", "海空さくらカ", "한국어", "ẸọŁ",
    "0123 -_.",
)  # fmt: skip
words = st.one_of(
    *(st.text(st.sampled_from(script), min_size=1, max_size=12) for script in SCRIPTS),
    st.text(max_size=150),
    st.sampled_from(
        ["untitled", "copy", "Copy of", "CON", "final final v2", "IMG", "0412", "8x10", "A3"]
    ),
)
lying = st.sampled_from(catalogue()).flatmap(lambda sheet: st.sampled_from([sheet, sheet.turned()]))
patterns = st.sampled_from(
    [None, SIZE_FIRST, "{sheet}_{title}_ {owner}", "{title}_{sheet}_{owner}"]
)
forms = st.sampled_from(["NFC", "NFD"])


@given(words, words, lying, patterns, forms)
@examples(500)
@example("IMG", "0412", find_sheet("A3"), None, "NFC")
@example("Nia copy", "boat", find_sheet("A3"), SIZE_FIRST, "NFC")
@example("copy", "copy of", find_sheet("A3"), "{sheet}_{title}_ {owner}", "NFC")
def test_a_name_that_prepare_makes_is_never_found_fault_with(owner, title, sheet, pattern, form):
    asked = pattern or shipped().name_pattern
    try:
        stem = file_name(asked, owner=owner, title=title, sheet_label=sheet.label)
    except LabError:
        assume(False)
    found = told(f"{unicodedata.normalize(form, stem)}.tif", sheet, pattern)
    assert all(one.grade == "fine" for one in found.values())
    assert form == "NFD" or not found


@given(st.text(st.characters(exclude_characters="/\0"), min_size=1, max_size=80), lying, patterns)
@examples(300)
@example("..", find_sheet("A3"), None)
@example("f" * 250 + "z", find_sheet("A3"), None)
@example("1" * 250, find_sheet("A3"), None)
def test_the_name_to_have_is_one_that_is_never_found_fault_with(name, sheet, pattern):
    assume(name != ".")
    found = told(name, sheet, pattern)
    assert not {"name", "name-camera"} <= set(found)
    for code in {"name", "name-camera", "name-characters"} & set(found):
        if found[code].grade == "fine":
            continue
        better = expected(found[code])
        assert told(f"{better}.tif", sheet, pattern) == {}


def test_the_room_s_own_sheets_count_as_known():
    room = shipped()
    odd = keeping(room, *(sheet.name for sheet in room.sheets), "9x21in")
    a3 = find_sheet("A3")
    assert [one.code for one in name_findings(Path("beach 9x21.tif"), a3, room)] == ["name"]
    assert [one.code for one in name_findings(Path("beach 9x21.tif"), a3, odd)] == [
        "name",
        "name-size",
    ]
