"""What holds of every lesson and every app in it."""

import re

import nbformat
import pytest

from tests.browser.looks import CONTRASTS, TARGETS, VIEW, WIDER
from tests.notebooks.normal import FOLDER, notebooks

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LEAST_TARGET = 24
"""CSS pixels: WCAG 2.2, success criterion 2.5.8, target size (minimum)."""
LEAST_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3, contrast (minimum)."""
WINDOWS = {"laptop": (1366, 768), "projector": (1920, 1080)}
SHOWS = r"(?!answer\()\w+\(.*\)|task"
"""The last line of a cell that shows an app, a chart or a finding."""
LESSONS = [file.stem for file in notebooks()]


@pytest.fixture(scope="module", params=LESSONS)
def on_screen(request, opened):
    """One lesson at a time: its page is closed when all is tested on it."""
    yield opened[request.param]
    opened.pop(request.param).page.close()


@pytest.fixture
def lesson(on_screen):
    on_screen.resize(*WINDOWS["laptop"])
    on_screen.page.bring_to_front()
    return on_screen


def test_there_is_something_to_test():
    assert {"00-start-here", "04-margins"} <= set(LESSONS)


def test_every_cell_runs_and_none_complains(lesson):
    page = lesson.page
    assert page.locator(".jp-CodeCell").count() >= 3
    assert len(lesson.apps) >= 3
    faults = page.locator('[data-mime-type="application/vnd.jupyter.stderr"], .jp-RenderedText pre')
    told = [each for each in faults.all_text_contents() if "Error" in each or "Warning" in each]
    assert told == []
    assert page.locator('[data-mime-type="application/vnd.jupyter.error"]').count() == 0
    assert page.locator('[data-mime-type="application/vnd.jupyter.stderr"]').count() == 0
    assert page.get_by_text("Error displaying widget").count() == 0


def test_every_slider_moves_its_figure_and_its_drawing(lesson):
    page, moved = lesson.page, 0
    for app in lesson.apps:
        for label, slider in app.show().sliders().items():
            for key in _there_and_back(slider):
                told, drawing = slider.told.text_content(), app.drawing
                slider.press(key)
                page.wait_for_function(
                    "([told, was]) => told.textContent !== was",
                    arg=[slider.told.element_handle(), told],
                )
                assert app.redrawn_since(drawing), (lesson.name, label, key)
                moved += 1
    assert moved >= 6


def _there_and_back(slider):
    """Away from the end it stands at, if any, and back again."""
    now, most = (float(slider.handle.get_attribute(f"aria-value{each}")) for each in ("now", "max"))
    return ("ArrowLeft", "ArrowRight") if now >= most else ("ArrowRight", "ArrowLeft")


def test_keys_meant_for_an_app_leave_the_notebook_alone(lesson):
    """In a notebook's command mode x cuts the cell, m turns it into text, arrows go to another."""
    page = lesson.page
    cells = page.locator(".jp-Cell")
    before = [cells.count(), page.locator(".jp-CodeCell").count()]
    chosen = page.locator(".jp-Cell.jp-mod-selected").evaluate_all(
        "all => all.map(e => e.innerHTML.length)"
    )
    for app in lesson.apps:
        for focusable in (
            app.show().root.locator("select:visible, .noUi-handle, button:visible").all()
        ):
            focusable.focus()
            for key in ("x", "m", "o"):
                page.keyboard.press(key)
            break
    assert [cells.count(), page.locator(".jp-CodeCell").count()] == before
    assert page.locator(".jp-Cell.jp-mod-selected").count() == len(chosen)


def test_every_photo_is_shown_in_its_box(lesson):
    photos = lesson.page.locator(".labkit-stage image[href]")
    seen = 0
    for photo in photos.all():
        photo.scroll_into_view_if_needed()
        assert photo.get_attribute("href").startswith("data:image/")
        box = photo.bounding_box()
        assert min(box["width"], box["height"]) > 5
        loaded = photo.evaluate(
            "async photo => { const made = new Image(); made.src = photo.href.baseVal;"
            " await made.decode(); return made.naturalWidth }"
        )
        assert loaded > 100
        seen += 1
    assert seen >= 1


def test_every_target_can_be_hit(lesson):
    for app in lesson.apps:
        small = app.show().root.evaluate(TARGETS % (LEAST_TARGET, LEAST_TARGET))
        assert small == [], lesson.name


@pytest.mark.parametrize("window", WINDOWS.values(), ids=WINDOWS)
def test_nothing_is_cut_off_or_runs_out_of_the_window(lesson, window):
    lesson.resize(*window)
    for app in lesson.apps:
        assert app.show().root.evaluate(WIDER) == [], lesson.name


@pytest.mark.parametrize(
    ("window", "files", "large", "most"),
    [("laptop", False, False, 620), ("laptop", True, False, 620), ("projector", False, True, 900)],
    ids=["laptop", "laptop with the file list", "projector in large type"],
)
def test_every_app_is_seen_in_one_view(lesson, window, files, large, most):
    """Controls, readings and the whole drawing, none passed over."""
    lesson.resize(*WINDOWS[window])
    lesson.call_me("Nia Oak")
    lesson.large(large)
    if files:
        lesson.page.keyboard.press("Control+b")
    try:
        measured = {code: lesson.settled(number, VIEW, most) for number, code in shown(lesson)}
    finally:
        lesson.large(False)
        if files:
            lesson.page.keyboard.press("Control+b")
    assert len(measured) >= 3
    for code, seen in measured.items():
        assert seen, f"{code} shows nothing"
        height, cut = seen
        assert height <= most, f"{code} is {height} px high"
        assert cut == [], code


def shown(lesson) -> list[tuple[int, str]]:
    """Every code cell that shows an app or a chart: its number and its code."""
    book = nbformat.read(FOLDER / f"{lesson.name}.ipynb", as_version=4)
    cells = [cell.source for cell in book.cells if cell.cell_type == "code"]
    return [(n, code) for n, code in enumerate(cells) if re.fullmatch(SHOWS, code.split("\n")[-1])]


def test_large_type_is_larger(lesson):
    before = [_smallest_type(app) for app in lesson.apps]
    lesson.large(True)
    try:
        for app, small in zip(lesson.apps, before, strict=True):
            assert _smallest_type(app) > small * 1.3
    finally:
        lesson.large(False)


def _smallest_type(app) -> float:
    """The size of the smallest type outside the drawing."""
    told = app.show().root.locator(".widget-label, .labkit-readings b, button, .labkit-card")
    return told.evaluate_all(
        "all => Math.min(...all.map(each => parseFloat(getComputedStyle(each).fontSize)))"
    )


def test_a_screen_reader_is_told_name_state_and_value_of_every_control(lesson):
    """By Chromium's accessibility tree."""
    told = dict.fromkeys(("slider", "button", "combobox", "textbox"), 0)
    for app in lesson.apps:
        for role in told:
            for node in app.show().accessible(role):
                assert node["name"], (lesson.name, role, node)
                if role == "combobox":
                    assert node["value"], node
                told[role] += 1
        for slider in app.sliders().values():  # Chromium's tree leaves this one out
            told_of = slider.handle.get_attribute("aria-valuetext")
            assert told_of == slider.told.text_content()
            assert re.search("[a-z%]", told_of), told_of
        toggles = app.root.locator(".widget-toggle-button:visible")
        states = [node["pressed"] for node in app.accessible("button") if "pressed" in node]
        assert len(states) == toggles.count()
        assert set(states) <= {"true", "false"}
        assert app.root.locator('[title="null"]').count() == 0
    assert told["button"] >= 3
    assert sum(told.values()) >= 8


@pytest.mark.parametrize("theme", ["JupyterLab Dark", "JupyterLab Light"])
def test_all_that_is_told_can_be_read_in_both_themes(lesson, theme):
    lesson.theme(theme)
    seen = 0
    for app in lesson.apps:
        for told, contrast in app.show().root.evaluate(CONTRASTS):
            assert contrast >= LEAST_CONTRAST, (lesson.name, told, contrast)
            seen += 1
    assert seen >= 20
