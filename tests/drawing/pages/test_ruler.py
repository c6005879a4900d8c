"""The page of a ruler sheet: all that is measured, a place for each figure, nothing from elsewhere."""

import re
from html import unescape

import pytest

from labkit.drawing.pages.ruler import MEASURES, asked, measures, ruler_page, steps
from labkit.geometry.length import inches
from labkit.room.measures import MEASURED
from labkit.room.rules import load_room
from labkit.room.ruling import ruling_on_roll, ruling_on_sheet

ROOM = load_room()
SHEET, ROLL = ruling_on_sheet(ROOM, "13x19in"), ruling_on_roll(ROOM, inches(24))


def test_the_page_asks_for_what_can_be_entered():
    assert tuple(MEASURES) == MEASURED


def test_the_ends_of_a_roll_are_cut_by_hand_and_not_measured():
    assert set(MEASURES) - set(measures(ROLL)) == {"top", "bottom"}
    assert not any("TOP" in step for step in steps(ROLL))


def test_what_it_should_come_to():
    assert asked(SHEET, "across") == "12 in or 310 mm"
    assert asked(SHEET, "along", "mm") == "460 mm or 18 in"
    assert asked(SHEET, "left") == "1 in (25.4 mm)"


@pytest.mark.parametrize("ruling", [SHEET, ROLL], ids=["sheet", "roll"])
def test_a_page_has_a_row_for_each_measure_and_three_places_in_it(ruling):
    page = ruler_page(ruling, ROOM, "ruler.tif")
    rows = re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', page)
    assert [name.replace(" ", "-") for name, _ in rows] == list(measures(ruling))
    assert all(row.count('class="entry"') == 3 for _, row in rows)
    assert "Follow the rules of this room" in page
    assert not re.search(r"(?:src|href)=\"(?!#|data:)", page)


def test_the_command_it_gives_is_the_one_for_this_paper():
    assert (
        'labkit ruler read --roll "24in" --printer "Bittern" --paper "cotton matt 300"'
        in unescape(ruler_page(ROLL, ROOM, "ruler.tif"))
    )
