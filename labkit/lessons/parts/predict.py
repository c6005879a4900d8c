"""Questions a reader answers before the answer is shown: a number, a mark dragged, an order.

Nothing blocks a reader who wants to go on: every question also shows its answer when asked to.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from html import escape
from typing import Any

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.geometry.length import Length, length
from labkit.geometry.proportion import share
from labkit.lessons.parts.controls import App, menu
from labkit.lessons.parts.figure import FigureApp
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.sheetapp import SheetApp


class Question(App):
    """A question, ways to answer it, and two buttons; ``answer`` is the explanation in the end.

    With a ``figure`` all of that stands in its column, beside its drawing.
    """

    def __init__(
        self, asked: str, answer: str, *ways: widgets.Widget, figure: FigureApp | None = None
    ):
        self._asked, self._answer, self.figure = asked, answer, figure
        check = self.button("That is my answer", self._check, main=True)
        show = self.button("Show me", lambda: self.say(self._answer))
        prompt = widgets.HTML(f'<p class="labkit-asked"><b>Predict.</b> {escape(asked)}</p>')
        self.buttons, message = widgets.HBox([check, show]), widgets.HTML()
        self.buttons.add_class("labkit-answer")
        parts = [prompt, *(figure.side.children if figure else ()), *ways, self.buttons, message]
        if figure:
            figure.side.children = parts
            parts = [figure]
        super().__init__(*parts, message=message)

    @property
    def sentence(self) -> str:
        """The question."""
        return f"Predict. {self._asked}"

    def verdict(self) -> tuple[bool, str]:
        """Whether the reader's answer is right, and what to say to it."""
        raise NotImplementedError

    def _check(self) -> None:
        right, told = self.verdict()
        self.say(f"Yes. {self._answer}" if right else told, right=right)


@dataclass(frozen=True)
class Quantity:
    """What kind of number is asked for: how it is read, how near is right, what it looks like."""

    read: Callable[[str, str], Any]
    within: Any
    such_as: str
    asked: str


LENGTH = Quantity(length, length("1/16in"), "2 1/2in or 64mm", "a length first, with its unit")
SHARE = Quantity(share, Fraction(1, 100), "25% or 1/4", "a share first")


class NumberQuestion(Question):
    """Asks for a length, or another ``kind`` of number. ``slips`` explains the wrong answers that come of
    a usual mistake."""

    def __init__(
        self,
        asked: str,
        right: Length | Fraction,
        answer: str,
        slips: dict[str, str],
        kind: Quantity = LENGTH,
    ):
        self._right, self._kind = right, kind
        self._slips = {kind.read(text, "a slip"): told for text, told in slips.items()}
        self.entry = widgets.Text(
            placeholder=f"such as {kind.such_as}",
            description="my answer",
            continuous_update=False,
        )
        super().__init__(asked, answer, self.entry)

    def verdict(self) -> tuple[bool, str]:
        """Right within 1/16 in, or a hundredth; a usual slip gets its own explanation."""
        if not self.entry.value.strip():
            raise LabError(f"type {self._kind.asked}: {self._kind.such_as}.")
        given, within = self._kind.read(self.entry.value, "your answer"), self._kind.within
        if abs(given - self._right) <= within:
            return True, ""
        for slip, told in self._slips.items():
            if abs(given - slip) <= within:
                return False, told
        size = "much" if given > self._right else "little"
        told = given if isinstance(given, Length) else self.entry.value.strip()
        return False, f"{told} is too {size}. Try again, or look at the answer."


class ChoiceQuestion(Question):
    """Asks for one of several answers; ``ways`` has each with what to say to it, the right one first."""

    def __init__(self, asked: str, answer: str, ways: dict[str, str]):
        self._right, self._ways = next(iter(ways)), ways
        self.entry = widgets.ToggleButtons(
            options=sorted(ways), value=None, style={"button_width": "auto"}
        )
        self.entry.add_class("labkit-answers")
        super().__init__(asked, answer, self.entry)

    def verdict(self) -> tuple[bool, str]:
        """Right or wrong, each wrong one with its own explanation."""
        if self.entry.value is None:
            raise LabError("choose one of them first.")
        return self.entry.value == self._right, self._ways[self.entry.value]


class FigureQuestion(Question):
    """Asks for a figure to be set. ``mend`` says of its state what is wrong with it, or ""."""

    def __init__(self, asked: str, answer: str, app: FigureApp, mend: Callable[[Any], str]):
        self.app, self._mend = app, mend
        super().__init__(asked, answer, figure=app)

    @property
    def still(self) -> str:
        """The figure as it was put before the reader."""
        return self.app.still

    def verdict(self) -> tuple[bool, str]:
        """Right where there is nothing to mend."""
        told = self._mend(self.app.state)
        return not told, told


class MarkQuestion(FigureQuestion):
    """Asks for the picture to be put somewhere. Judged by its top, right within 1/8 in; ``slips`` as
    above."""

    def __init__(
        self,
        asked: str,
        right: Length,
        answer: str,
        slips: dict[Length, str],
        app: SheetApp,
    ):
        self._right, self._slips = right, slips
        super().__init__(asked, answer, app, self._off)

    def _off(self, placing: Placing) -> str:
        top, within = placing.corner[1], length("1/8in")
        if abs(top - self._right) <= within:
            return ""
        for slip, told in self._slips.items():
            if abs(top - slip) <= within:
                return told
        way = "too low" if top > self._right else "too high"
        return f"Your top border is {top}: the picture is {way}. Try again."


class OrderQuestion(Question):
    """Asks for an order. ``right`` lists the things in it; ``slips`` explains a pair put the wrong way
    round, but for the two that may change places, ``either``; ``figure`` shows what is to be put in order,
    under the ``labels`` it has there."""

    def __init__(
        self,
        asked: str,
        right: tuple[str, ...],
        answer: str,
        slips: dict[tuple[str, str], str],
        figure: FigureApp | None = None,
        labels: str = "123456789",
        either: frozenset[str] = frozenset(),
    ):
        self._right, self._slips, self._either = right, slips, either
        self.entries = [
            menu(f"{label}.", [("choose …", ""), *((each, each) for each in sorted(right))], "")
            for label, _ in zip(labels, right, strict=False)
        ]
        super().__init__(asked, answer, *self.entries, figure=figure)

    @property
    def still(self) -> str | None:
        """The figure, as it was put before the reader."""
        return self.figure.still if self.figure else None

    def verdict(self) -> tuple[bool, str]:
        """Right when every place is; the first pair the wrong way round is explained."""
        given = [entry.value for entry in self.entries]
        if sorted(given) != sorted(self._right):
            raise LabError("put each of them in once, then ask again.")
        for at, earlier in enumerate(given):
            for later in given[at + 1 :]:
                wrong = self._right.index(earlier) > self._right.index(later)
                if wrong and {earlier, later} != self._either:
                    told = self._slips.get((earlier, later), f"“{later}” comes before “{earlier}”.")
                    return False, told
        return True, ""
