"""The questions: right, wrong with its own explanation, and nothing given."""

from dataclasses import replace

import pytest

from labkit.geometry.length import length
from labkit.lessons.margins import margins
from labkit.lessons.parts.placing import BY_HAND
from labkit.lessons.parts.predict import ChoiceQuestion
from tests.lessons.hands import is_right, said, words


def buttons(question) -> dict:
    """The buttons below the ways to answer, above what is said."""
    return {button.description: button for button in question.buttons.children}


def answer(question) -> str:
    buttons(question)["That is my answer"].click()
    return said(question)


@pytest.fixture
def number():
    return margins.how_wide()


@pytest.fixture
def mark():
    return margins.by_eye()


@pytest.fixture
def order():
    return margins.which_first()


@pytest.mark.parametrize(
    "given", ["5.5in", "5 1/2 in", "139.7mm", "13.97 cm", "5 9/16in", "5 7/16in"]
)
def test_the_right_number_in_any_unit(number, given):
    number.entry.value = given
    assert answer(number).startswith("Yes. The sheet is 20 in high and the picture 9 in")
    assert is_right(number)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("11in", "11 in is all the white"),
        ("10in", "10 in is half the sheet."),
        ("50.8mm", "2 in is the border on the left."),
        ("4.4in", "4.4 in is the optical centre"),
        ("5 5/8in", "5 5/8 in (142.9 mm) is too much."),
        ("5 3/8in", "5 3/8 in (136.5 mm) is too little."),
        ("", "type a length first, with its unit: 2 1/2in or 64mm."),
        ("  ", "type a length first, with its unit: 2 1/2in or 64mm."),
        ("5.5", "your answer of “5.5” has no unit: write 5.5in or 5.5mm."),
        ("wide", "your answer of “wide” is not a length: write it like 12in, 12 1/2 in or 300mm."),
    ],
)
def test_every_other_number_is_explained(number, given, told):
    number.entry.value = given
    assert answer(number).startswith(told)
    assert not is_right(number)


def test_nobody_is_held_up(number):
    buttons(number)["Show me"].click()
    assert said(number).startswith("The sheet is 20 in high")
    assert number.entry.value == ""


def test_the_question_stands_in_the_page_before_it_is_run(number, mark, order):
    for question in (number, mark, order):
        assert question.sentence.startswith("Predict. ")
        data = question._repr_mimebundle_()
        data = data[0] if isinstance(data, tuple) else data
        assert data["text/plain"] == question.sentence
    assert mark.still == mark.app.still
    assert number.still is None


def put(mark, top: str) -> None:
    mark.app.put(replace(mark.app.placing, at=BY_HAND, top=length(top)))


# 10 in wide the picture is 6 2/3 in high; of the 12 1/3 in to spare, two fifths are 4.933 in.
@pytest.mark.parametrize("top", ["4.933in", "4.82in", "5.05in", "125mm"])
def test_the_right_mark_within_an_eighth(mark, top):
    put(mark, top)
    assert answer(mark).startswith("Yes. There is 12.333 in (313.3 mm) of white.")
    assert is_right(mark)


@pytest.mark.parametrize(
    ("top", "told"),
    [
        ("6.167in", "That is the exact middle"),
        ("4.111in", "That is one part above and two parts below."),
        ("11in", "Your top border is 11 in (279.4 mm): the picture is too low. Try again."),
        ("4.5in", "Your top border is 4 1/2 in (114.3 mm): the picture is too high. Try again."),
        ("5.07in", "Your top border is 5.07 in (128.8 mm): the picture is too low. Try again."),
    ],
)
def test_every_other_mark_is_explained(mark, top, told):
    put(mark, top)
    assert answer(mark).startswith(told)
    assert not is_right(mark)


def test_the_mark_does_not_begin_at_the_answer(mark):
    assert mark.verdict()[0] is False


def arrange(order, *names: str) -> None:
    for entry, name in zip(order.entries, names, strict=True):
        entry.value = name


CENTRE, OPTICAL, EVEN = "centre", "optical centre", "three even borders"


def test_the_right_order(order):
    arrange(order, CENTRE, OPTICAL, EVEN)
    assert answer(order).startswith("Yes. The centre leaves 5 1/2 in below")
    assert is_right(order)


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ((OPTICAL, CENTRE, EVEN), "The optical centre is higher than the centre"),
        ((CENTRE, EVEN, OPTICAL), "With three even borders the picture is near the top"),
        ((EVEN, CENTRE, OPTICAL), "With three even borders, the border above is as narrow"),
        ((EVEN, OPTICAL, CENTRE), "With three even borders the picture is near the top"),
        ((CENTRE, CENTRE, EVEN), "put each of them in once, then ask again."),
        ((CENTRE, "", ""), "put each of them in once, then ask again."),
        (("", "", ""), "put each of them in once, then ask again."),
    ],
)
def test_every_other_order_is_explained(order, names, told):
    arrange(order, *names)
    assert answer(order).startswith(told)
    assert not is_right(order)


def test_the_menus_do_not_give_the_order_away(order):
    for entry in order.entries:
        assert entry.value == ""
        assert [label for label, _ in entry.options[1:]] == sorted([CENTRE, OPTICAL, EVEN])


def test_a_choice():
    ways = {"right": "It is.", "wrong": "It is not, because.", "also wrong": "Nor is this."}
    choice = ChoiceQuestion("Which?", "The right one.", ways)
    assert list(choice.entry.options) == sorted(ways)
    assert answer(choice) == "choose one of them first."
    choice.entry.value = "wrong"
    assert (answer(choice), is_right(choice)) == ("It is not, because.", False)
    choice.entry.value = "right"
    assert is_right(choice) is False  # until it is asked again
    answer(choice)
    assert is_right(choice)


def test_a_question_is_read_as_text():
    asked = ChoiceQuestion("Is 1 < 2?", "Yes.", {"yes": "", "no": "Count."})
    shown = next(
        child.value for child in asked.children if "Predict" in getattr(child, "value", "")
    )
    assert words(shown) == "Predict. Is 1 < 2?"
