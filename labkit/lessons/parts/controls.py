"""What every app is built of: the frame that shows errors, and controls in the trade's units."""

from collections.abc import Callable
from html import escape
from math import ceil, floor
from pathlib import Path

import anywidget
import ipywidgets as widgets

from labkit.errors import LabError
from labkit.geometry.length import Length, inches, millimetres
from labkit.lessons.parts.placing import STEPS
from labkit.lessons.parts.settings import settings

LABEL_WIDTH = "7.5em"
_NOISE = 1e-6
"""How far a browser's slider may be off its own step (2.4374999999999996). To send back what is only
that much off would overtake the reader's next move, and undo it."""


class Frame(anywidget.AnyWidget):
    """The look of an app, and its keys kept from the notebook. Nothing of it is seen."""

    _esm = Path(__file__).with_name("frame.js")
    _css = Path(__file__).with_name("labkit.css")


class App(widgets.VBox):
    """An app in a notebook: its parts, one under the other, and a line for what went wrong.

    It follows the reader's settings. Where no kernel runs it shows as one sentence and one drawing.
    """

    def __init__(self, *parts: widgets.Widget):
        self._message, self._followed = widgets.HTML(), []
        super().__init__([Frame(layout={"display": "none"}), *parts, self._message])
        self.add_class("labkit-app")
        self._size_type()
        self.follow("large", self._size_type)

    @property
    def sentence(self) -> str:
        """The app's state in words."""
        return ""

    @property
    def still(self) -> str | None:
        """The app's drawing as SVG, if it has one."""
        return None

    def follow(self, setting: str, handler: Callable[[], None]) -> None:
        """Call ``handler`` whenever the reader changes that one of their settings."""
        chosen, run = settings(), self.answer(handler, clear=False)
        chosen.observe(run, setting)
        self._followed.append((chosen, run, setting))

    def close(self) -> None:
        """Take the app away; it follows nothing any more."""
        for chosen, run, setting in self._followed:
            chosen.unobserve(run, setting)
        self._followed.clear()
        super().close()

    def _size_type(self) -> None:
        (self.add_class if settings().large else self.remove_class)("labkit-large")

    def say(self, text: str, *, right: bool = False) -> None:
        """Show a sentence below the app; "" takes it away."""
        look = "labkit-message labkit-right" if right else "labkit-message"
        self._message.value = (
            f'<div class="{look}" role="status">{escape(text)}</div>' if text else ""
        )

    def answer(self, handler: Callable[[], None], *, clear: bool = True) -> Callable:
        """``handler`` as a callback whose refusals are shown here instead of being swallowed; what was
        said before is cleared first, unless ``clear`` is false."""

        def run(*_):
            try:
                if clear:
                    self.say("")
                handler()
            except LabError as refusal:
                self.say(str(refusal))
            except Exception as fault:
                self.say(
                    f"That did not work ({type(fault).__name__}: {fault}): run this cell again."
                )

        return run

    def button(self, label: str, handler: Callable[[], None]) -> widgets.Button:
        """A button as wide as its label, its refusals shown here."""
        made = widgets.Button(description=label, layout={"width": "auto"})
        made.on_click(self.answer(handler))
        return made

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        data["text/plain"] = self.sentence
        if self.still is not None:
            data["image/svg+xml"] = self.still
        return data


class _EndsFirst(widgets.FloatSlider):
    """A slider that tells a browser its ends before its value, in one message.

    A browser that hears of the value first clamps it to the old ends, and sends that back as a move.
    """

    def send_state(self, key=None):
        """Send what changed, the value last."""
        if isinstance(key, set):
            key = sorted(key, key=lambda name: (name == "value", name))
        super().send_state(key)


class _Slider(widgets.HBox):
    """A slider with its value in words beside it."""

    def __init__(self, label: str, **settings):
        self._slider = _EndsFirst(
            description=label,
            readout=False,
            style={"description_width": LABEL_WIDTH},
            layout={"width": "21em"},
            **settings,
        )
        self._told = widgets.Label(layout={"width": "12em"})
        self._stood = self._slider.value
        super().__init__([self._slider, self._told])

    def on_move(self, handler: Callable) -> None:
        """Call ``handler`` when the reader moves the slider, not when the app or the browser does."""

        def moved(change):
            if abs(change["new"] - self._stood) > _NOISE:
                handler()

        self._slider.observe(moved, "value")

    def _stand(self, value: float, told: str, **settings: float) -> None:
        """Stand at the whole step nearest to ``value``, which a browser rounds to in any case."""
        with self._slider.hold_sync(), self._slider.hold_trait_notifications():
            for name, setting in settings.items():
                setattr(self._slider, name, setting)
            least, most, step = self._slider.min, self._slider.max, self._slider.step
            value = least + step * floor((value - least) / step + 0.5 + _NOISE)
            self._stood = min(max(value, least), most)
            if abs(self._slider.value - self._stood) > _NOISE:
                self._slider.value = self._stood
        self._told.value = told


class LengthSlider(_Slider):
    """A slider for a length in whole steps, 1/16 in or 1 mm by the unit shown first, with both units
    beside it."""

    def __init__(self, label: str):
        self._units = "in"
        super().__init__(label)

    @property
    def value(self) -> Length:
        """The length the slider stands at, in whole steps."""
        step = STEPS[self._units]
        return step * round(_exact(self._slider.value, self._units) / step)

    def show(self, value: Length, low: Length, high: Length, units: str) -> None:
        """Stand at ``value`` between ``low`` and ``high``, which are rounded inwards to whole steps.

        A value between two steps is told as it is. Where there is no whole step to go, nothing moves.
        """
        self._units = units
        step = STEPS[units]
        least, most = step * ceil(low / step), step * floor(high / step)
        self._slider.disabled = most <= least
        if most <= least:
            most = least + step
        span = {"min": least, "max": most, "step": step}
        numbers = {name: _number(size, units) for name, size in span.items()}
        self._stand(_number(value, units), value.both(units), **numbers)


class NumberSlider(_Slider):
    """A slider for a number; ``told`` puts it in words."""

    def __init__(
        self, label: str, least: float, most: float, step: float, told: Callable[[float], str]
    ):
        self._in_words = told
        super().__init__(label, min=least, max=most, step=step, value=least)

    @property
    def value(self) -> float:
        """The number the slider stands at, in whole steps from its least; whole where that is whole.

        A browser sends 299.99999999999994 where it shows 300.
        """
        least, step = self._slider.min, self._slider.step
        number = round(least + step * round((self._slider.value - least) / step), 9)
        return int(number) if number == int(number) else number

    def show(self, value: float) -> None:
        """Stand at ``value``."""
        self._stand(value, self._in_words(value))


def choice(label: str, options: list[tuple[str, object]], value) -> widgets.ToggleButtons:
    """Two to four ways to choose from, side by side."""
    made = widgets.ToggleButtons(
        options=options,
        value=value,
        description=label,
        style={"description_width": LABEL_WIDTH, "button_width": "auto"},
    )
    made.add_class("labkit-choice")
    return made


def menu(label: str, options: list[tuple[str, object]], value) -> widgets.Dropdown:
    """More ways than fit side by side."""
    return widgets.Dropdown(
        options=options,
        value=value,
        description=label,
        style={"description_width": LABEL_WIDTH},
        layout={"width": "37em", "max_width": "calc(100% - 4px)"},
    )


def card(
    heading: str, lines: tuple[str, ...], *, steps: bool = False, folded: bool = False
) -> widgets.HTML:
    """A heading and a list; ``folded`` away until the heading is pressed, as numbered ``steps`` are."""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    listed = f"<ol>{items}</ol>" if steps else f"<ul>{items}</ul>"
    if steps or folded:
        told = f"<details><summary>{escape(heading)}</summary>{listed}</details>"
    else:
        told = f"<h4>{escape(heading)}</h4>{listed}"
    return widgets.HTML(f'<section class="labkit-card">{told}</section>')


def table(rows: list[tuple[str, str]]) -> str:
    """Labels and figures to read off, as HTML."""
    if not rows:
        return ""
    lines = "".join(
        f"<div><span>{escape(label)}</span> <b>{escape(figure)}</b></div>" for label, figure in rows
    )
    return f'<div class="labkit-readings" aria-live="polite">{lines}</div>'


def _number(value: Length, units: str) -> float:
    return float(value.mm if units == "mm" else value.inches)


def _exact(number: float, units: str) -> Length:
    return millimetres(number) if units == "mm" else inches(number)
