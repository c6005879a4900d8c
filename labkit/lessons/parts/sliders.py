"""Sliders in the trade's units, each with its value in words."""

from collections.abc import Callable
from math import ceil, floor

import ipywidgets as widgets

from labkit.geometry.length import Length, inches, millimetres
from labkit.lessons.parts.placing import STEPS

_NOISE = 1e-6
"""How far a browser's slider may be off its own step (2.4374999999999996). To send back what is only
that much off would overtake the reader's next move, and undo it."""


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
    """A slider with its name and, in words, its value above it."""

    def __init__(self, label: str, **settings):
        self._slider = _EndsFirst(description=label, readout=False, **settings)
        self._told = widgets.Label()
        self._stood = self._slider.value
        super().__init__([self._slider, self._told])
        self.add_class("labkit-slider")

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
    above it."""

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


def _number(value: Length, units: str) -> float:
    return float(value.mm if units == "mm" else value.inches)


def _exact(number: float, units: str) -> Length:
    return millimetres(number) if units == "mm" else inches(number)
