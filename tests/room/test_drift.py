"""Where a setting was measured to come out of true by more than matters, the print's warning says so."""

from dataclasses import replace

import pytest

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.paper import find_sheet
from labkit.room.drift import drift
from labkit.room.laying import medium_on_roll, medium_on_sheet
from labkit.room.rules import load_room

ROOM = load_room()


def route(sheet: str, **measured):
    found = ROOM.route(find_sheet(sheet), "cotton matt 300")
    changed = replace(found.setting.measured, **measured)
    return replace(found, setting=replace(found.setting, measured=changed))


def piece(width, height, left=ZERO, top=ZERO) -> Box:
    """A print of so many inches, as it lies in its file."""
    return Box(left, top, inches(width), inches(height))


def test_half_a_millimetre_on_a_sheet_is_less_than_a_cut_may_be_off():
    """0.1 % of 18 in along the feed is 0.46 mm; the trimmer's tolerance is 1/32 in, 0.79 mm."""
    assert drift(route("13x19in"), piece(12, 18), ROOM) == ""


def test_what_is_more_is_told_with_both_figures():
    """0.5 % of 18 in is 0.09 in, 2.3 mm."""
    told = drift(route("13x19in", along=1 - length("0.005in").inches), piece(12, 18), ROOM)
    assert "18 in (457.2 mm) along the feed come out 0.09 in (2.3 mm) too short" in told
    assert "measured 2026-09-07" in told
    assert "the file stays at 100 %" in told


def test_a_sheet_on_its_side_goes_in_with_its_left_edge_first():
    long = route("19x13in", along=1 + length("0.005in").inches)
    told = drift(long, piece(18, 12), ROOM)
    assert "18 in (457.2 mm) along the feed come out 0.09 in (2.3 mm) too long" in told


def test_what_the_prints_differ_by_is_no_error():
    wide = route("13x19in", along=1 - length("0.005in").inches, spread=length("0.006in").inches)
    assert drift(wide, piece(12, 18), ROOM) == ""


def test_an_error_along_the_feed_adds_up_from_the_edge_that_goes_in_first():
    """0.5 % of 10 in is 0.05 in: so much too soon begins a print that lies 10 in down, and one that lies at
    the edge does not. 0.05 in of offset the other way make it right again, there and only there."""
    short = {"along": 1 - length("0.005in").inches}
    at_edge = drift(route("13x19in", offset_along=ZERO, **short), piece(1, 1), ROOM)
    below = drift(route("13x19in", offset_along=ZERO, **short), piece(1, 1, top=inches(10)), ROOM)
    assert at_edge == ""
    assert "begins 0.05 in (1.3 mm) off, towards the edge that goes in first" in below
    late = route("13x19in", offset_along=length("0.05in"), **short)
    assert drift(late, piece(1, 1, top=inches(10)), ROOM) == ""
    assert "begins 0.05 in (1.3 mm) off, away" in drift(late, piece(1, 1), ROOM)


def test_on_its_side_it_adds_up_from_the_left():
    turned = route("19x13in", offset_along=ZERO, along=1 + length("0.005in").inches)
    told = drift(turned, piece(1, 1, left=inches(10)), ROOM)
    assert "begins 0.05 in (1.3 mm) off, away from the edge" in told
    assert drift(turned, piece(1, 1, top=inches(10)), ROOM) == ""


@pytest.mark.parametrize(
    ("moved", "told"),
    [
        ({"offset_across": length("1mm")}, "lies 1 mm (0.039 in) off, to the right"),
        ({"offset_across": -length("1mm")}, "lies 1 mm (0.039 in) off, to the left"),
        ({"offset_along": -length("2mm")}, "off, towards the edge that goes in first"),
    ],
)
def test_an_offset_is_told_by_its_way(moved, told):
    said = drift(route("13x19in", **moved), piece(1, 1), ROOM)
    assert told in said


def test_what_is_laid_out_on_sheets_and_rolls_knows_its_setting_and_which_edge_goes_in_first():
    upright, lying = (
        medium_on_sheet(ROOM, size, "cotton matt 300") for size in ("13x19in", "19x13in")
    )
    assert upright.setting == lying.setting == route("13x19in").setting
    assert (upright.is_turned, lying.is_turned) == (False, True)
    assert medium_on_roll(ROOM, inches(24), "cotton matt 300").setting.path == "roll"


def test_nothing_measured_nothing_told():
    found = ROOM.route(find_sheet("13x19in"), "rag board 450")
    assert found.setting.measured is None
    assert drift(found, piece(12, 18), ROOM) == ""
