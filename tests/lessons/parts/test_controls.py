import re

import ipywidgets as widgets
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, length
from labkit.lessons.parts.controls import App, card, choice, menu, table
from labkit.lessons.parts.sliders import LengthSlider, NumberSlider
from tests.lessons.hands import is_right, said, words


def slider(value="5 1/2in", low="4mm", high="272.4mm", units="in") -> LengthSlider:
    made = LengthSlider("top border")
    made.show(length(value), length(low), length(high), units)
    return made


class Moves(list):
    """Listens to a slider."""

    def __init__(self, slider):
        slider.on_move(lambda: self.append(slider.value))


def test_a_length_slider_tells_both_units():
    shown = slider()
    assert shown._slider.value == 5.5
    assert shown._told.value == "5 1/2 in (139.7 mm)"
    shown.show(length("5 1/2in"), ZERO, length("10in"), "mm")
    assert shown._slider.value == 140  # the nearest whole step; the figure beside it is exact
    assert shown._told.value == "139.7 mm (5 1/2 in)"


def test_its_ends_are_rounded_inwards_to_whole_steps():
    shown = slider()._slider  # 4 mm is 2.52 sixteenths, 272.4 mm is 171.6
    assert (shown.min, shown.max, shown.step) == (3 / 16, 10 + 11 / 16, 1 / 16)
    metric = slider(low="1/2in", high="10in", units="mm")._slider  # 12.7 and 254 mm
    assert (metric.min, metric.max, metric.step) == (13, 254, 1)


@given(st.integers(0, 300))
def test_in_inches_it_moves_by_exact_sixteenths(count):
    moved = slider(low="0in", high="20in")
    heard = Moves(moved)
    moved._slider.value = 5.5
    moved._slider.value = count * 0.0625
    assert moved.value == length("1/16in") * count
    assert heard[-1:] in ([], [moved.value])


@given(st.integers(0, 500), st.sampled_from([-1e-9, 0, 1e-9]))
def test_in_millimetres_it_moves_by_exact_millimetres(count, noise):
    moved = slider(low="0mm", high="500mm", units="mm")
    moved._slider.value = count + noise
    assert moved.value == length(f"{count}mm")
    assert moved.value.mm == count


def test_only_the_reader_is_heard():
    moved = slider()
    heard = Moves(moved)
    moved.show(length("2in"), ZERO, length("3in"), "in")  # lower than it stood: clamped on the way
    moved.show(length("2in"), ZERO, length("3in"), "mm")
    assert heard == []
    moved._slider.value = 60.0
    assert heard == [length("60mm")]


def test_what_a_browser_sends_is_not_sent_back_for_its_noise():
    moved = slider()
    moved.on_move(lambda: moved.show(moved.value, length("4mm"), length("272.4mm"), "in"))
    sent = []
    moved._slider.observe(lambda change: sent.append(change["new"]), "value")
    moved._slider.value = 2.4374999999999996  # as one does send it, for 2 7/16
    assert moved.value == length("2 7/16in")
    assert moved._told.value == "2 7/16 in (61.9 mm)"
    assert sent == [2.4374999999999996]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_the_browser_rounds_by_itself_is_no_move(units):
    value = length("5.467in")  # 87.47 sixteenths, 138.86 mm
    shown = LengthSlider("top border")
    heard = Moves(shown)
    shown.show(value, ZERO, length("10in"), units)
    step = shown._slider.step
    for noise in (1e-9, -1e-9):
        shown._slider.value = shown._slider.value + noise
    assert heard == []
    assert abs(shown._slider.value - float(value.mm if units == "mm" else value)) <= step / 2
    shown._slider.value = shown._slider.value + step
    assert len(heard) == 1


def test_a_browser_hears_of_the_ends_before_the_value(monkeypatch):
    """Otherwise it clamps 203 mm to the 12 5/8 that were inches, and says that the reader did it."""
    moved = slider("8in", "2in", "12 5/8in")
    sent = []
    monkeypatch.setattr(moved._slider.comm, "send", lambda data, **_: sent.append(data["state"]))
    for units in ("mm", "in", "mm"):
        moved.show(length("8in"), length("2in"), length("12 5/8in"), units)
    assert [list(state) for state in sent] == [["max", "min", "step", "value"]] * 3
    assert sent[0] == {"max": 320, "min": 51, "step": 1, "value": 203}


def test_a_value_off_the_steps_is_told_as_it_is():
    shown = slider("4mm")
    assert shown._told.value == "4 mm (0.16 in)"
    assert shown._slider.value == shown._slider.min == 3 / 16


@pytest.mark.parametrize(("low", "high"), [("4mm", "4mm"), ("4mm", "4.5mm"), ("1/2in", "1/2in")])
def test_with_no_whole_step_to_go_it_stands_still(low, high):
    shown = slider(low, low, high)._slider
    assert shown.disabled
    assert shown.min < shown.max  # the browser's slider refuses two equal ends
    assert not slider("4mm", "4mm", "40mm")._slider.disabled


def test_it_wakes_up_again():
    shown = slider("4mm", "4mm", "4mm")
    shown.show(length("1in"), ZERO, length("2in"), "in")
    assert not shown._slider.disabled
    shown._slider.value = 2.0
    assert shown.value == length("2in")


def test_a_number_slider_tells_its_number_in_words():
    made = NumberSlider("copies", 1, 9, 1, lambda number: f"{number} copies")
    heard = Moves(made)
    made.show(3)
    assert (made._told.value, heard) == ("3 copies", [])
    made._slider.value = 4.0
    assert heard == [4]
    assert isinstance(made.value, int)
    halves = NumberSlider("folds", 1, 9, 0.5, str)
    halves._slider.value = 4.5
    assert halves.value == 4.5


class Trial(App):
    """An app with one button for each thing that can happen."""

    def __init__(self):
        self.wrong = self.button("wrong", self._refuse)
        self.broken = self.button("broken", lambda: {}["paper"])
        self.fine = self.button("fine", lambda: None)
        super().__init__(widgets.HBox([self.wrong, self.broken, self.fine]))

    def _refuse(self):
        raise LabError("the sheet is <too> small: take another & larger one.")


@pytest.fixture
def trial():
    return Trial()


def test_a_refusal_is_shown_and_not_read_as_html(trial):
    trial.wrong.click()
    assert said(trial) == "the sheet is <too> small: take another & larger one."
    assert "&lt;too&gt;" in trial._message.value
    assert 'role="status"' in trial._message.value
    assert not is_right(trial)


def test_a_fault_of_ours_is_shown_as_well(trial):
    trial.broken.click()
    assert said(trial) == "That did not work (KeyError: 'paper'): run this cell again."


def test_what_works_takes_the_sentence_away(trial):
    trial.wrong.click()
    trial.fine.click()
    assert said(trial) == ""
    assert trial._message.value == ""


def test_praise_looks_different(trial):
    trial.say("Yes.", right=True)
    assert is_right(trial)
    trial.say("No.")
    assert not is_right(trial)


def test_an_app_brings_its_own_look(trial):
    frame = trial.children[0]
    assert frame.layout.display == "none"
    for name in ("labkit-app", "labkit-card", "labkit-message", "labkit-stage"):
        assert f".{name}" in str(frame._css)
    assert "keydown" in str(frame._esm)


def test_an_app_without_a_kernel_is_its_sentence(trial):
    bundle = trial._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert data["text/plain"] == trial.sentence
    assert "image/svg+xml" not in data


def test_choices_and_menus_begin_where_they_are_told():
    ways = [("upright", False), ("on its side", True)]
    assert choice("the sheet lies", ways, True).value is True
    assert menu("the sheet lies", ways, False).label == "upright"


def test_a_card_lists_its_lines_and_escapes_them():
    told = card("Papers", ("matt <b>", "pearl")).value
    assert words(told) == "Papers matt <b> pearl"
    assert re.findall("<li>(.*?)</li>", told) == ["matt &lt;b&gt;", "pearl"]
    assert "<details>" not in told
    assert "<details><summary>Steps</summary><ol>" in card("Steps", ("one",), steps=True).value


def test_a_table_of_nothing_is_nothing():
    assert table([]) == ""
    assert words(table([("above", "5 1/2 in"), ("below", "<1 in")])) == (
        "above 5 1/2 in below <1 in"
    )


def test_a_length_is_never_a_float():
    assert isinstance(slider().value, Length)


@pytest.mark.parametrize(("sent", "stands"), [(299.99999999999994, 300), (300.4, 300), (20, 20)])
def test_a_number_is_in_whole_steps_whatever_the_browser_sends(sent, stands):
    slider = NumberSlider("resolution", 20, 600, 1, str)
    slider._slider.value = sent
    assert slider.value == stands
    assert isinstance(slider.value, int)
