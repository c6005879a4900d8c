"""The sheet under the mouse and the keys, in the first lesson's practice."""

import re

import pytest
from playwright.sync_api import expect

from labkit.geometry.length import inches, length

pytestmark = pytest.mark.browser

LEFT, TOP = "left border", "top border"
FOCUSED = "() => document.activeElement.classList.contains('labkit-stage')"


@pytest.fixture
def sheet(start):
    """A picture 8 in wide on an upright sheet of 13 × 19 in, 2 1/2 in from the left, 3 from the top."""
    app = start.app("practice()")
    app.stage.scroll_into_view_if_needed()
    for label, least, shown in (
        ("picture's width", "2in", "8in"),
        (LEFT, "3/16in", "2 1/2in"),
        (TOP, "1/8in", "3in"),
    ):
        slide(app.slider(label), length(least), length(shown))
    return app


def slide(slider, least, to):
    """By the keyboard to its least, then upwards by sixteenths; each is waited for.

    From its end, since a slider that already stands at the step nearest to an edge has not moved.
    """
    slider.press("End")
    slider.press("Home")
    expect(slider.told).to_have_text(least.both())
    slider.step_up(round((to - least) / length("1/16in")))
    expect(slider.told).to_have_text(to.both())


def corner(sheet):
    return sheet.measure(LEFT), sheet.measure(TOP)


def expect_corner(sheet, left: str, top: str):
    for label, wanted in ((LEFT, left), (TOP, top)):
        expect(sheet.reading(label)).to_have_text(length(wanted).both())


def focus_by_tab(sheet):
    """From the last control before it, with nothing but the Tab key."""
    page = sheet.root.page
    sheet.slider(TOP).handle.focus()
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED)


OUTLINE = (
    "e => { const s = getComputedStyle(e); return [s.outlineStyle, parseFloat(s.outlineWidth)] }"
)


def test_tab_reaches_it_and_its_focus_is_seen(sheet):
    focus_by_tab(sheet)
    style, width = sheet.stage.evaluate(OUTLINE)
    assert (style, width >= 2) == ("solid", True)
    assert sheet.stage.get_attribute("role") == "application"
    assert "Arrow keys move the picture" in sheet.stage.get_attribute("aria-label")


def test_every_slider_shows_its_focus(sheet):
    for slider in sheet.sliders().values():
        slider.press("Shift")  # the browser shows a focus once a key was pressed
        style, width = slider.handle.evaluate(OUTLINE)
        assert (style, width >= 2) == ("solid", True)


@pytest.mark.parametrize(
    ("key", "left", "top"),
    [
        ("ArrowRight", "2 9/16in", "3in"),
        ("ArrowLeft", "2 7/16in", "3in"),
        ("ArrowUp", "2 1/2in", "2 15/16in"),
        ("ArrowDown", "2 1/2in", "3 1/16in"),
        ("Shift+ArrowRight", "3in", "3in"),
        ("Shift+ArrowUp", "2 1/2in", "2 1/2in"),
    ],
)
def test_arrow_keys_move_it_by_a_sixteenth_and_with_shift_by_eight(sheet, key, left, top):
    focus_by_tab(sheet)
    drawing = sheet.drawing
    sheet.root.page.keyboard.press(key)
    expect_corner(sheet, length(left).inch_text(), length(top).inch_text())
    assert sheet.redrawn_since(drawing)
    assert sheet.root.page.evaluate(FOCUSED)  # redrawing keeps the focus, and JupyterLab the keys


def test_keys_pressed_faster_than_they_are_answered_all_count(sheet):
    focus_by_tab(sheet)
    sheet.stage.evaluate(
        "stage => { for (let i = 0; i < 12; i++) stage.dispatchEvent("
        "new KeyboardEvent('keydown', {key: 'ArrowDown', bubbles: true})) }"
    )
    expect_corner(sheet, "2 1/2 in", "3 3/4 in")


def test_at_the_edge_it_stops_and_the_first_key_back_moves_it(sheet):
    focus_by_tab(sheet)
    page = sheet.root.page
    for _ in range(12):
        page.keyboard.press("Shift+ArrowLeft")
    expect_corner(sheet, "4 mm", "3 in")
    page.wait_for_timeout(300)
    page.keyboard.press("ArrowRight")
    expect_corner(sheet, "1/4 in", "3 in")


def drag(sheet, left, top, then=lambda: None):
    """Drag the picture so that its corner is at a place in inches; ``then`` before it is let go."""
    page, (now_left, now_top) = sheet.root.page, corner(sheet)
    box, inch = sheet.picture(), sheet.inch()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    to = x + float(inches(left) - now_left) * inch, y + float(inches(top) - now_top) * inch
    page.mouse.move(*to, steps=8)
    then()
    page.mouse.up()


def test_dragging_moves_it_where_the_mouse_goes(sheet):
    drag(sheet, 1.5, 1.75)
    near = re.compile(r"^1 (7/16|1/2|9/16) in")  # a pixel of the screen is some 1/20 in
    expect(sheet.reading(LEFT)).to_have_text(near)
    expect(sheet.reading(TOP)).to_have_text(re.compile(r"^1 (11/16|3/4|13/16) in"))
    assert sheet.stage.get_attribute("class").split() == ["labkit-stage", "labkit-movable"]


def test_it_snaps_to_the_guides_and_the_guides_are_shown(sheet):
    lines = sheet.stage.locator(".labkit-snap")
    assert lines.count() == 0

    def look():
        expect(sheet.stage.locator(".labkit-snap-hit")).to_have_count(2)
        names = lines.locator("title").all_text_contents()
        assert {"centre, left to right", "optical centre", "the printer's left edge"} <= set(names)
        expect_corner(sheet, "2 1/2 in", "5.467 in")

    # 8 in wide the picture is 5 1/3 in high; two fifths of the 13 2/3 in to spare are 5.467 in.
    drag(sheet, 2.6, 5.4, look)
    expect(lines).to_have_count(0)
    expect_corner(sheet, "2 1/2 in", "5.467 in")
    assert (
        "left 2 1/2 in (63.5 mm), top 5.467 in (138.9 mm)"
        in sheet.root.locator(".labkit-words").text_content()
    )


@pytest.mark.parametrize(
    ("left", "top", "sides"),
    [
        (-6, -6, {"left border": "4 mm (0.16 in)", "top border": "3 mm (0.12 in)"}),
        (12, 9, {"right border": "4 mm (0.16 in)"}),
        (2.5, 18, {"bottom border": "7 mm (0.28 in)"}),
    ],
)
def test_it_cannot_be_dragged_out_of_what_can_be_printed(sheet, left, top, sides):
    drag(sheet, left, top)
    for side, figure in sides.items():
        expect(sheet.reading(side)).to_have_text(figure)
    expect(sheet.message).to_have_count(0)


def test_on_the_screen_it_is_as_large_as_it_says(sheet):
    box, inch = sheet.picture(), sheet.inch()
    paper = sheet.stage.locator('[id$="-sheet"]').bounding_box()
    assert box["width"] / inch == pytest.approx(8, abs=0.1)
    assert paper["width"] / inch == pytest.approx(13, abs=0.1)
    assert (box["x"] - paper["x"]) / inch == pytest.approx(2.5, abs=0.1)
    assert (box["y"] - paper["y"]) / inch == pytest.approx(3, abs=0.1)


def test_units_are_swapped_everywhere(sheet):
    sheet.lesson.line.press("millimetres")
    try:
        expect(sheet.reading(LEFT)).to_have_text("63.5 mm (2 1/2 in)")
        expect(sheet.slider(LEFT).told).to_have_text("63.5 mm (2 1/2 in)")
        expect(sheet.stage).to_contain_text("203.2 mm")
        sheet.slider(TOP).press("ArrowRight")
        expect(sheet.reading(TOP)).to_have_text("77 mm (3.03 in)")
    finally:
        sheet.lesson.line.press("inches")
    expect(sheet.reading(LEFT)).to_have_text("2 1/2 in (63.5 mm)")


def test_the_widest_picture_moves_no_more_from_left_to_right(sheet):
    sheet.slider("picture's width").press("End")
    expect(sheet.reading("across the sheet")).to_have_text(
        "0.218 in + 12 5/8 in + 0.157 in = 13 in"
    )
    focus_by_tab(sheet)
    sheet.root.page.keyboard.press("ArrowDown")
    expect(sheet.reading(TOP)).to_have_text("3 1/16 in (77.8 mm)")
    expect(sheet.message).to_have_count(0)


def test_home_and_end_go_to_the_ends_there_are_now(sheet):
    """The range of a slider changes with the picture's width; 13 in less 8 in and 4 mm are 4.843 in."""
    left = sheet.slider(LEFT)
    left.press("End")
    expect(left.told).to_have_text("4 13/16 in (122.2 mm)")
    left.press("Home")
    expect(left.told).to_have_text("3/16 in (4.8 mm)")
    sheet.slider("picture's width").press("Home")
    expect(sheet.reading("across the sheet")).to_contain_text(" + 2 in + ")
    left.press("End")
    expect(left.told).to_have_text("10 13/16 in (274.6 mm)")


def test_after_a_restart_the_app_says_that_nothing_answers(sheet, opened):
    """The page is closed after it, since its kernel knows no app any more."""
    banner = "app => getComputedStyle(app, '::before').content"
    assert sheet.root.evaluate(banner) == "none"
    sheet.lesson.restart()
    sheet.root.page.wait_for_function(
        f"app => ({banner})(app).includes('Nothing answers here any more')",
        arg=sheet.root.element_handle(),
    )
    opened.pop(sheet.lesson.name).page.close()
