"""At the printer: what scaling, centring and turning do to a file, and how it goes in."""

from fractions import Fraction

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.lessons.at_the_counter import at_printer
from labkit.lessons.at_the_counter.at_printer import Printing
from labkit.lessons.parts.placing import BY_HAND, Placing
from labkit.room.rules import load_room
from tests.lessons.hands import choose, is_right, said, slide
from tests.lessons.resolution.test_sizes import press, shown

ROOM = load_room()
OFF = {"fitted": False, "centred": False, "turned": False}


def printing(sheet="13x19in", **done) -> Printing:
    """A picture of 12 × 8 in by hand, 1/2 in from the left and 2 in from the top."""
    asked = find_sheet(sheet)
    placing = Placing((3, 2), asked, length("12in"), ROOM.unprintable(find_sheet("13x19in")), BY_HAND,
                      length("1/2in"), length("2in"))  # fmt: skip
    return Printing(placing, ROOM.paper(), **OFF | done)


def test_with_everything_off_the_file_comes_out_as_it_is():
    state = printing()
    assert state.printed == state.asked
    assert state.cut_off == {}


def test_fitted_everything_shrinks_by_one_factor():
    """330.2 − 2 × 4 = 322.2 mm are reached across, 482.6 − 3 − 7 = 472.6 mm down: across gives out first."""
    state = printing(fitted=True)
    factor = Fraction(3222, 3302)
    box, was = state.printed.picture, state.asked.picture
    assert box.width == was.width * factor
    assert box.height == was.height * factor
    assert state.printed.borders.left == length("4mm") + was.left * factor
    middle = (length("3mm") + length("475.6mm")) / 2
    assert box.top == middle - state.asked.sheet.height * factor / 2 + was.top * factor


def test_centred_it_moves_to_the_middle_of_what_is_reached():
    """The printer reaches 3 mm from the top and 7 mm from the bottom: 2 mm higher than the sheet's middle."""
    state = printing(centred=True)
    assert state.printed.borders.top == state.asked.borders.top - length("2mm")
    assert state.printed.borders.left == state.asked.borders.left


def test_turned_round_the_widest_edge_is_at_the_other_end():
    edges = printing(turned=True).printed.unprintable
    assert (edges.top, edges.bottom) == (length("7mm"), length("3mm"))


def test_turned_round_on_its_side_left_and_right_change():
    edges = printing("19x13in", turned=True).printed.unprintable
    assert (edges.left, edges.right) == (length("7mm"), length("3mm"))


def test_what_lies_in_the_edge_is_cut_off():
    app = at_printer.printing()
    for name in OFF:
        choose(app, name, False)
    app.controls["top"]._slider.value = 0.125
    assert app.readings["cut off"] == "nothing"
    choose(app, "turned", True)
    assert app.readings["cut off"] == "0.151 in (3.8 mm) at the top"  # 7 mm less 1/8 in
    assert app.sentence.endswith("At the top some of the picture is cut off.")


def test_it_begins_as_printers_often_do_and_can_be_put_right():
    app = at_printer.printing()
    assert app.sentence.startswith("The printer has scaled, centred, turned round the file.")
    assert app.readings["picture's width"] == "12 in, printed 11.709 in"
    for name in OFF:
        before = shown(app)
        choose(app, name, False)
        assert shown(app) != before
    assert app.sentence.startswith("The print comes out as the file says.")
    borders = [told for label, told in app.readings.items() if label.endswith(("border", "width"))]
    assert len(borders) == 5
    assert all(told.endswith(", as asked") for told in borders)


@pytest.mark.parametrize(
    ("lies", "turned", "first"),
    [
        (False, False, "the top edge"),
        (False, True, "the bottom edge"),
        (True, False, "the left edge"),
        (True, True, "the right edge"),
    ],
)
def test_which_edge_goes_in_first(lies, turned, first):
    app = at_printer.printing()
    choose(app, "turn", lies)
    choose(app, "turned", turned)
    assert app.readings["goes in first"] == first


def test_the_coated_side_is_the_papers():
    app = at_printer.printing()
    for paper in ROOM.papers:
        choose(app, "paper", paper)
        assert app.readings["side to print on"] == paper.coated_side


def test_sliders_set_the_file_and_the_unit_follows():
    app = at_printer.printing()
    slide(app, "width", length("10in"))
    choose(app, "units", "mm")
    assert app.readings["picture's width"] == "254 mm, printed 247.8 mm"
    slide(app, "left", length("20mm"))
    assert app.state.placing.corner[0] == length("20mm")


@pytest.mark.parametrize(
    ("given", "told", "right"),
    [
        ("11.128in", "Yes. The printer reaches 330.2 − 24", True),
        ("282.6mm", "Yes. The printer reaches 330.2 − 24", True),
        ("12in", "12 in is what the file says.", False),
        ("11.055in", "11.055 in is 24 mm less.", False),
        ("9in", "9 in (228.6 mm) is too little.", False),
    ],
)
def test_how_large(given, told, right):
    question = at_printer.how_large()
    question.entry.value = given
    press(question)
    assert said(question).startswith(told)
    assert is_right(question) == right
