"""The lesson at the counter: hand-ins read and decided, a printer set, by the keyboard alone."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

SECONDS = 30_000


@pytest.fixture(scope="module")
def counter(opened):
    return opened["08-at-the-counter"]


def is_right(app):
    return expect(app.root.locator(".labkit-right").last)


def choose(app, label: str, words: str) -> None:
    """Choose in a menu by typing how the choice begins."""
    app.menu(label).focus()
    app.root.page.keyboard.type(words)
    app.root.page.keyboard.press("Tab")


def test_a_hand_in_is_read_before_it_is_seen(counter):
    app = counter.app("hand_ins()").show()
    expect(app.reading("resolution")).to_have_text("72 ppi")
    expect(app.stage).to_have_count(0)
    app.press("That is my answer")
    expect(app.message).to_have_text("choose one of them first.")
    app.press("the sheet it amounts to")
    app.press("That is my answer")
    expect(app.message).to_contain_text("it only follows")
    expect(app.stage).to_have_count(0)
    app.press("the resolution")
    app.press("That is my answer")
    is_right(app).to_have_text("Yes: the resolution.")
    expect(app.stage.locator("svg").first).to_be_visible()
    expect(app.root.locator(".labkit-card")).to_have_count(3)


def test_a_printer_is_put_right(counter):
    app = counter.app("printing()").show()
    expect(app.reading("picture's width")).to_contain_text("printed 11.709 in")
    app.press("100 %")
    expect(app.reading("picture's width")).to_contain_text("as asked")
    for off in ("as in the file", "not at all"):
        app.root.get_by_role("button", name=off, exact=True).focus()
        app.root.page.keyboard.press("Enter")
    expect(app.root.locator(".labkit-words")).to_contain_text("comes out as the file says")


def test_which_print(counter):
    app = counter.app("which_print()").show()
    for letter, name in zip("ABC", ("twice", "never", "once"), strict=True):
        choose(app, f"{letter}.", name)
    app.press("That is my answer")
    is_right(app).to_contain_text("Yes. A was managed twice")


def test_two_hand_ins_are_decided(counter):
    app = counter.app("practice()").show()
    expect(app.button("Next hand-in")).to_have_count(0)
    app.press("That is my decision")
    expect(app.message).to_contain_text("decide first")
    for number in (1, 2):
        expect(app.root).to_contain_text(f"Hand-in {number} of 12.")
        name = app.reading("its name").text_content()
        app.press("print it")
        choose(app, "your reason", "nothing")
        app.press("That is my decision")
        expect(app.message).to_contain_text("technician would")
        told = app.root.locator(".labkit-card").filter(has_not_text="Our rules")
        expect(told).to_have_count(2)
        expect(app.button("Next hand-in")).to_be_focused()  # the same button, so that keys go on
        app.press("Next hand-in")
        expect(app.root).to_contain_text(f"Hand-in {number + 1} of 12.", timeout=SECONDS)
        assert app.reading("its name").text_content() != name
        expect(told).to_have_count(0)
        expect(app.button("That is my decision")).to_be_focused()
        whole = app.stage.locator('image[id$="-whole"]')
        if whole.count():
            paper = app.stage.locator('rect[id$="-sheet"]').bounding_box()
            assert whole.bounding_box() == pytest.approx(paper, abs=1.5)


def test_the_message_stands_by_the_buttons(counter):
    """Not below the drawing, where nobody looks."""
    app = counter.app("practice()").show()
    app.press("That is my decision")
    button, told = app.button("That is my decision").bounding_box(), app.message.bounding_box()
    assert 0 < told["y"] - button["y"] < 120
    assert app.message.get_attribute("role") == "status"
