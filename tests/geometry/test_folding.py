"""A sheet in half: the series themselves are checked in tests/standards/test_series.py."""

from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.folding import folds, halved
from labkit.geometry.holding import area
from labkit.geometry.length import inches
from labkit.geometry.paper import catalogue, find_sheet
from tests.geometry.refused import refusal


def test_half_of_a_sheet_on_its_side_is_the_same():
    assert halved(find_sheet("A3").turned()) == halved(find_sheet("A3")) == find_sheet("A4")


def test_millimetres_are_rounded_down_and_inches_are_exact():
    assert halved(find_sheet("A4")).width.mm == 148  # half of 297 is 148.5
    small = halved(find_sheet("9.5x13.5in"))
    assert (small.width, small.height) == (inches("6.75"), inches("9.5"))
    assert small.name == "6.75x9.5in"


def test_a_long_strip_is_upright_again_when_its_half_is_longer_than_it_is_wide():
    assert halved(find_sheet("2x10in")).name == "2x5in"


def test_no_folds_leave_the_sheet():
    assert folds(find_sheet("A0"), 0) == (find_sheet("A0"),)


def test_a_sheet_of_one_millimetre_is_not_halved():
    told = refusal(halved, find_sheet("1x1mm"))
    assert told.startswith("1 × 1 mm")
    assert told.endswith("cannot be halved: nothing of it would be left.")


@given(st.sampled_from(catalogue()))
def test_two_halves_are_no_more_than_the_whole_and_all_but_it(sheet):
    half = halved(sheet)
    assert not half.is_turned
    halves, whole = 2 * area(half.width, half.height), area(sheet.width, sheet.height)
    assert halves <= whole
    lost = sheet.width.mm if sheet.unit == "mm" else 0  # up to a millimetre of its long side
    assert whole - halves <= lost
