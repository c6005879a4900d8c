"""The figures on measuring and cutting: what is read off, against figures worked by hand; the questions."""

import nbformat
import pytest

from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.trimplan import MARKS
from labkit.geometry.weight import WEIGHTS
from labkit.lessons.trim_and_measure import (
    cuts,
    exercise,
    how_uneven,
    printed,
    read_prints,
    what_to_set,
    which_cut,
    window,
)
from tests.lessons.hands import choose, is_right, said, slide, words
from tests.notebooks.normal import FOLDER


def press(question, label="That is my answer"):
    next(each for each in question.buttons.children if each.description == label).click()


def step(app, name, number):
    app.controls[name]._slider.value = number


# What a printer does


def test_fitting_scales_to_what_the_printer_reaches():
    """(330.2 - 8) / 330.2 of 12 in: 11.709 in. The crosses move to the middle, and 2 mm towards the edge
    that goes in first, for the printer reaches nearer to that."""
    app = printed()
    assert app.readings["across, 12 in"] == "12 in (304.8 mm)"
    choose(app, "set", "fitted")
    told = app.readings
    assert told["across, 12 in"] == "11.709 in (297.4 mm)"
    assert told["along, 18 in"] == "17.564 in (446.1 mm)"
    assert told["left"] == told["right"] == "1.133 in (28.8 mm)"
    assert (told["top"], told["bottom"]) == ("1.127 in (28.6 mm)", "1.285 in (32.6 mm)")


def test_the_feed_shows_along_only_and_a_skew_on_one_edge():
    """0.5 % short, from the edge that goes in first on: 1 in comes out as 0.995 in, 18 in as 17.91 in, and
    19 - 17.91 = 1.09 in are left below."""
    app = printed()
    step(app, "feed", -50)
    assert app.readings["across, 12 in"].startswith("12 in")
    told = app.readings
    assert told["along, 18 in"] == "17.91 in (454.9 mm)"
    assert (told["top"], told["bottom"]) == ("0.995 in (25.3 mm)", "1.09 in (27.7 mm)")
    step(app, "feed", 0)
    step(app, "askew", 20)
    assert app.readings["left"] == "0.961 in (24.4 mm)"
    assert app.readings["left below"] == "1.039 in (26.4 mm)"


# Three prints read: the four of the lesson's table

CAUSES = {
    "A": "scaled to the printable area",
    "B": "the feed",
    "C": "loaded to one side",
    "D": "Nothing to mend",
}


def table_of_prints() -> dict[str, dict[str, str]]:
    """The table of the notebook: by each print's letter its figures by name."""
    notebook = FOLDER / "09-trim-and-measure.ipynb"
    source = "".join(cell.source for cell in nbformat.read(notebook, as_version=4).cells)
    head, _, *rows = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in source.splitlines()
        if line.startswith("|")
    ]
    return {
        letter: {row[0]: row[number] for row in rows}
        for number, letter in enumerate(head)
        if number
    }


@pytest.mark.parametrize("letter", CAUSES)
def test_each_print_of_the_table_has_its_cause_and_no_other(letter):
    app = read_prints()
    figures = table_of_prints()[letter]
    assert list(figures) == ["across", "along", "left", "right", "top", "bottom"]
    for name, typed in figures.items():
        app.controls[name].value = typed
    told = [figure for label, figure in app.readings.items() if label in ("likely", "verdict")]
    assert CAUSES[letter] in told[0]
    assert len(app.state.ruling.causes(app.state.errors, app.state.room)) == (letter != "D")
    assert said(app) == ""


def test_what_cannot_be_read_is_told_stays_to_be_mended_and_has_no_verdict():
    app = read_prints()
    assert "Nothing to mend" in app.readings["verdict"]
    app.controls["across"].value = "12 12 12"
    assert "“across” of “12” has no unit" in said(app)
    assert app.readings == {"verdict": "none: this cannot be read yet"}
    assert "Nothing to mend" not in words(app._read_off.value)
    assert "came out" not in app.still
    assert app.controls["across"].value == "12 12 12"
    app.controls["across"].value = "12 in 12 in 12 in"
    assert "Nothing to mend" in app.readings["verdict"]
    assert said(app) == ""


def test_a_fourth_print_is_entered_one_measure_after_another():
    app = read_prints()
    for name, figure in (("across", "12in"), ("along", "18in"), ("left", "1in")):
        app.controls[name].value = " ".join([figure] * 4)
        assert "give each measure once for each print" in said(app)
    app.controls["right"].value = "1in 1in 1in 1in"
    assert said(app) == ""
    assert app.sentence.startswith("4 prints")


# Cuts


def test_a_first_cut_off_by_a_thirty_second_shows_twice_from_the_fresh_edge():
    """The picture lies on its side, so the first cut is the one above: 31/32 in, and 1 1/32 in below."""
    app = cuts()
    assert app.readings["1. top"] == "1 1/2 in from the top, sheet's own edge"
    assert app.readings["4. right"] == "14 in from the left, cut edge"
    step(app, "off", 1)
    told = app.readings
    assert (told["top border"], told["bottom border"]) == (
        "0.969 in (24.6 mm)",
        "1.031 in (26.2 mm)",
    )
    assert told["a border off by"].startswith("1/32 in (0.8 mm), within the 1/32 in")
    assert told["two differ by"].startswith("1/16 in (1.6 mm)")
    choose(app, "start", MARKS)
    assert app.readings["bottom border"] == "1 in (25.4 mm)"
    assert app.readings["two differ by"].startswith("1/32 in (0.8 mm)")
    step(app, "off", 2)
    assert app.readings["a border off by"].startswith("1/16 in (1.6 mm), more than the 1/32 in")


def test_no_border_is_wider_than_the_sheet_and_a_weight_takes_its_share():
    app = cuts()
    slide(app, "border", inches(6))
    assert app.state.border == app.state.widest == length("2 1/2in")
    choose(app, "weight", WEIGHTS["1/2 in more"])
    assert app.state.border == inches(2)
    assert app.readings["bottom border"] == "2 1/2 in (63.5 mm)"


# The mat


def test_a_mat_worked_by_hand():
    """12 × 8 in, 1/8 in hidden: an opening of 11 3/4 × 7 3/4 in. On 20 × 16 in the sides are 4 1/8 in,
    and 8 1/4 in are shared above and below: 3 7/8 and 4 3/8 in with 1/2 in more below."""
    app = window()
    choose(app, "weight", WEIGHTS["1/2 in more"])
    told = app.readings
    assert told["opening"].startswith("11 3/4 × 7 3/4 in")
    assert told["left border"] == "4 1/8 in (104.8 mm)"
    assert (told["top border"], told["bottom border"]) == (
        "3 7/8 in (98.4 mm)",
        "4 3/8 in (111.1 mm)",
    )


@pytest.mark.parametrize(
    ("board", "side", "above"),
    [
        # (long side - 11 3/4) / 2, (short side - 7 3/4) / 2
        ("11x14in", "1 1/8in", "1 5/8in"),
        ("16x20in", "4 1/8in", "4 1/8in"),
        ("20x24in", "6 1/8in", "6 1/8in"),
        ("A3", "60.775mm", "50.075mm"),
        ("A2", "147.775mm", "111.575mm"),
    ],
)
def test_sides_and_top_of_each_board(board, side, above):
    app = window()
    choose(app, "board", find_sheet(board))
    borders = app.state.mat.borders
    assert (borders.left, borders.top) == (length(side), length(above))


def test_a_board_that_is_too_small_is_refused_and_nothing_moves():
    app = window()
    choose(app, "board", find_sheet("11x14in"))
    before = app.still
    slide(app, "width", inches(16))
    assert "too small for an opening" in said(app)
    assert app.still == before


# Questions


def test_how_uneven():
    question = how_uneven()
    for given, right, told in (
        ("1/8in", True, "1 1/16 in"),
        ("3.2mm", True, "15/16 in"),
        ("1/16in", False, "where has the rest gone"),
        ("0in", False, "no longer lies in its middle"),
    ):
        question.entry.value = given
        press(question)
        assert is_right(question) == right
        assert told in said(question)


def test_what_to_set():
    question = what_to_set()
    for given, right in (("nothing", True), ("100.07 %", False), ("the feed", False)):
        question.entry.value = given
        press(question)
        assert is_right(question) == right


@pytest.mark.parametrize(
    ("order", "told"),
    [
        ((0, 1, 2, 3), ""),
        ((0, 1, 3, 2), ""),
        ((2, 0, 1, 3), "must be there already"),
        ((3, 2, 0, 1), "edge” comes before “other short side"),
        ((1, 0, 3, 2), "a poor guide for a long cut"),
    ],
)
def test_which_cut(order, told):
    """The last two are measured from edges that are both there: either may come first."""
    question = which_cut()
    for entry, number in zip(question.entries, order, strict=True):
        entry.value = question._right[number]
    press(question)
    assert is_right(question) == (not told)
    assert (told or "whichever of them comes first") in said(question)


# The exercise


def solve(task):
    layout, app = task.brief.layout, task.app
    upright = layout.sheet.turned() if layout.sheet.is_turned else layout.sheet
    choose(app, "sheet", upright)
    choose(app, "turn", layout.sheet.is_turned)
    slide(app, "width", layout.picture.width)
    borders = layout.picture.within(layout.trim.box)
    slide(app, "cut_to", borders.left)
    weight = next(each for each in WEIGHTS.values() if each.below(borders.left) == borders.bottom)
    choose(app, "weight", weight)


def test_the_exercise_with_its_widgets_and_its_ticket():
    task = exercise("Nia Oak")
    assert task.folder.name == "09-trim-and-measure"
    assert task.app.layout_now != task.brief.layout
    solve(task)
    assert task.app.layout_now == task.brief.layout
    task.export.click()
    assert "ready to print" in words(task._told.value)
    (page,) = task.folder.glob("*_ticket.html")
    told = words(page.read_text(encoding="utf-8"))
    assert "trimmed, borders kept" in told
    assert "edge you cut first" in told


@pytest.mark.parametrize("make", [printed, cuts, window])
def test_every_control_changes_sentence_drawing_or_figures(make):
    for name in make().controls:
        app = make()
        if name in ("side", "start"):  # they say which cut is off, once one is
            step(app, "off", 2)
        before = app.sentence, app.still, app.readings
        widget = app.controls[name]
        if hasattr(widget, "options"):
            widget.value = next(
                value for _, value in list(widget.options)[::-1] if value != widget.value
            )
        else:
            slider = widget._slider
            slider.value = slider.value - slider.step if slider.value > slider.min else slider.max
        assert (app.sentence, app.still, app.readings) != before, name
