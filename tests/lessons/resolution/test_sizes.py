"""Pixels, inches and the label: hand-worked figures, and what every control changes."""

from fractions import Fraction

import pytest

from labkit.geometry.length import length
from labkit.geometry.resolution import FloorRow
from labkit.home import Reader, home
from labkit.lessons.parts.settings import settings
from labkit.lessons.resolution import sizes as resolution
from labkit.lessons.resolution.label_bytes import label_bytes, label_lines
from labkit.lessons.resolution.sizes import Labelling, PrintSize, size_readings
from labkit.teaching.pictures import demo_pictures
from tests.files import make
from tests.lessons.hands import choose, is_right, said, slide, words

HARBOUR, TOWER = demo_pictures()


def shown(app) -> tuple[str, str, dict]:
    """All that follows a control."""
    return app.sentence, app.view.drawing, app.readings


def press(question, number: int = 0) -> None:
    """“That is my answer”, or the button after it."""
    question.buttons.children[number].click()


# Size against ppi


def test_ten_inches_of_4500_pixels():
    app = resolution.size()
    assert app.readings == {
        "pixels": "4500 × 3000",
        "wide": "10 in (254 mm)",
        "high": "6.667 in (169.3 mm)",
        "resolution": "450 ppi",
        "floor, seen from 30 cm (11.81 in)": "300 ppi",
        "is that enough?": "yes",
    }
    assert "enough for this room" in app.sentence


@pytest.mark.parametrize(
    ("width", "ppi", "enough"),
    [
        ("15in", "300 ppi", "yes"),
        ("15 1/16in", "298.8 ppi", "no"),
        ("20in", "225 ppi", "no"),
        ("22in", "204.5 ppi", "yes"),  # longer than 20 in, where 200 ppi will do
        ("45in", "100 ppi", "no"),
        ("2in", "2250 ppi", "yes"),
    ],
)
def test_the_width_changes_ppi_and_never_the_pixels(width, ppi, enough):
    app = resolution.size()
    before = app.view.drawing
    slide(app, "width", length(width))
    assert app.readings["resolution"] == ppi
    assert app.readings["is that enough?"] == enough
    assert app.readings["pixels"] == "4500 × 3000"
    assert ("too few" in app.sentence) == (enough == "no")
    assert app.view.drawing != before
    assert f"4500 × 3000 pixels at {ppi}" in app.view.drawing


def test_the_slider_ends_where_the_rooms_lowest_floor_does():
    app = resolution.size()
    assert app.controls["width"]._slider.max == 45  # 4500 / 100
    assert resolution.size(TOWER.file).controls["width"]._slider.max == 30


def test_millimetres_first():
    app = resolution.size()
    choose(app, "units", "mm")
    assert app.readings["wide"] == "254 mm (10 in)"
    assert "254 mm (10 in) wide" in app.sentence
    assert "254 × 169.3 mm" in app.view.drawing


def test_a_tiny_picture_can_be_sized_as_well(tmp_path):
    app = resolution.size(make.picture(tmp_path / "tiny.png", size=(60, 40)))
    assert app.readings["resolution"] == "100 ppi"
    assert app.state.width == length("0.6in")


def test_an_upright_picture_has_its_floor_by_its_height():
    table = (
        FloorRow(length("10in"), 300, length("30cm")),
        FloorRow(None, 100, length("100cm")),
    )
    told = dict(size_readings(PrintSize((1500, 3000), length("6in")), table, "in"))  # 12 in high
    assert told["floor, seen from 1 m (39.37 in)"] == "100 ppi"


def test_the_readers_own_picture_is_the_one_shown():
    home().keep(Reader(picture=str(TOWER.file)))
    assert resolution.size().readings["pixels"] == "3000 × 4000"
    assert resolution.label().readings["label"] == "72 ppi"


# The chart


def test_the_chart_says_what_it_plots():
    told = resolution.chart().sentence
    assert "450 ppi at 10 in (254 mm), 225 ppi at 20 in (508 mm), 150 ppi at 30 in (762 mm)" in told
    assert "300 ppi up to 20 in (508 mm), 200 ppi up to 36 in (914.4 mm)" in told
    assert "100 ppi beyond" in told
    assert told.endswith("at a width of 15 in (381 mm) and 22 1/2 in (571.5 mm).")


def test_the_chart_of_an_upright_picture_goes_by_its_height():
    """4000 pixels high: 13 1/3 in at 300 ppi, and at 200 ppi just 20 in, which still ask for 300."""
    assert resolution.chart(TOWER.file).sentence.endswith("at a width of 10 in (254 mm).")


def test_the_chart_follows_the_picture_and_the_unit():
    app = resolution.chart()
    first = app.chart.png
    settings().keep(units="mm")
    assert "450 ppi at 254 mm (10 in)" in app.sentence
    assert app.sentence.endswith("at a width of 381 mm (15 in) and 571.5 mm (22 1/2 in).")
    in_millimetres = app.chart.png
    settings().keep(picture=str(TOWER.file))
    assert app.sentence.endswith("at a width of 254 mm (10 in).")
    assert len({first, in_millimetres, app.chart.png}) == 3
    assert all(made.startswith(b"\x89PNG") for made in (first, app.chart.png))


# The label


def test_a_new_label_leaves_the_pixels():
    app = resolution.label()
    for ppi, wide in (
        (72, "62 1/2 in (1587.5 mm)"),
        (600, "7 1/2 in (190.5 mm)"),
        (300, "15 in (381 mm)"),
    ):
        choose(app, "ppi", ppi)
        told = app.readings
        assert told["pixels now"] == told["pixels before"] == "4500 × 3000"
        assert told["pixels that changed"] == "none"
        assert told["wide at 100 %"] == wide
        assert told["label"] == f"{ppi} ppi"


def test_resampling_keeps_the_size_and_makes_pixels():
    app = resolution.label()
    choose(app, "resample", True)
    choose(app, "ppi", 150)
    assert app.readings == {
        "pixels before": "4500 × 3000",
        "pixels now": "2250 × 1500",
        "pixels that changed": "all of them are new",
        "label": "150 ppi",
        "wide at 100 %": "15 in (381 mm)",
        "high at 100 %": "10 in (254 mm)",
    }
    assert "Resampled: new pixels, 2250 × 1500" in app.sentence


@pytest.mark.parametrize(("control", "value"), [("ppi", 72), ("ppi", 600)])
def test_each_label_changes_sentence_drawing_and_readings(control, value):
    app = resolution.label()
    before = shown(app)
    choose(app, control, value)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_choosing_to_resample_changes_them_too():
    app = resolution.label()
    choose(app, "ppi", 150)
    before = shown(app)
    choose(app, "resample", True)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_the_bytes_are_the_files_own():
    """JFIF 1.02, p. 5; PNG 1.2, 4.2.4.2; TIFF 6.0, section 8."""
    begins = HARBOUR.file.read_bytes()[:20]
    assert label_lines(300, begins) == (
        "JPEG  01 01 2c 01 2c              per inch: 300, 300",
        "PNG   00 00 2e 23 00 00 2e 23 01  11811 to the metre",
        "TIFF  2c 01 00 00 01 00 00 00     300 / 1 per inch",
        "this file begins: ff d8 ff e0 00 10 4a 46 49 46 00 01 01 [01 01 2c 01 2c] 00 00",
    )
    assert "[01 00 48 00 48]" in label_lines(72, begins)[3]
    assert len(label_lines(72, b"")) == 3
    assert "[01 01 2c 01 2c] 00 00" in label_bytes().view.drawing


def test_a_picture_without_a_label_begins_at_300(tmp_path):
    app = resolution.label(make.picture(tmp_path / "a.png", size=(900, 600)))
    assert app.readings["label"] == "300 ppi"
    assert app.readings["wide at 100 %"] == "3 in (76.2 mm)"


@pytest.mark.parametrize("ppi", [72, 240, 600])
def test_relabelled_and_resampled_are_each_others_opposite(ppi):
    label = Labelling((4500, 3000), Fraction(300), ppi)
    resampled = Labelling((4500, 3000), Fraction(300), ppi, resample=True)
    assert label.count == (4500, 3000)
    assert resampled.size == (length("15in"), length("10in"))


# The questions


@pytest.mark.parametrize(
    ("answer", "right", "told"),
    [
        ("25in", True, "6000 pixels across, divided by 240"),
        ("635mm", True, "25 in (635 mm)"),
        ("16.67in", False, "its height"),
        ("20in", False, "divided by 300"),
        ("0.04in", False, "the wrong way round"),
        ("12.5in", False, "each side is divided once"),
        ("83.33in", False, "divided by 72"),
        ("30in", False, "is too much"),
    ],
)
def test_how_wide(answer, right, told):
    question = resolution.how_wide()
    question.entry.value = answer
    press(question)
    assert is_right(question) == right
    assert told in said(question)


@pytest.mark.parametrize(
    ("start", "told"),
    [
        ("Write 300 ppi", "Nothing is lost, and no pixel changes"),
        ("Resample", "23 750 pixels across"),  # 79.17 × 300
        ("Send it back", "5700 along 19 in are 300 to the inch"),
        ("Have the printer", "at 100 %"),
    ],
)
def test_the_wrong_label(start, told):
    question = resolution.wrong_label()
    (question.entry.value,) = (way for way in question.entry.options if way.startswith(start))
    press(question)
    assert is_right(question) == (start == "Write 300 ppi")
    assert told in said(question)


def test_the_wrong_label_by_arithmetic():
    wrong = Labelling((5700, 3900), Fraction(72), 72)
    assert [round(float(side), 2) for side in wrong.size] == [79.17, 54.17]
    assert Labelling((5700, 3900), Fraction(72), 300).size == (length("19in"), length("13in"))
    assert Labelling((5700, 3900), Fraction(72), 300, resample=True).count[0] == 23_750


def test_questions_give_nothing_away_and_show_when_asked():
    for question, given_away in (
        (resolution.how_wide(), "25"),
        (resolution.wrong_label(), "right"),
    ):
        assert given_away not in question.sentence
        press(question, 1)
        assert given_away == "right" or given_away in said(question)


# The exercise


def test_the_exercise_by_the_sheet():
    task = resolution.exercise("Nia Oak")
    wanted, app = task.brief.layout, task.app
    assert app.layout_now.picture.width != wanted.picture.width
    sheet = wanted.sheet
    choose(app, "sheet", sheet.turned() if sheet.is_turned else sheet)
    choose(app, "turn", sheet.is_turned)
    slide(app, "width", wanted.picture.width)
    slide(app, "left", wanted.borders.left)
    slide(app, "top", wanted.borders.top)
    assert app.layout_now == wanted
    assert app.readings["resolution"] == "300 ppi"
    task.export.click()
    assert "is ready to print" in words(task._told.value)


def test_the_figure_it_begins_with_fails_with_hints():
    task = resolution.exercise("Nia Oak")
    task.export.click()
    assert "take the smallest in stock" in words(task._told.value)


def test_without_a_name_it_asks_for_one():
    assert resolution.exercise().sentence.startswith("Type your name")
