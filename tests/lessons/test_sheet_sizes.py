"""What the lesson's figures begin with, and what is read off them."""

import pytest

from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.lessons import sheet_sizes
from tests.lessons.hands import choose, is_right, said, slide


def test_the_stock_and_what_is_left_over():
    app = sheet_sizes.stock()
    assert app.readings == {
        "print": "9 in (228.6 mm) × 6 in (152.4 mm)",
        "smallest sheet": "letter, on its side",
        # 8.5 × 11 less 9 × 6 is 39.5 square inches, of 93.5
        "paper left white": "39.5 sq in (255 cm²), 42%",
    }
    slide(app, "width", length("15in"))
    # with 1/2 in all round it takes 16 × 11 in: 11 × 17 in holds that, and is smaller than A3
    assert app.readings["smallest sheet"] == "11x17in, on its side"
    slide(app, "border", length("1in"))
    assert app.readings["smallest sheet"] == "13x19in, on its side"
    slide(app, "width", length("20in"))
    assert app.readings["smallest sheet"] == "none: a roll, or a smaller print"
    assert "no sheet in stock" in app.sentence


@pytest.mark.parametrize(
    ("series", "folds", "size", "ratio", "pieces"),
    [
        ("A", 0, "841 × 1189 mm; 33.11 × 46.811 in", "1.414 : 1", "1"),
        ("A", 4, "210 × 297 mm; 8.268 × 11.693 in", "1.414 : 1", "16"),
        ("B", 4, "250 × 353 mm; 9.843 × 13.898 in", "1.412 : 1", "16"),
        ("JIS B", 4, "257 × 364 mm; 10.118 × 14.331 in", "1.416 : 1", "16"),
        ("inch, office", 4, "215.9 × 279.4 mm; 8.5 × 11 in", "1.294 : 1", "16"),
        ("inch, office", 5, "139.7 × 215.9 mm; 5.5 × 8.5 in", "1.545 : 1", "32"),
        ("inch, drawing", 8, "228.6 × 304.8 mm; 9 × 12 in", "1.333 : 1", "16"),
    ],
)
def test_folding(series, folds, size, ratio, pieces):
    app = sheet_sizes.fold()
    choose(app, "series", series)
    app.controls["folds"]._slider.value = folds
    told = list(app.readings.values())
    assert [told[0], told[1], told[3]] == [size, ratio, pieces]


def test_a0_is_a_square_metre():
    assert sheet_sizes.fold().readings["area"] == "1549.9 sq in (1 m²)"


def test_a_frame_and_its_lip():
    app = sheet_sizes.frame()
    assert app.readings["sight size"] == "7 1/2 in (190.5 mm) × 9 1/2 in (241.3 mm)"
    slide(app, "lip", length("3/8in"))
    choose(app, "opening", find_sheet("11x14in"))
    assert app.readings["sight size"] == "10 1/4 in (260.4 mm) × 13 1/4 in (336.6 mm)"


def test_rounding_a4():
    app = sheet_sizes.rounding()
    assert app.readings == {
        "exactly": "2480.31 pixels",
        "in whole pixels": "2480",
        "rounded away": "0.027 mm, never more than 0.042 mm",
        "the cut may be off by": "2 mm",
        "that is so many half pixels": "47",
    }
    app.controls["ppi"]._slider.value = 72
    assert app.readings["in whole pixels"] == "595"


def test_a_roll():
    app = sheet_sizes.sheet_or_roll()
    assert app.readings["of that, printable"] == "23.606 in (599.6 mm)"
    assert app.readings["paper used"] == "13.727 in (348.7 mm)"
    slide(app, "width", length("30in"))
    assert app.readings["fits"] == "no: 6.394 in (162.4 mm) too wide; turn it, or a wider roll"
    choose(app, "turned", True)
    assert app.readings["paper used"] == "30.394 in (772 mm)"


@pytest.mark.parametrize(
    ("make", "name", "values"),
    [
        (sheet_sizes.stock, "width", [4, 12]),
        (sheet_sizes.stock, "border", [0, 2]),
        (sheet_sizes.frame, "lip", [0.125, 0.5]),
        (sheet_sizes.fold, "folds", [1, 5]),
        (sheet_sizes.rounding, "ppi", [30, 500]),
        (sheet_sizes.sheet_or_roll, "width", [8, 22]),
    ],
)
def test_every_slider_changes_sentence_drawing_and_figures(make, name, values):
    app = make()
    seen = []
    for value in values:
        app.controls[name]._slider.value = value
        seen.append((app.sentence, app.still, str(app.readings)))
    for one, other in zip(*seen, strict=True):
        assert one != other


@pytest.mark.parametrize(
    ("typed", "right", "told"),
    [
        ("297mm", True, "Its long side is 297 mm"),
        ("11.69in", True, "Its long side is 297 mm"),
        ("210mm", False, "its short side"),
        ("148.5mm", False, "a quarter of 594"),
        ("420mm", False, "after one fold"),
    ],
)
def test_how_long(typed, right, told):
    question = sheet_sizes.how_long()
    question.entry.value = typed
    question.answer(question._check)()
    assert told in said(question)
    assert is_right(question) is right


def test_which_smaller_is_right_by_the_areas():
    question = sheet_sizes.which_smaller()
    areas = {name: find_sheet(name.replace(" ", "").replace("×", "x")) for name in question._right}
    ordered = sorted(areas, key=lambda name: areas[name].width.inches * areas[name].height.inches)
    assert tuple(ordered) == question._right


def test_half_a_letter():
    question = sheet_sizes.half_a_letter()
    question.entry.value = "the same: 1.294 : 1"
    question.answer(question._check)()
    assert "That is true of A4" in said(question)
    assert not is_right(question)
    question.entry.value = "slimmer: 1.545 : 1"
    question.answer(question._check)()
    assert is_right(question)
    assert float(17 / 11) == pytest.approx(1.545, abs=5e-4)


def test_the_exercise_can_be_done_on_its_figure():
    task = sheet_sizes.exercise("Nia Oak")
    wanted = task.brief.layout
    assert task.app.layout_now != wanted
    task.app.put(task.app.placing.on(wanted.sheet).resized(wanted.picture.width))
    assert task.app.layout_now == wanted
