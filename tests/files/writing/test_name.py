"""Names of print files: safe on every disk, in any script, and read back."""

import unicodedata

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.files.writing.name import MOST_BYTES, MOST_CHARACTERS, file_name, read_name
from labkit.geometry.paper import catalogue, find_sheet
from tests.geometry.refused import refusal
from tests.properties import examples

PATTERN = "{owner}_{title}_{sheet}"
PATTERNS = [PATTERN, "{sheet}_{title}_{owner}", "print-2_{owner}_by-hand_{title} {sheet}"]
DEVICES = {"con", "prn", "aux", "nul"} | {
    f"{port}{n}" for port in ("com", "lpt") for n in range(10)
}
"""Names no file may bear on some systems, with any ending (from memory)."""


def named(owner="Nia Oak", title="Tide", sheet="13x19in", pattern=PATTERN) -> str:
    return file_name(pattern, owner=owner, title=title, sheet_label=sheet)


@pytest.mark.parametrize(
    ("owner", "title", "sheet", "stem"),
    [
        ("Nia Oak", "Tide", "13x19in", "Nia-Oak_Tide_13x19in"),
        ("  Nia   Oak ", "Tide, 3rd (last)!", "A3", "Nia-Oak_Tide-3rd-last_A3"),
        ("Zoë", "Möwe/Flug", "A4", "Zoë_Möwe-Flug_A4"),
        ("Nia_Oak", "low__tide", "A4", "Nia-Oak_low-tide_A4"),
        ("Nia", "..hidden.tif.", "A4", "Nia_hidden-tif_A4"),
        ("Nia", "-rf *", "A4", "Nia_rf_A4"),
        ("Nia", "../../etc", "A4", "Nia_etc_A4"),
        ("Nia", "Tide", "8.5x11in", "Nia_Tide_8.5x11in"),
        ("Nia", "Tide", "JIS B4", "Nia_Tide_JIS-B4"),
        ("CON", "NUL", "COM1", "CON_NUL_COM1"),
        ("山本 さくら", "海と空", "A2", "山本-さくら_海と空_A2"),
        ("Άννα", "Θάλασσα № 5", "A2", "Άννα_Θάλασσα-5_A2"),
        ("नीता", "नदी का तट", "A2", "नीता_नदी-का-तट_A2"),
        ("مريم", "بحر ٣", "A2", "مريم_بحر-٣_A2"),
        ("דנה", "גל", "A2", "דנה_גל_A2"),
        ("Ngũgĩ", "Ẹ̀kọ́", "A2", "Ngũgĩ_Ẹ̀kọ́_A2"),
        ("Nia", "wave 🌊 two", "A2", "Nia_wave-two_A2"),
        (7, 2026, "A2", "7_2026_A2"),
    ],
)
def test_names_by_hand(owner, title, sheet, stem):
    made = named(owner, title, sheet)
    assert made == unicodedata.normalize("NFC", stem)


def test_both_ways_of_writing_an_accent_give_one_name():
    assert named("Zoe\u0308") == named("Zo\u00eb") == "Zo\u00eb_Tide_13x19in"
    decomposed = unicodedata.normalize("NFD", named("Zoë"))
    assert read_name(PATTERN, decomposed)["owner"] == "Zo\u00eb"


def test_a_mark_on_nothing_is_dropped():
    assert named(title="\u0301tide !\u0301 two") == "Nia-Oak_tide-two_13x19in"


@pytest.mark.parametrize(
    ("stem", "read"),
    [
        ("Nia-Oak_Tide_13x19in", {"owner": "Nia Oak", "title": "Tide", "sheet": "13x19in"}),
        ("Nia_low-tide_8.5x11in", {"owner": "Nia", "title": "low tide", "sheet": "8.5x11in"}),
        # written by hand, with a space where the room puts a hyphen
        ("Nia Oak_low tide_A3", {"owner": "Nia Oak", "title": "low tide", "sheet": "A3"}),
        ("Nia_JIS_JIS-B4", {"owner": "Nia", "title": "JIS", "sheet": "JIS-B4"}),
        ("Nia_Tide", None),
        ("Nia_Tide_final_A3", None),
        ("Nia__A3", None),
        ("_Tide_A3", None),
        ("Nia_-_A3", None),
        ("Nia_ _A3", None),
        ("scan 0412", None),
        ("", None),
    ],
)
def test_names_read(stem, read):
    assert read_name(PATTERN, stem) == read


def test_fixed_words_and_another_order():
    pattern = "summer-show_{sheet}_{owner}_{title}"
    stem = named(pattern=pattern)
    assert stem == "summer-show_13x19in_Nia-Oak_Tide"
    assert read_name(pattern, stem) == {"owner": "Nia Oak", "title": "Tide", "sheet": "13x19in"}
    assert read_name(pattern, named()) is None


def test_every_sheet_can_be_found_again_by_the_name():
    for sheet in catalogue():
        for lying in (sheet, sheet.turned()):
            read = read_name(PATTERN, named(sheet=lying.label))
            assert find_sheet(read["sheet"]).same_size(lying, find_sheet("A10").width / 1000)


# Long names


def test_the_title_gives_way_first():
    stem = named(title="tide " * 40)
    assert len(stem) <= MOST_CHARACTERS
    assert stem.startswith("Nia-Oak_tide-tide-")
    assert stem.endswith("_13x19in")
    assert read_name(PATTERN, stem)["owner"] == "Nia Oak"


def test_a_name_as_long_as_allowed_is_left_alone():
    title = "t" * (MOST_CHARACTERS - len("Nia-Oak__13x19in"))
    assert read_name(PATTERN, named(title=title))["title"] == title
    assert len(named(title=title)) == len(named(title=title + "t")) == MOST_CHARACTERS


def test_bytes_count_as_well_as_characters():
    stem = named(title="海" * 100)
    assert MOST_BYTES - 3 < len(stem.encode()) <= MOST_BYTES
    assert set(read_name(PATTERN, stem)["title"]) == {"海"}


def test_then_the_owner_gives_way_and_the_sheet_never():
    stem = named(owner="o" * 300, title="t" * 300)
    assert stem == "o" * (MOST_CHARACTERS - len("_t_13x19in")) + "_t_13x19in"


def test_a_letter_is_never_parted_from_its_marks():
    letter = "x\u0323\u0306"  # a base with two marks, and no single character for them
    for before in range(60, 70):
        title = read_name(PATTERN, named(title="a" * before + letter * 40))["title"]
        assert title == "a" * before + letter * title.count("x")


def test_a_letter_with_more_marks_than_a_name_may_have():
    assert refusal(named, title="x" + "\u0323" * 130) == (
        "the file name cannot be made shorter than 141 characters (271 bytes), and it may have 120 "
        "(200): use plainer words for it."
    )


# Refusals


@pytest.mark.parametrize("empty", ["", "   ", None])
@pytest.mark.parametrize("field", ["owner", "title", "sheet"])
def test_a_missing_part(field, empty):
    assert refusal(named, **{field: empty}) == (
        f"the {field} is missing: a file's name says whose it is, what it is and what size it is, "
        f"so give {field}=…"
    )


@pytest.mark.parametrize("field", ["owner", "title", "sheet"])
def test_a_part_of_which_nothing_is_left(field):
    assert refusal(named, **{field: "*** _ /"}) == (
        f"nothing is left of the {field} “*** _ /” in a file name, which keeps letters and digits: "
        f"give {field} with at least one of them."
    )


@pytest.mark.parametrize("pattern", ["{owner}_{title}", "{owner}-{title}_{sheet}", "{owner"])
def test_a_pattern_that_cannot_be_used(pattern):
    """What a pattern may be is one rule: see tests/room/test_name_pattern.py."""
    sentence = refusal(named, pattern=pattern)
    assert sentence.startswith(f"the name pattern “{pattern}” ")
    assert refusal(read_name, pattern, "Nia_Tide_A3") == sentence


# For any words at all

words = st.text(max_size=200)
sheets = st.sampled_from([sheet.label for sheet in catalogue()] + ["8.5x11in", "420x297mm"])
anything = examples(400)


def made_of(pattern, owner, title, sheet) -> str:
    try:
        return named(owner, title, sheet, pattern)
    except LabError:
        assume(False)


@anything
@given(st.sampled_from(PATTERNS), words, words, sheets)
@example(PATTERN, "CON", "NUL", "COM1")
@example(PATTERN, "a\u200d\u0301", "\ud800x", "A3")
def test_any_name_is_safe(pattern, owner, title, sheet):
    stem = made_of(pattern, owner, title, sheet)
    assert 0 < len(stem) <= MOST_CHARACTERS
    assert len(stem.encode()) <= MOST_BYTES
    assert stem == unicodedata.normalize("NFC", stem)
    assert not set(stem) & set('/\\:*?"<>|\0')
    assert all(unicodedata.category(sign)[0] in "LMN" or sign in "-_. " for sign in stem)
    assert stem[0] not in "-. "
    assert stem[-1] not in "-. "
    assert stem.casefold() not in DEVICES


@anything
@given(st.sampled_from(PATTERNS), words, words, sheets)
def test_any_name_is_read_back_and_made_again(pattern, owner, title, sheet):
    stem = made_of(pattern, owner, title, sheet)
    read = read_name(pattern, stem)
    assert read["sheet"] == sheet.replace(" ", "-")
    assert named(read["owner"], read["title"], read["sheet"], pattern) == stem


@anything
@given(st.text(max_size=60))
@example("a_b_c_d")
@example("a__b")
def test_any_stem_is_read_or_is_none(stem):
    read = read_name(PATTERN, stem)
    if read is not None:
        assert stem.count("_") == 2
        assert all(
            any(unicodedata.category(sign)[0] in "LN" for sign in part) for part in read.values()
        )
