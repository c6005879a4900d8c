"""Prints laid on a roll under the mouse, a finger and the keys, in the lesson on roll paper."""

import pytest
from playwright.sync_api import expect

pytestmark = [pytest.mark.browser, pytest.mark.slow]

FOCUSED = "() => document.activeElement.classList.contains('labkit-stage')"


@pytest.fixture
def roll(opened):
    lesson = opened["07-roll-paper"]
    lesson.resize(1366, 768)
    lesson.page.bring_to_front()
    app = lesson.app("by_hand()")
    app.show()
    yield app
    opened.pop(
        "07-roll-paper"
    ).page.close()  # so that the next test begins with the prints as they were


def grasped(roll, name: str) -> tuple[float, float]:
    """The middle of a print on the screen, the mouse over it."""
    drawn = roll.stage.locator("[data-thing]").filter(has_text=name).locator("rect").first
    drawn.hover()  # once it stands still
    box = drawn.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(roll, name: str, along: float, across: float, then=lambda: None) -> None:
    """By so many inches to the right and upwards; ``then`` before it is let go."""
    x, y = grasped(roll, name)
    mouse, inch = roll.root.page.mouse, roll.inch()
    mouse.down()
    mouse.move(x + along * inch, y - across * inch, steps=8)
    then()
    mouse.up()


def test_dragged_it_snaps_and_what_it_lies_on_is_named(roll):
    lines = roll.stage.locator(".labkit-snap-hit")

    def look():
        expect(roll.reading("it stands")).to_have_text("where printing begins; a gap from Mina")
        expect(lines).not_to_have_count(0)

    drag(roll, "Otto", -23.6, 8.5, look)  # it began after 12 + 1/4 + 11 + 1/4 in
    expect(roll.reading("it begins")).to_have_text("0 in along, 8 1/4 in across")
    expect(roll.reading("chosen")).to_have_text("Otto, 5 × 7 in")
    expect(lines).to_have_count(0)
    drag(roll, "Pia", -18, 3)
    expect(roll.reading("overlap")).to_have_text("Noor and Pia")
    expect(roll.reading("straight cuts part")).to_have_text("not Noor and Pia")


def test_by_keys_alone(roll):
    page = roll.root.page
    roll.button("the computer's answer").focus()
    for _ in range(6):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED):
            break
    for _ in range(2):
        page.keyboard.press("n")
    expect(roll.reading("chosen")).to_have_text("Otto, 5 × 7 in")
    page.keyboard.press("t")
    expect(roll.reading("chosen")).to_have_text("Otto, 5 × 7 in, turned")
    page.keyboard.press("ArrowUp")
    expect(roll.reading("it begins")).to_have_text("23 1/2 in along, 1/16 in across")
    page.keyboard.press("Shift+ArrowUp")
    expect(roll.reading("it stands")).to_have_text("at the edge of what can be printed")
    assert page.evaluate(FOCUSED)
    press_all_at_once(roll)
    expect(roll.reading("chosen")).to_have_text("Pia, 10 × 8 in")
    page.keyboard.press("p")
    expect(roll.reading("it stands")).to_have_text("in line with Noor; a gap from Noor")


def press_all_at_once(roll):
    """Faster than they are answered: five steps away from the edge, to the next place along and across,
    one print on. Each finds what the one before has left."""
    keys = "Array(5).fill(['ArrowDown'])", "['ArrowLeft', true]", "['ArrowDown', true]", "['n']"
    roll.stage.evaluate(
        f"stage => {{ for (const [key, shiftKey] of [...{keys[0]}, {', '.join(keys[1:])}])"
        " stage.dispatchEvent(new KeyboardEvent('keydown', {key, shiftKey, bubbles: true})) }"
    )


def test_a_finger_drags_it_and_the_page_stays(roll):
    page = roll.root.page
    x, y = grasped(roll, "Quin")
    by = 8.7 * roll.inch()
    talk = page.context.new_cdp_session(page)

    def touch(kind, *points):
        talk.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": list(points)})

    touch("touchStart", {"x": x, "y": y})
    for step in range(1, 6):
        touch("touchMove", {"x": x, "y": y - by * step / 5})
    touch("touchEnd")
    talk.detach()
    expect(roll.reading("chosen")).to_have_text("Quin, 6 × 9 in")
    expect(roll.reading("it begins")).to_contain_text("in along, 8 ")
    assert grasped(roll, "Quin")[1] == pytest.approx(y - by, abs=roll.inch())
