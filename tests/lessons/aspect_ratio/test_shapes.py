"""03-aspect-ratio: what its figures begin with, what is read off them, and what its questions say."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from labkit.geometry.layout import PLACES
from labkit.geometry.length import inches, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import fill
from labkit.home import Reader, home
from labkit.lessons.aspect_ratio import comparing, framing
from labkit.lessons.aspect_ratio import shapes as aspect_ratio
from labkit.teaching.pictures import demo_pictures
from tests.lessons.hands import choose, drag, is_right, said, slide, words
from tests.lessons.parts.test_predict import answer, arrange, buttons

HARBOUR, CLOCK = (demo.file for demo in demo_pictures())


def changes(app, do) -> bool:
    """Whether all that an app shows is another thing afterwards."""
    before = app.view.drawing, app.sentence, app.readings
    do()
    after = app.view.drawing, app.sentence, app.readings
    return all(one != other for one, other in zip(before, after, strict=True))


# Whole or filled


def test_whole_the_borders_are_uneven_filled_part_is_lost():
    """3 : 2 inside 9 × 12 in, an upright 11 × 14 in sheet less 1 in all round."""
    app = aspect_ratio.fit_or_fill()
    assert app.readings == {
        "your picture's shape": "3 : 2",
        "the sheet's shape": "11 : 14",
        "shape inside the border": "3 : 4",
        "printed": "9 in (228.6 mm) × 6 in (152.4 mm)",
        "left and right border": "1 in (25.4 mm)",
        "top and bottom border": "4 in (101.6 mm)",
        "lost of the picture": "0%",
    }
    choose(app, "way", "fill")
    told = app.readings
    assert told["printed"] == "9 in (228.6 mm) × 12 in (304.8 mm)"
    assert told["top and bottom border"] == "1 in (25.4 mm)"
    assert told["lost of the picture"] == "50%"  # 3/4 out of 3/2
    choose(app, "turn", True)
    assert app.readings["lost of the picture"] == "11.1%"  # 4/3 out of 3/2
    slide(app, "border", length("2 1/2in"))
    assert app.readings["lost of the picture"] == "0%"  # 9 × 6 in


def test_everything_that_sets_it_changes_everything_it_shows():
    app = aspect_ratio.fit_or_fill()
    assert changes(app, lambda: choose(app, "way", "fill"))
    assert changes(app, lambda: choose(app, "turn", True))
    assert changes(app, lambda: slide(app, "border", length("2in")))
    assert changes(app, lambda: choose(app, "sheet", find_sheet("A3")))
    assert changes(app, lambda: choose(app, "units", "mm"))


# The fault to recognise


@pytest.mark.parametrize(
    ("ratio", "by_width", "off", "way"),
    [
        (Fraction(5, 4), "1.2", "20%", "higher than wide"),
        (Fraction(7, 5), "1.071", "7.1%", "higher than wide"),
        (Fraction(1), "1.5", "50%", "higher than wide"),
        (Fraction(16, 9), "0.844", "18.5%", "wider than high"),  # 27/32, and 32/27
    ],
)
def test_how_far_off_round_the_moon_is(ratio, by_width, off, way):
    app = aspect_ratio.stretched()
    choose(app, "ratio", ratio)
    assert off not in app.sentence
    assert "off round by" not in app.readings
    choose(app, "circle", True)
    assert app.readings["the moon, height by width"] == by_width
    assert app.readings["off round by"] == off
    assert f"becomes {off} {way}" in app.sentence
    assert app.sentence.startswith("A wrong example: a picture of 3 : 2")


def test_in_its_own_shape_nothing_is_stretched():
    app = aspect_ratio.stretched()
    choose(app, "ratio", Fraction(3, 2))
    choose(app, "circle", True)
    assert app.readings["off round by"] == "0%"
    assert "the moon is round" in app.sentence


def test_an_upright_picture_is_squeezed_into_upright_shapes():
    app = aspect_ratio.stretched(CLOCK)
    choose(app, "ratio", Fraction(4, 5))  # 3/4 ÷ 4/5
    choose(app, "circle", True)
    assert app.readings["the clock face, height by width"] == "0.938"
    assert app.readings["off round by"] == "6.7%"


def test_a_readers_own_picture_has_no_moon_so_ours_is_shown(tmp_path):
    own = tmp_path / "own.jpg"
    own.write_bytes(HARBOUR.read_bytes())
    home().keep(Reader(picture=str(own)))
    assert "the moon" in aspect_ratio.stretched().sentence
    assert not [label for label in framing.crop().readings if "boat" in label]
    assert "boat" not in framing.crop().sentence


# Shapes on one chart


def test_the_chart_tells_every_shape_from_the_squarest_to_the_longest():
    chart = aspect_ratio.ratios()
    rows = aspect_ratio.chart_rows()
    assert [ratio for _, ratio, _ in rows] == sorted(ratio for _, ratio, _ in rows)
    assert {kind for _, _, kind in rows} == {"camera", "frame", "sheet"}
    for told in (
        "most phones 1.333",
        "letter, 8.5 × 11 in 1.294",
        "13 × 19 in 1.462",
        "video 1.778",
    ):
        assert told in chart.sentence
    assert chart.sentence.endswith("Your picture: 1.5.")
    assert aspect_ratio.ratios(CLOCK).sentence.endswith("Your picture: 1.333.")


# How much is lost


@pytest.mark.parametrize("given", ["1/6", "16.7%", "17 %", "0.167", "16,7%"])
def test_a_sixth_is_lost(given):
    question = aspect_ratio.how_much_lost()
    question.entry.value = given
    assert answer(question).startswith(
        "Yes. 8 in high, the whole picture would be 8 × 3/2 = 12 in wide."
    )
    assert is_right(question)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("20%", "The share is that of the picture, not of the frame"),
        ("0", "Nothing is lost only where the shapes are the same"),
        ("1/4", "3 : 2 is 1.5 and 5 : 4 is 1.25."),
        ("33%", "A third is lost where 3 : 2 fills a square."),
        ("46.7%", "That is the frame standing upright"),
        ("83%", "83% is what stays."),
        ("60%", "60% is too much."),
        ("5%", "5% is too little."),
        ("", "type a share first: 25% or 1/4."),
        ("17", "your answer of “17” is no share of a whole: write it like 25% or 1/4."),
        ("much", "your answer of “much” is no share of a whole: write it like 25% or 1/4."),
    ],
)
def test_every_other_share_is_explained(given, told):
    question = aspect_ratio.how_much_lost()
    question.entry.value = given
    assert answer(question).startswith(told)
    assert not is_right(question)


def test_the_shares_it_speaks_of_are_those_of_the_shapes():
    def lost(wide, high):
        return fill((3, 2), inches(wide), inches(high)).lost

    assert lost(10, 8) == Fraction(1, 6)
    assert lost(8, 8) == Fraction(1, 3)
    assert float(lost(8, 10)) == pytest.approx(0.47, abs=0.005)


# Equal borders


def test_sheet_and_border_give_the_shape():
    app = comparing.equal_borders()
    assert app.readings == {
        "the sheet's shape": "13 : 19",
        "border on all four sides": "1 in (25.4 mm)",
        "width less two borders": "13 in − 2 × 1 in = 11 in",
        "height less two borders": "19 in − 2 × 1 in = 17 in",
        "so the picture's shape": "11 : 17, or 0.647",
        "yours would lose": "56.9%",  # 1 − 11/17 ÷ 3/2
    }
    slide(app, "border", length("1/2in"))
    assert app.readings["so the picture's shape"] == "2 : 3, or 0.667"


def test_sheet_and_shape_give_the_border():
    app = comparing.equal_borders()
    choose(app, "turn", True)
    choose(app, "ratio", Fraction(3, 2))
    assert app.readings["border on all four sides"] == "1/2 in (12.7 mm)"
    assert app.readings["yours would lose"] == "0%"
    assert app.controls["border"].value == length("1/2in")
    choose(app, "sheet", find_sheet("A4"))  # 297 × 210 mm: 18 mm leave 261 × 174
    assert app.readings["border on all four sides"] == "18 mm (0.71 in)"
    slide(app, "border", length("1in"))
    assert app.controls["ratio"].value == "given"
    assert app.readings["border on all four sides"] == "1 in (25.4 mm)"


def test_where_there_is_no_equal_border_it_says_why_and_goes_on():
    app = comparing.equal_borders()
    choose(app, "turn", True)
    before = app.view.drawing
    choose(app, "ratio", Fraction(4, 3))
    assert said(app).startswith("a whole picture of 4 : 3 leaves no equal borders on 19 in")
    assert app.view.drawing == before
    assert app.controls["ratio"].value == "given"
    choose(app, "ratio", Fraction(16, 9))
    assert said(app) == ""
    # (19 − 13 × 16/9) ÷ 2 (1 − 16/9) = 2.643
    assert app.readings["border on all four sides"] == "2.643 in (67.1 mm)"


def test_every_shape_can_be_asked_for_lying_and_upright():
    given = [value for _, value in comparing.equal_borders().controls["ratio"].options]
    shapes = {value for value in given if value != "given"}
    assert shapes == {1 / value for value in shapes}
    assert {ratio for _, ratio in aspect_ratio.SHAPES} <= shapes


# A series


@pytest.mark.parametrize(
    ("alike", "sizes", "areas"),
    [
        ("width", ("9 in (228.6 mm) × 6 in (152.4 mm)", "9 in (228.6 mm) × 12 in (304.8 mm)"),
         ("54 sq in (348 cm²)", "108 sq in (697 cm²)")),
        ("height", ("9 in (228.6 mm) × 6 in (152.4 mm)", "4 1/2 in (114.3 mm) × 6 in (152.4 mm)"),
         ("54 sq in (348 cm²)", "27 sq in (174 cm²)")),
        ("area", ("9 in (228.6 mm) × 6 in (152.4 mm)", "6.364 in (161.6 mm) × 8.485 in (215.5 mm)"),
         ("54 sq in (348 cm²)", "54 sq in (348 cm²)")),
    ],
)  # fmt: skip
def test_a_series_has_one_thing_in_common(alike, sizes, areas):
    """On 11 × 14 in less 1 in all round, 9 × 12 in."""
    app = comparing.series()
    choose(app, "alike", alike)
    told = app.readings
    assert (told["3 : 2, size"], told["3 : 4, size"]) == sizes
    assert (told["3 : 2, area"], told["3 : 4, area"]) == areas
    assert f"equal {alike}" in app.sentence


def test_everything_that_sets_a_series_changes_everything_it_shows():
    app = comparing.series()
    assert changes(app, lambda: choose(app, "alike", "area"))
    assert changes(app, lambda: choose(app, "turn", True))
    assert changes(app, lambda: slide(app, "border", length("2in")))
    assert changes(app, lambda: choose(app, "sheet", find_sheet("A3")))
    assert changes(app, lambda: choose(app, "units", "mm"))


WIDE, SQUARE, UPRIGHT = "3 : 2, lying", "1 : 1", "3 : 4, upright"


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ((UPRIGHT, SQUARE, WIDE), "Yes. With equal heights the widths are"),
        ((UPRIGHT, WIDE, SQUARE), "3 : 2 is one and a half times as wide as high"),
        ((SQUARE, UPRIGHT, WIDE), "The upright one is only three quarters as wide"),
        ((WIDE, UPRIGHT, SQUARE), "3 : 4 stands"),
    ],
)
def test_which_is_largest(names, told):
    question = comparing.which_largest()
    arrange(question, *names)
    assert answer(question).startswith(told)


# The crop window


def test_the_crop_window_in_the_middle():
    """4 : 5 of 4500 × 3000 is 2400 wide, from 1050 on; the boat begins at 0.1911 of 4500, 860."""
    told = framing.crop().readings
    assert told["the window's shape"] == "4 : 5"
    assert told["pixels kept"] == "2400 × 3000 of 4500 × 3000"
    assert told["cropped away"] == "46.7%"
    assert told["in code, crop_at"] == "0.5,0.5"
    assert told["of the red boat stays"] == "85.4%"  # (0.48 − 7/30) ÷ (0.48 − 0.1911)


def test_it_is_dragged_along_the_side_that_has_something_to_spare():
    app = framing.crop()
    drag(app, 0.15, 0.3)
    assert app.state.crop.left == pytest.approx(Fraction(15, 100))
    assert app.state.crop.top == 0
    assert app.readings["of the red boat stays"] == "100%"
    assert app.readings["in code, crop_at"] == "0.321,0.5"  # 0.15 of 7/15
    drag(app, -3, 0)
    assert app.state.crop.left == 0
    drag(app, 3, 0)
    assert float(app.state.crop.left) == pytest.approx(7 / 15)


def test_an_upright_picture_is_dragged_up_and_down():
    app = framing.crop(CLOCK)
    choose(app, "lying", True)  # 5 : 4 of 3000 × 4000 is 2400 high, 0.6
    drag(app, 0.4, 0.08 * 4000 / 3000)
    assert float(app.state.crop.top) == pytest.approx(0.08)
    assert app.state.crop.left == 0
    assert app.readings["of the clock and the spire stays"] == "100%"


def test_an_arrow_key_moves_it_a_hundredth_of_the_width():
    app = framing.crop()
    assert app.view.step == 0.01
    left, top = app.view.place
    drag(app, left - 0.01, top, "key")
    assert app.view.place == pytest.approx([left - 0.01, top])
    assert "Arrow keys move the window" in app.view.help


def test_what_a_window_keeps_can_be_said_in_code():
    """The line in code and the window are the same crop, to a thousandth."""
    app = framing.crop()
    drag(app, 0.123, 0)
    across, down = (Fraction(part) for part in app.readings["in code, crop_at"].split(","))
    said_in_code = fill((4500, 3000), inches(8), inches(10), (across, down))
    assert float(said_in_code.left) == pytest.approx(float(app.state.crop.left), abs=5e-4)


def test_everything_that_sets_the_window_changes_everything_it_shows():
    app = framing.crop()
    assert changes(app, lambda: choose(app, "ratio", Fraction(1)))
    assert changes(app, lambda: choose(app, "ratio", Fraction(16, 9)))
    assert changes(app, lambda: choose(app, "lying", True))
    assert changes(app, lambda: drag(app, 0, 0))


@pytest.mark.parametrize("left", [0, 0.1, 0.19])
def test_where_the_boat_stays(left):
    question = framing.where_to_crop()
    drag(question.app, left, 0)
    assert answer(question).startswith("Yes. The boat lies between 19% and 48%")
    assert is_right(question)


@pytest.mark.parametrize(
    ("left", "told"),
    [
        (None, "That is the middle, where the window stood before you chose."),
        (0.3, "The window stands too far to the right: 37.7% of the boat is outside."),
        (7 / 15, "The window stands too far to the right: 95.4% of the boat is outside."),
    ],
)
def test_where_it_does_not(left, told):
    question = framing.where_to_crop()
    if left is not None:
        drag(question.app, left, 0)
    assert answer(question).startswith(told)
    assert not is_right(question)


def test_the_question_gives_nothing_away():
    question = framing.where_to_crop()
    assert "%" not in question.sentence
    assert "where-window" in question.still
    assert "where-keep" not in question.still
    assert question.app.readings == {}
    buttons(question)["Show me"].click()
    assert said(question).startswith("The boat lies between 19% and 48%")


# The exercise


@pytest.fixture
def task():
    return framing.exercise("Nia Oak")


def set_to_the_brief(task) -> None:
    """With the controls, the crop last: first the print on its sheet, then the part that stays."""
    wanted, app = task.brief.layout, task.app
    sheet = wanted.sheet
    choose(app, "sheet", sheet.turned() if sheet.is_turned else sheet)
    choose(app, "turn", sheet.is_turned)
    slide(app, "width", wanted.picture.width)
    slide(app, "height", wanted.picture.height)
    lip = [part for part in task.brief.asked if not isinstance(part, str)][2]
    slide(app, "lip", lip)
    for at in PLACES:
        choose(app, "at", at)
        if app.layout_now and app.layout_now.picture == wanted.picture:
            break
    wide, high = app.state.whole
    choose(app, "show", "crop")
    drag(app, float(wide * wanted.crop.left), float(high * wanted.crop.top))


def test_done_with_the_figure_it_passes(task):
    set_to_the_brief(task)
    assert task.app.layout_now.picture == task.brief.layout.picture
    part = next(label for label in task.app.readings if label.startswith("of "))
    assert task.app.readings[part] == "100%"
    task.export.click()
    assert "is ready to print" in words(task._told.value)
    assert (task.folder / f"{task.brief.stem}.tif").exists()


def test_cropped_in_the_middle_it_does_not(task):
    set_to_the_brief(task)
    task.app.put(replace(task.app.state, keep=(Fraction(1, 2), Fraction(1, 2))))
    task.export.click()
    assert "has to stay clear of the lip as well" in words(task._told.value)


def test_done_in_code_it_passes(task):
    """As the notebook shows it, with the words of its own layout."""
    from labkit import place, write

    wanted = task.brief.layout
    keep = wanted.crop.keep_at(wanted.crop.left, wanted.crop.top)
    for at in PLACES:
        layout = place(
            task.picture, on=wanted.sheet, fill=True, width=wanted.picture.width,
            height=wanted.picture.height, crop_at=keep, at=at,
        )  # fmt: skip
        if layout == wanted:
            break
    names = {"owner": task.brief.reader, "title": task.brief.title}
    made = write(task.picture, layout, **names, out=task.folder, replace=True)
    assert task.judge(made.file).hints == ()


def test_it_does_not_begin_at_the_answer(task):
    assert task.app.layout_now.picture != task.brief.layout.picture


def test_what_is_seen_is_smaller_by_the_lip_on_each_side(task):
    app = task.app
    slide(app, "width", length("6in"))
    slide(app, "height", length("5in"))
    slide(app, "lip", length("1/4in"))
    assert app.readings["the print"] == "6 in (152.4 mm) × 5 in (127 mm)"
    assert app.readings["seen (sight size)"] == "5 1/2 in (139.7 mm) × 4 1/2 in (114.3 mm)"
    assert "task-seen" in app.view.drawing
    slide(app, "lip", length("0in"))
    assert "task-seen" not in app.view.drawing


def test_each_look_moves_its_own(task):
    app = task.app
    assert app.view.snaps == []
    corner, keep = app.state.corner, app.state.keep
    drag(app, 0, 0)
    assert app.state.corner == corner
    assert app.state.keep != keep
    keep = app.state.keep
    choose(app, "show", "sheet")
    assert app.view.snaps
    drag(app, 1, 1, "key")
    assert app.state.corner == (length("1in"), length("1in"))
    assert app.state.keep == keep


def test_it_is_exported_from_either_look(task):
    set_to_the_brief(task)
    layout = task.app.layout_now
    choose(task.app, "show", "sheet")
    assert task.app.layout_now == layout


def test_everything_that_sets_the_print_changes_everything_it_shows(task):
    app = task.app
    choose(app, "show", "sheet")
    for do in (
        lambda: slide(app, "width", length("5in")),
        lambda: slide(app, "height", length("4in")),
        lambda: choose(app, "sheet", find_sheet("A3")),
        lambda: choose(app, "turn", True),
        lambda: choose(app, "at", "optical"),
        lambda: slide(app, "left", length("1in")),
        lambda: slide(app, "top", length("2in")),
        lambda: choose(app, "units", "mm"),
    ):
        assert changes(app, do)
    choose(app, "show", "crop")
    assert changes(app, lambda: slide(app, "lip", length("10mm")))


def test_the_notebook_is_where_it_says(task):
    assert task.folder == home().exports / "03-aspect-ratio"
    assert (Path(__file__).parents[3] / "notebooks" / "03-aspect-ratio.ipynb").exists()
