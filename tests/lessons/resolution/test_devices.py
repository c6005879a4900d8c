"""Dots, lines and scans: hand-worked figures, and what every control changes."""

from fractions import Fraction

import pytest

from labkit.geometry.length import length
from labkit.lessons.resolution import devices
from labkit.lessons.resolution.devices import Scan, Screen
from tests.lessons.hands import choose, slide
from tests.lessons.resolution.test_sizes import shown


def put(app, control, value) -> None:
    """Move a slider for a number, or choose."""
    widget = app.controls[control]
    if hasattr(widget, "_slider"):
        widget._slider.value = value
    else:
        widget.value = value


def test_eight_by_eight_dots_make_65_tones():
    assert devices.dots().readings == {
        "dots along one pixel": "8",
        "dots in one pixel": "64",
        "tones of one ink in one pixel": "65",
        "pixels in a square inch": "90 000",
    }


def test_at_2400_ppi_a_pixel_is_a_dot():
    app = devices.dots()
    put(app, "ppi", 2400)
    assert app.readings["dots along one pixel"] == "1"
    assert app.readings["tones of one ink in one pixel"] == "2"
    assert "2 tones of one ink" in app.sentence


@pytest.mark.parametrize(("control", "value"), [("dpi", 600), ("ppi", 600)])
def test_every_control_of_the_dots_changes_everything(control, value):
    app = devices.dots()
    before = shown(app)
    put(app, control, value)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_the_tone_changes_drawing_and_sentence():
    app = devices.dots()
    before = shown(app)
    put(app, "dark", 80)
    assert "80% of the dots" in app.sentence
    assert app.view.drawing != before[1]


def test_a_slider_says_what_it_stands_at():
    app = devices.dots()
    put(app, "ppi", 250)
    assert app.controls["ppi"]._told.value == "250 ppi"
    assert app.controls["dark"]._told.value == "40% ink"


def test_two_times_150():
    """Common practice; the book of the standards test gives 300 ppi and 150 lpi."""
    assert devices.screen().readings["the picture needs"] == "300 ppi"
    assert Screen(150, Fraction(3, 2)).ppi == 225
    assert Screen(150, Fraction(7, 5)).ppi == 210


@pytest.mark.parametrize(("control", "value"), [("lpi", 85), ("pixels_a_line", Fraction(3, 2))])
def test_every_control_of_the_screen_changes_everything(control, value):
    app = devices.screen()
    before = shown(app)
    put(app, control, value)
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_a_slide_for_twelve_inches():
    """36 mm to 304.8 mm is 8.467 times; 300 × 8.467 = 2540; 3600 × 2400 × 3 bytes."""
    assert devices.scan().readings == {
        "enlarged": "8.47 times",
        "scan at": "2540 ppi",
        "pixels": "3600 × 2400",
        "as 8-bit RGB, unpacked": "25.9 MB",
        "as 8-bit grey, unpacked": "8.6 MB",
    }


def test_line_art_wants_more_and_weighs_less():
    """1200 ppi is common practice; 4 in of it are 4800 × 3200 pixels: 1.9 MB of single bits."""
    app = devices.scan()
    choose(app, "print_ppi", 1200)
    slide(app, "original", length("4in"))
    slide(app, "printed", length("4in"))
    assert app.readings["scan at"] == "1200 ppi"
    assert app.readings["pixels"] == "4800 × 3200"
    assert app.readings["as pure black and white, 1 bit"] == "1.9 MB"
    assert app.readings["as 8-bit RGB, unpacked"] == "46.1 MB"


@pytest.mark.parametrize(("control", "to"), [("original", "5in"), ("printed", "20in")])
def test_every_slider_of_the_scan_changes_everything(control, to):
    app = devices.scan()
    before = shown(app)
    slide(app, control, length(to))
    assert all(now != then for now, then in zip(shown(app), before, strict=True))


def test_a_scan_is_as_large_as_its_print():
    state = Scan(length("2in"), length("8in"))
    assert state.ppi == 1200
    assert state.pixels == (2400, 1600)


@pytest.mark.parametrize("app", [devices.dots, devices.screen, devices.scan])
def test_millimetres_first(app):
    made = app()
    before = made.view.drawing
    choose(made, "units", "mm")
    assert made.view.drawing != before
    assert " mm (" in made.view.drawing or " mm</text>" in made.view.drawing
