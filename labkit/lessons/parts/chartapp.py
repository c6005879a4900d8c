"""A chart in a lesson: drawn again when the reader chooses another picture or unit."""

from base64 import b64encode
from collections.abc import Callable
from html import escape

import ipywidgets as widgets

from labkit.drawing.chart import Chart
from labkit.files.look.address import data_address
from labkit.lessons.parts.controls import App
from labkit.lessons.parts.settings import settings
from labkit.room.rules import Room


class ChartApp(App):
    """Shows what ``build(units)`` makes, its sentence as the picture's text of its own."""

    def __init__(self, build: Callable[[str], Chart], room: Room):
        self._build, self._room, self._image = build, room, widgets.HTML()
        super().__init__(self._image)
        self.draw()
        for setting in ("picture", "units"):
            self.follow(setting, self.draw)

    @property
    def sentence(self) -> str:
        """What is plotted, in words."""
        return self.chart.sentence

    def draw(self) -> None:
        """Draw the chart again, of the picture and in the unit that the reader has chosen."""
        self.chart = self._build(settings().units or self._room.units)
        self._image.value = (
            f'<img class="labkit-chart" src="{data_address(self.chart.png, "png")}" '
            f'alt="{escape(self.chart.sentence)}">'
        )
        self.say(settings().trouble)

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        data["image/png"] = b64encode(self.chart.png).decode()
        return bundle
