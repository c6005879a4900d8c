"""What of a room's stock prints are laid out on."""

from dataclasses import replace

import pytest

from labkit.room.laying import rolls_of
from labkit.room.rules import load_room
from tests.geometry.refused import refusal

ROOM = load_room()
SHEETS_ALONE = replace(ROOM, papers=tuple(replace(paper, rolls=()) for paper in ROOM.papers))


def test_the_rolls_of_the_paper_with_most_of_them_the_narrowest_first():
    rolls = rolls_of(ROOM)
    most = max(len(paper.rolls) for paper in ROOM.papers)
    assert len(rolls) == most == len(rolls[0].paper.rolls)
    assert [roll.width for roll in rolls] == sorted(roll.width for roll in rolls)


@pytest.mark.parametrize("paper", [None, ROOM.papers[0].name])
def test_a_room_without_any_roll_is_told_so(paper):
    assert refusal(rolls_of, SHEETS_ALONE, paper).startswith(
        f"no paper at {ROOM.name} is kept on a roll: add one to the room's file."
    )
