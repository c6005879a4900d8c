"""A class's prints laid by hand: figures worked by hand, what dragging and keys do, the answer kept back."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.files.gang.slug import SLUG_ROOM
from labkit.geometry.length import inches, length
from labkit.home import home
from labkit.lessons.roll_paper import by_hand
from labkit.room.laying import rolls_of
from labkit.teaching.by_hand import begun
from tests.lessons.hands import choose, drag, said
from tests.properties import examples

ENDS = length("90mm") + SLUG_ROOM
"""Leader 30 mm, tail 50, two edges of 5 that are not printed, and a line of type below the last print."""
BEGIN = length("35mm").inches
"""Where printing begins on the drawing: after the leader and one edge."""
NOOR, OTTO, PIA, QUIN, RHEA = "12345"


@pytest.fixture
def app():
    return by_hand()


def at(app, along, across, wide) -> tuple[float, float]:
    """A place on the drawing, for a print so wide: it is measured from the side that lies at the top."""
    usable = inches(24) - length("10mm")
    return float(BEGIN + inches(along).inches), float(
        (usable + length("5mm")).inches
    ) - across - wide


def test_one_below_another_hand_worked(app):
    """12 + 11 + 7 + 8 + 9 + 8 = 55 in, five gaps of 1/4 in, and both ends. 96 + 154 + 35 + 80 + 54 + 96 =
    515 of 24 × 59.963 square inches are print: 36 %. Twenty cuts: both ends, one side and Mina's other in the
    first 12 in, for no cut is longer than 44 in; then one side of all that is left, and Noor's; two in each
    of five gaps; and a side each of four that are narrower."""
    told = app.readings
    assert told["comes off the roll"] == (length("56 1/4in") + ENDS).both()
    assert told["no print on"] == "64% of it"
    assert {told[name] for name in ("overlap", "not printed whole", "nearer than 1/4 in")} == {
        "none"
    }
    assert told["straight cuts part"] == "all of them"
    assert told["the room's trimmer"] == "can make all 20 cuts"


def test_the_answer_is_kept_back_until_it_is_asked_for(app):
    taken = (app.state.answer.used + ENDS).both()
    shown = app.sentence, app.still, str(app.readings), app._read_off.value
    assert not any(taken in each or taken.split(" (")[0] in each for each in shown)
    choose(app, "is_theirs", True)
    assert taken in app.sentence
    assert app.readings["comes off the roll"] == taken
    longer = (length("56 1/4in") - app.state.answer.used).both()
    assert app.readings["yours is"] == f"{longer} longer"
    choose(app, "is_theirs", False)
    assert app.sentence.startswith("6 prints laid by hand")
    assert app.readings["the computer's takes"] == taken


def test_a_print_dragged_beside_another_snaps_a_gap_away(app):
    """Otto's 5 × 7 in beside Mina's 8 × 12 in: 8 1/4 in across."""
    drag(app, *at(app, 0.2, 8.6, 5), thing=OTTO)
    lying = app.state.loose.prints[2]
    assert (lying.left, lying.top) == (length("8 1/4in"), inches(0))
    told = app.readings
    assert told["chosen"] == "Otto, 5 × 7 in"
    assert told["it begins"] == "0 in along, 8 1/4 in across"
    assert told["it stands"] == "where printing begins; a gap from Mina"
    assert sorted((snap["axis"], snap["label"]) for snap in app.view.snaps)[-1] == (
        "y",
        "a gap from Mina",
    )
    assert app.view.place == app.view.things[OTTO]


def test_what_lies_on_another_is_named_and_drawn_so(app):
    drag(app, *at(app, 3, 2, 5), by="key", thing=OTTO)
    assert app.readings["overlap"] == "Mina and Otto"
    assert app.readings["straight cuts part"] == "not Mina and Otto"
    assert "On one another: Mina and Otto." in app.sentence
    assert "overlaps, or is not printed whole" in app.still
    choose(app, "is_theirs", True)
    assert app.readings["yours is"] == "not to be cut so yet"


def test_what_is_not_printed_whole_is_named(app):
    drag(app, *at(app, 0, 30, 10), thing=PIA)
    assert app.state.loose.prints[3].box.right == inches(24) - length("5mm")
    assert app.readings["not printed whole"] == "Pia"


def test_four_round_a_hole_like_the_sails_of_a_windmill(app):
    drag(app, *at(app, 12.25, 0, 12), thing=RHEA)
    choose(app, "chosen", 3)
    choose(app, "turned", True)
    drag(app, *at(app, 10.25, 12.25, 8), thing=PIA)
    drag(app, *at(app, 0, 8.25, 6), thing=QUIN)
    drag(app, *at(app, 31, 0, 14), thing=NOOR)
    assert app.readings["overlap"] == app.readings["nearer than 1/4 in"] == "none"
    assert app.readings["straight cuts part"] == "not Mina, Pia, Quin and Rhea"
    assert app.readings["the room's trimmer"] == "waits for straight cuts"


def test_a_press_alone_chooses_and_moves_nothing(app):
    before = app.state.loose
    drag(app, *app.view.things[PIA], by="pick", thing=PIA)
    assert (app.controls["chosen"].value, app.state.loose) == (3, before)


def key(app, by, way=(0, 0)):
    """As the script tells a key: the place a step further on."""
    left, top = app.view.place
    drag(app, left + way[0] / 16, top + way[1] / 16, by=by)


def test_keys_choose_turn_nudge_and_leap(app):
    key(app, "next")
    key(app, "next")
    assert app.state.chosen == 2
    key(app, "before")
    assert app.readings["chosen"] == "Noor, 14 × 11 in"
    key(app, "turn")
    assert app.readings["chosen"] == "Noor, 14 × 11 in, turned"
    assert app.controls["turned"].value
    key(app, "key", (1, 0))
    assert app.state.loose.prints[1].top == length("12 5/16in")
    key(app, "leap", (-1, 0))
    assert app.readings["it stands"] == "a gap from Mina; at the edge of what can be printed"
    key(app, "leap", (0, -1))  # upwards on the drawing is across the roll, away from its left side
    assert app.readings["it stands"] == "a gap from Mina; a gap from Otto"
    key(app, "leap", (0, -1))
    assert app.state.loose.boxes[1].right == app.state.loose.roll.width
    assert app.view.answered == app.view.asked["turn"]


def test_the_keys_are_all_told(app):
    for word in ("N chooses", "P the one before", "Arrow keys", "Shift", "T turns", "dragged"):
        assert word in app.view.help
    assert set(app.view.further_keys.values()) == {"next", "before", "turn", "leap"}


def test_the_computers_layout_is_not_moved(app):
    choose(app, "is_theirs", True)
    before = app.state
    drag(app, 0, 0, by="key")
    assert app.state == before
    assert said(app) == "this is the computer's layout: choose yours to go on with it."
    assert app.view.things == {}


def test_paper_that_may_not_be_turned(app):
    room = home().room()
    medium = replace(rolls_of(room)[1], turn=False)
    app.put(begun(medium, room))
    assert app.controls["turned"].layout.display == "none"
    key(app, "turn")
    assert "may not be turned" in said(app)


BYS = st.sampled_from(("drag", "key", "leap", "turn", "next", "before", "pick"))
FAR = st.floats(-1e5, 1e5) | st.floats(-2, 62)


@examples(60)
@given(asked=st.lists(st.tuples(st.integers(0, 5), FAR, FAR, BYS), min_size=1, max_size=5))
def test_wherever_prints_are_dragged_all_that_is_told_agrees(asked):
    app = by_hand()
    for thing, left, top, by in asked:
        drag(app, left, top, by=by, thing=str(thing))
        assert app.view.answered == app.view.asked["turn"]
        assert said(app) == ""
    loose, told = app.state.loose, app.readings
    assert told["comes off the roll"] == (max(box.bottom for box in loose.boxes) + ENDS).both()
    on = {frozenset(pair.split(" and ")) for pair in told["overlap"].split("; ") if pair != "none"}
    names = [each.name for each in loose.prints]
    assert on == {
        frozenset((names[one], names[other]))
        for one in range(6)
        for other in range(one)
        if min(loose.boxes[one].clipped(loose.boxes[other]).size) > inches(0)
    }
    drawn = re.findall(r'data-thing="(\d)"', app.still)
    assert sorted(drawn) == sorted(app.view.things)
    assert drawn[-1] == str(app.state.chosen)
    assert app.view.place == app.view.things[drawn[-1]]
