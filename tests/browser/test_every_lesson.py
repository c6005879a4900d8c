"""What holds of every lesson and every app in it."""

import pytest
from playwright.sync_api import expect

from tests.notebooks.normal import notebooks

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LEAST_TARGET = 24
"""CSS pixels: WCAG 2.2, success criterion 2.5.8, target size (minimum)."""
LEAST_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3, contrast (minimum)."""
WINDOWS = {"laptop": (1366, 768), "projector": (1920, 1080)}
LESSONS = [file.stem for file in notebooks()]

TARGETS = """app => [...app.querySelectorAll('button, select, input, summary, .noUi-handle')]
    .filter(each => each.checkVisibility() && each.type !== 'file')
    .map(each => [each.outerHTML.slice(0, 120), each.getBoundingClientRect()])
    .filter(([, box]) => box.width < %d || box.height < %d).map(([what]) => what)"""
WIDER = """app => {
    const out = [], limit = document.querySelector('.jp-WindowedPanel-outer').clientWidth;
    for (const each of app.querySelectorAll('*')) {
        const style = getComputedStyle(each), html = each instanceof HTMLElement;
        if (!html || style.position === 'absolute' || each.closest('.noUi-target, svg')) continue;
        const cut = style.overflowX !== 'visible' && each.tagName !== 'SELECT' && each.tagName !== 'INPUT';
        if (cut && each.scrollWidth > each.clientWidth + 1) out.push('cut: ' + each.outerHTML);
    }
    const page = document.querySelector('.jp-WindowedPanel-outer');
    if (app.getBoundingClientRect().right > page.getBoundingClientRect().right) out.push('app');
    if (page.scrollWidth > page.clientWidth) out.push('page');
    return out.map(each => each.slice(0, 200));
}"""
CONTRASTS = """app => {
    const canvas = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
    const rgb = colour => {
        canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
        return [...canvas.getImageData(0, 0, 1, 1).data];
    };
    const light = ([r, g, b]) => [r, g, b].map(v => v / 255)
        .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
        .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
    const behind = each => {
        for (let at = each; at; at = at.parentElement) {
            const colour = rgb(getComputedStyle(at).backgroundColor);
            if (colour[3] === 255) return colour;
        }
        return [255, 255, 255, 255];
    };
    const told = [...app.querySelectorAll(
        '.widget-label, button, select, input[type=text], p, li, h4, summary, .labkit-readings span, '
        + '.labkit-readings b, .labkit-message')];
    return told.filter(each => each.checkVisibility() && (each.textContent || each.value)).map(each => {
        const ink = rgb(getComputedStyle(each).color);
        const [low, high] = [light(ink), light(behind(each))].sort((a, b) => a - b);
        return [each.textContent.slice(0, 40), (high + 0.05) / (low + 0.05)];
    });
}"""


@pytest.fixture(params=LESSONS)
def lesson(request, opened):
    shown = opened[request.param]
    shown.resize(*WINDOWS["laptop"])
    shown.page.bring_to_front()
    return shown


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


def test_large_type_is_larger_and_fits_a_projector(lesson):
    lesson.resize(*WINDOWS["projector"])
    figures = [app for app in lesson.apps if app.button("Large type").count()]
    before = [_smallest_type(app) for app in figures]
    _press_large_type(lesson, True)
    try:
        for app, small in zip(figures, before, strict=True):
            assert _smallest_type(app) > small * 1.3
        for app in lesson.apps:
            assert app.show().root.evaluate(WIDER) == [], lesson.name
    finally:
        _press_large_type(lesson, False)


def _smallest_type(app) -> float:
    """The size of the smallest type outside the drawing."""
    told = app.show().root.locator(".widget-label, .labkit-readings b, button")
    return told.evaluate_all(
        "all => Math.min(...all.map(each => parseFloat(getComputedStyle(each).fontSize)))"
    )


def _press_large_type(lesson, on: bool) -> None:
    switches = lesson.page.get_by_role("button", name="Large type", exact=True)
    switches.evaluate_all("all => all.forEach(each => each.click())")
    large = lesson.page.locator(".labkit-large")
    expect(large).to_have_count(switches.count() if on else 0)


@pytest.mark.parametrize("theme", ["JupyterLab Dark", "JupyterLab Light"])
def test_all_that_is_told_can_be_read_in_both_themes(lesson, theme):
    lesson.theme(theme)
    seen = 0
    for app in lesson.apps:
        for told, contrast in app.show().root.evaluate(CONTRASTS):
            assert contrast >= LEAST_CONTRAST, (lesson.name, told, contrast)
            seen += 1
    assert seen >= 20
