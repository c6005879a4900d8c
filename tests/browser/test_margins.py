"""The lesson on margins: its questions and its exercise, answered by the keyboard alone."""

import numpy as np
import pytest
import tifffile
from playwright.sync_api import expect

from labkit.geometry.layout import PLACES
from labkit.geometry.length import length
from labkit.lessons.parts.reader import our_pictures
from labkit.room.rules import load_room
from labkit.teaching.margins import margins_brief

pytestmark = pytest.mark.browser

NAME = "Nia Oak"
NAMES = dict(zip(PLACES, ("centre", "optical centre", "three even borders"), strict=True))
SIDES = ("left", "top", "right", "bottom")


def write(app, label: str, text: str) -> None:
    """Type into a box, over what is there."""
    app.menu(label).focus()
    app.root.page.keyboard.press("Control+a")
    app.root.page.keyboard.type(text)
    app.root.page.keyboard.press("Tab")


def is_right(app):
    return expect(app.root.locator(".labkit-right").last)


def test_a_number(margins):
    question = margins.app("how_wide()").show()
    for given, told in (("11in", "11 in is all the white"), ("12", "has no unit")):
        write(question, "my answer", given)
        question.press("That is my answer")
        expect(question.message).to_contain_text(told)
        expect(question.root.locator(".labkit-right")).to_have_count(0)
    write(question, "my answer", "5 1/2 in")
    question.press("That is my answer")
    is_right(question).to_contain_text("Yes. The sheet is 20 in high")


def test_an_answer_is_judged_as_it_stands_however_fast_it_is_given(margins):
    """A click must not overtake the value typed just before."""
    question = margins.app("how_wide()").show()
    field, button = question.menu("my answer"), question.button("That is my answer")
    answers = ("11in", "11 in is all the white"), ("5.5in", "Yes. The sheet is 20 in high")
    for turn in range(30):
        given, told = answers[turn % 2]
        field.fill(given)
        button.click()
        expect(question.message).to_contain_text(told)


def test_enter_answers(margins):
    question = margins.app("how_wide()").show()
    for given, told in (("11in", "11 in is all the white"), ("5.5in", "Yes. ")):
        question.menu("my answer").fill(given)
        question.root.page.keyboard.press("Enter")
        expect(question.message).to_contain_text(told)


def test_an_order(margins):
    question = margins.app("which_first()").show()

    def arrange(*names):
        for number, name in enumerate(names, 1):
            question.menu(f"{number}.").focus()
            question.root.page.keyboard.type(name)
        question.press("That is my answer")

    arrange("optical", "centre", "three")
    expect(question.message).to_contain_text("The optical centre is higher than the centre")
    arrange("centre", "optical", "three")
    is_right(question).to_contain_text("Yes. The centre leaves 5 1/2 in below")


def test_a_mark(margins):
    question = margins.app("by_eye()").show()
    question.press("That is my answer")
    expect(question.message).to_contain_text(
        "Your top border is 11 in (279.4 mm): the picture is too low"
    )
    question.stage.focus()
    for _ in range(12):
        question.root.page.keyboard.press("Shift+ArrowUp")
    expect(question.slider("top border").told).to_have_text("5 in (127 mm)")
    question.press("That is my answer")
    is_right(question).to_contain_text("Yes. There is 12.333 in")


def test_in_a_refusal_the_drawing_stays_and_there_is_a_way_out(margins):
    edges = margins.app("printer_edges()").show()
    edges.press("centre")
    edges.press("on its side")
    expect(edges.reading("left border")).to_have_text("3 1/2 in; needed 3 mm")
    expect(edges.stage).to_contain_text("Sheet 19 × 13 in")
    drawing = edges.drawing
    edges.press("three even borders")
    expect(edges.message).to_contain_text("three even borders of 3 1/2 in (88.9 mm) leave less")
    assert edges.drawing == drawing
    assert edges.button("centre").get_attribute("aria-pressed") == "true"
    seen, window = edges.message.bounding_box(), edges.stage.bounding_box()
    assert window["y"] <= seen["y"] < window["y"] + window["height"]
    edges.press("optical centre")
    expect(edges.message).to_have_count(0)
    edges.press("centre")
    edges.press("upright")
    expect(edges.reading("left border")).to_have_text("1/2 in; needed 4 mm")


@pytest.fixture(scope="module")
def brief():
    room = load_room(None)
    return margins_brief(NAME, our_pictures(room), room)


@pytest.fixture
def task(margins, brief):
    margins.call_me(NAME)
    app = margins.app("task").show()
    expect(app.root.locator(".labkit-card").first).to_contain_text(brief.sentence("in"))
    expect(app.stage.locator("> svg")).to_be_visible()
    return app


def verdict(task):
    return expect(task.root.locator(".labkit-message b").first)


def measured(file) -> tuple[dict[str, float], float]:
    """The borders in the file itself, in inches: white from each edge to the first ink; and its ppi."""
    with tifffile.TiffFile(file) as tiff:
        ink = (tiff.asarray() != 255).any(axis=2)
        above, below = tiff.pages[0].tags["XResolution"].value
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    high, wide = ink.shape
    pixels = columns[0], rows[0], wide - 1 - columns[-1], high - 1 - rows[-1]
    return {side: n * below / above for side, n in zip(SIDES, pixels, strict=True)}, above / below


def exported(lab, stem: str):
    """The one print file of that name among the reader's."""
    (file,) = (lab.home / "exports").rglob(f"{stem}.tif")
    return file


def expect_what_is_shown(task, file) -> None:
    borders, ppi = measured(file)
    for side, border in borders.items():
        assert abs(float(task.measure(f"{side} border")) - border) <= 1 / ppi, side


def test_the_exercise_wrong_and_then_right(task, brief, lab):
    page = task.root.page
    task.press("All figures")
    task.press("Export my print file")
    verdict(task).to_contain_text("is not ready yet", timeout=60_000)
    assert task.root.locator(".labkit-message li").count() >= 2
    expect(task.root.locator(".labkit-right")).to_have_count(0)
    expect_what_is_shown(task, exported(lab, brief.stem.rpartition("_")[0] + "_letter"))

    sheet, wanted = brief.layout.sheet, brief.layout
    task.menu("sheet").focus()
    page.keyboard.type(str(sheet.turned() if sheet.is_turned else sheet)[:8])
    task.press("on its side" if sheet.is_turned else "upright")
    width = task.slider("picture's width")
    expect(task.reading("across the sheet")).to_contain_text(f"= {sheet.width.inch_text()}")
    width.press("Home")
    expect(width.told).to_have_text("2 in (50.8 mm)")
    width.step_up(round((wanted.picture.width - length("2in")) / length("1/16in")))
    expect(width.told).to_have_text(wanted.picture.width.both())
    at = next(name for place, name in NAMES.items() if _is_at(brief, place))
    task.press(at)
    for side, border in wanted.borders.items():
        expect(task.reading(f"{side} border")).to_have_text(border.both())

    task.press("Export my print file")
    verdict(task).to_have_text(
        f"{brief.stem}.tif is ready to print: size, place, borders and name are right.",
        timeout=60_000,
    )
    is_right(task).to_be_visible()
    expect_what_is_shown(task, exported(lab, brief.stem))

    task.press("Export my print file")
    expect(task.message).to_contain_text("nothing was overwritten", timeout=60_000)


def _is_at(brief, place: str) -> bool:
    borders = brief.layout.borders
    spare = borders.top + borders.bottom
    tops = {"centre": spare / 2, "optical": spare * 2 / 5, "even-three": borders.left}
    return borders.top == tops[place]
