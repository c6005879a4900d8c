"""A print on the room's own sheets and rolls: what is read off, with figures worked by hand."""

import re
from dataclasses import replace

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.lessons.sheet_sizes.in_stock import OnRolls, OnStock, rolls, stock, stock_readings
from labkit.room.rules import SHIPPED, load_room
from labkit.teaching.pictures import demo_pictures
from tests.lessons.hands import choose, slide


def test_which_sheets_hold_it_and_what_is_left_over():
    """9 × 6 in with 1/2 in all round takes 10 × 7 in; letter has 93.5 in², 54 are printed."""
    assert stock().readings == {
        "print": "9 × 6 in (228.6 × 152.4 mm)",
        "letter": "holds it on its side",
        "A4": "holds it on its side",
        "A3": "holds it on its side or upright",
        "11 × 17 in": "holds it on its side or upright",
        "13 × 19 in": "holds it on its side or upright",
        "smallest": "letter, on its side",
        "left over on it": "39.5 sq in (255 cm²): 42%",
        "price of the sheet": "£2.40 on cotton matt 300; £1.60 on pearl 260; £0.30 on plain 120",
    }


@pytest.mark.parametrize(
    ("width", "border", "smallest", "left"),
    [
        ("15in", "1/2in", "11 × 17 in, on its side", "37 sq in (239 cm²): 20%"),  # 187 - 150
        (
            "15in",
            "3/4in",
            "A3, on its side",
            "43.3 sq in (280 cm²): 22%",
        ),  # 11.5 in high: A3 has 11.69
        ("15in", "1in", "13 × 19 in, on its side", "97 sq in (626 cm²): 39%"),  # 247 - 150
        ("17 1/4in", "3/4in", "13 × 19 in, on its side", "48.6 sq in (314 cm²): 20%"),  # 13 in high
        ("17 1/4in", "1in", "none: a roll, or a smaller print", None),
    ],
)
def test_the_smallest_sheet(width, border, smallest, left):
    app = stock()
    slide(app, "width", length(width))
    slide(app, "border", length(border))
    assert app.readings["smallest"] == smallest
    if left:
        assert app.readings["left over on it"] == left
        assert smallest.split(",")[0] in app.sentence
    else:
        assert "held by no sheet" in app.sentence


def test_the_printers_edges_count_as_border():
    """An 11 in wide print in the centre of A4, 11.693 in wide on its side: twice 7 mm, which is left where
    the sheet ends, make 11.551 in, twice the other printer's 12 mm 11.945."""
    app = stock()
    slide(app, "border", length("0in"))
    slide(app, "width", length("11in"))
    assert app.readings["A4"] == "holds it on its side"
    choose(app, "printer", "Bittern")
    assert app.readings["A4"] == "does not hold it"
    assert "for the printer Bittern" in app.sentence


def test_a_print_of_the_sheets_own_size_is_never_held():
    room = load_room()
    state = OnStock((110, 85), length("11in"), length("0in"), "Heron", True, room)
    assert not state.ways_it_holds(find_sheet("letter"))
    assert stock_readings(state, "in")[1] == ("letter", "does not hold it")


def test_the_sheets_are_drawn_the_way_that_is_chosen():
    app = stock()
    assert {each.sheet.is_turned for each in app.state.laid} == {False}
    choose(app, "is_turned", True)
    assert {each.sheet.is_turned for each in app.state.laid} == {True}
    assert [each.is_smallest for each in app.state.laid] == [True, False, False, False, False]
    assert "drawn on their side" in app.sentence


def test_an_upright_picture_needs_no_turning():
    app = stock(demo_pictures()[1].file)  # 3 : 4
    assert app.readings["print"] == "9 × 12 in (228.6 × 304.8 mm)"
    # 10 × 13 in with its border
    assert app.readings["smallest"] == "11 × 17 in, upright"


# Rolls


def test_what_a_print_takes_of_every_roll():
    """20 × 13 1/3 in; 24 in less 10 mm are usable; the piece is 10 mm longer than the print. 0.34867 m at
    £20.00 a metre are £6.97, at £15.00 £5.23."""
    told = rolls().readings
    assert told["across × along"] == "20 × 13.333 in (508 × 338.7 mm)"
    assert told["17 in roll: usable width"] == "16.606 in (421.8 mm)"
    assert told["17 in roll"] == "too narrow by 3.394 in (86.2 mm)"
    assert told["24 in roll: usable width"] == "23.606 in (599.6 mm)"
    assert told["24 in roll: piece cut off"] == "13.727 in (348.7 mm)"
    assert told["24 in roll: price"] == "£6.97 on cotton matt 300; £5.23 on pearl 260"
    assert told["24 in roll: wasted"] == "62.8 sq in (405 cm²): 19%"  # 329.45 - 266.67
    assert told["24 in roll: prints out of 30 m"] == "86"  # 30 000 / 348.67
    assert "17 in roll: piece cut off" not in told


def test_the_other_way_it_fits_a_narrower_roll():
    app = rolls()
    choose(app, "is_turned", True)
    assert app.readings["across × along"] == "13.333 × 20 in (338.7 × 508 mm)"
    assert app.readings["17 in roll: piece cut off"] == "518 mm (20.39 in)"
    # 24 × 20.394 in are 489.4 in²: 222.8 of them wasted
    assert app.readings["24 in roll: wasted"] == "223 sq in (1437 cm²): 46%"
    assert "rotate(90)" in app.still


def test_the_longest_print_is_60_in_and_stays_inside():
    app = rolls(demo_pictures()[1].file)
    slide(app, "width", length("45in"))
    assert app.readings["across × along"] == "45 × 60 in (1143 × 1524 mm)"
    assert app.controls["width"]._slider.max == 45


def test_without_a_roll_feed_the_first_printers_edges_are_taken():
    room = load_room()
    room = replace(room, printers=room.printers[:1])
    assert OnRolls((3, 2), length("6in"), False, room).edges == room.printers[0].sheet.unprintable


def test_one_roll_is_enough(own_folder):
    whole = SHIPPED.read_text(encoding="utf-8")
    one = "\n".join(
        line for line in whole.split("\n") if not re.match(r'  \{ width = "(17|24|36)in"', line)
    )
    one = one.replace("rolls = [\n]\n", "")
    (own_folder / "room.toml").write_text(one, encoding="utf-8")
    assert [key for key in rolls().readings if key.endswith("usable width")] == [
        "44 in roll: usable width"
    ]


# All of it


@pytest.mark.parametrize(
    ("make", "name", "values"),
    [
        (stock, "width", ["4in", "12in"]),
        (stock, "border", ["0in", "2in"]),
        (rolls, "width", ["8in", "22in"]),
    ],
)
def test_every_slider_changes_sentence_drawing_and_figures(make, name, values):
    app, seen = make(), []
    for value in values:
        slide(app, name, length(value))
        seen.append((app.sentence, app.still, str(app.readings)))
    for one, other in zip(*seen, strict=True):
        assert one != other


@pytest.mark.parametrize(
    ("make", "name", "values"),
    [
        (stock, "printer", ["Heron", "Bittern"]),
        (stock, "is_turned", [False, True]),
        (rolls, "is_turned", [False, True]),
    ],
)
def test_every_choice_changes_sentence_and_drawing(make, name, values):
    app, seen = make(), []
    for value in values:
        choose(app, name, value)
        seen.append((app.sentence, app.still))
    for one, other in zip(*seen, strict=True):
        assert one != other


@pytest.mark.parametrize("make", [stock, rolls])
def test_millimetres_come_first_where_asked(make):
    app = make()
    choose(app, "units", "mm")
    first = next(iter(app.readings.values()))
    assert " mm (" in first
    assert app.sentence.index(" mm") < app.sentence.index(" in)")
