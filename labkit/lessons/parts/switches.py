"""The two switches that apps share: the unit shown first, and type for the projector."""

from collections.abc import Callable
from dataclasses import replace

import ipywidgets as widgets

from labkit.home import home
from labkit.lessons.parts.controls import App, choice


def units_switch(app: App, show: Callable[[], None]) -> widgets.ToggleButtons:
    """Inches or millimetres first: kept for the reader in ``app.units``, then shown anew."""
    switch = choice("shown first", [("inches", "in"), ("millimetres", "mm")], app.units)

    def change():
        app.units = switch.value
        home().keep(replace(home().reader(), units=app.units))
        show()

    switch.observe(app.answer(change), "value")
    return switch


def large_switch(app: App) -> widgets.ToggleButton:
    """Large type in that app."""
    switch = widgets.ToggleButton(description="Large type", tooltip="for the projector")

    def change():
        (app.add_class if switch.value else app.remove_class)("labkit-large")

    switch.observe(app.answer(change), "value")
    return switch
