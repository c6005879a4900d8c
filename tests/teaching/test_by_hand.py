"""A class's prints laid by hand: how they begin on any roll, and the computer's layout of them."""

from dataclasses import replace

import pytest

from labkit.errors import LabError
from labkit.geometry.length import inches, length
from labkit.geometry.packing import pack
from labkit.room.laying import rolls_of
from labkit.room.rules import load_room
from labkit.teaching.by_hand import begun

ROOM = load_room()
SEVENTEEN, TWENTY_FOUR = rolls_of(ROOM)[:2]


def names(state):
    return [each.name for each in state.loose.prints]


def test_they_begin_one_below_another_and_can_be_cut_so():
    for medium in rolls_of(ROOM):
        loose = begun(medium, ROOM).loose
        assert loose.is_sound
        assert [each.left for each in loose.prints] == [inches(0)] * 6
        assert loose.used == length("56 1/4in")  # 12 + 11 + 7 + 8 + 9 + 8 in, five gaps of 1/4 in


def test_on_a_narrow_roll_one_is_turned_or_left_out():
    """12 in less 10 mm are 11.606 in: Noor's 14 × 11 in and Rhea's 12 × 8 in only fit turned."""
    narrow = replace(SEVENTEEN, width=inches(12))
    turned = [each.name for each in begun(narrow, ROOM).loose.prints if each.turned]
    assert turned == ["Noor", "Rhea"]
    one_way = begun(replace(narrow, turn=False), ROOM)
    assert names(one_way) == ["Mina", "Otto", "Pia", "Quin"]
    with pytest.raises(LabError, match="no print of the class is narrow enough for the 4 in roll"):
        begun(replace(SEVENTEEN, width=inches(4)), ROOM)


def test_the_answer_is_proven_and_beats_rows():
    """24 1/2 in against 26 1/2 in, as the teaching notes say; both proven."""
    state = begun(TWENTY_FOUR, ROOM)
    loose = state.loose
    rows = pack(
        [each.piece for each in loose.prints], loose.roll, gap=loose.gap, cutter=loose.cutter,
        seconds=None, steps=150,
    )  # fmt: skip
    assert (state.answer.proven, rows.proven) == (True, True)
    assert (state.answer.used, rows.used) == (length("24 1/2in"), length("26 1/2in"))


def test_the_answer_laid_by_hand_is_as_long_and_sound():
    """The other way round: what the search makes, this says can be cut."""
    state = begun(TWENTY_FOUR, ROOM)
    margins = state.loose.roll.margins
    assert state.theirs.is_sound
    assert state.theirs.paper.height == margins.top + state.answer.used + margins.bottom
    assert state.theirs.waste == state.answer.waste
    assert len(state.theirs.parting.cuts) <= len(state.answer.cuts)
