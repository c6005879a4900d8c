"""The line at the top of a lesson: name, picture, unit and type size, chosen once for all its apps."""

from collections.abc import Callable

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.home import home
from labkit.lessons.parts.controls import App, choice, menu
from labkit.lessons.parts.reader import known_pictures, shown_picture
from labkit.lessons.parts.settings import settings
from labkit.room.rules import Room


class SettingsLine(App):
    """What the reader chooses once a lesson. All apps follow at once; the next lesson remembers."""

    def __init__(self, room: Room, *more: widgets.Widget):
        self._room, self._stands, chosen = room, False, settings()
        self.entry = name_entry()
        self.picture = menu("picture", [], None)
        self.units = choice("unit", [("inches", "in"), ("millimetres", "mm")], room.units)
        self.large = widgets.ToggleButton(description="Large type", tooltip="for the projector")
        line = widgets.HBox([self.entry, self.picture, self.units, self.large, *more])
        line.add_class("labkit-settings")
        super().__init__(line)
        self._show()
        self.say(chosen.trouble)
        for control, keep in (
            (self.entry, self._keep_name),
            (self.picture, self._keep_picture),
            (self.units, lambda: chosen.keep(units=self.units.value)),
            (self.large, lambda: chosen.keep(large=self.large.value)),
        ):
            self._listen(control, keep)
        for name in ("name", "picture", "units", "large"):
            self.follow(name, self._show)

    @property
    def sentence(self) -> str:
        """What is chosen here."""
        return (
            "Your name, the picture you work on, the unit shown first, and large type for a projector: "
            "chosen here for every app of this lesson, and remembered for the next."
        )

    def _show(self) -> None:
        """Stand at what was chosen, here or elsewhere."""
        chosen, self._stands = settings(), False
        known = known_pictures(home().uploads)
        files = [file for _, file in known]
        if tuple(self.picture.options) != tuple(known):
            self.picture.options = known
        self.picture.value = chosen.picture if chosen.picture in files else files[0]
        self.entry.value, self.large.value = chosen.name, chosen.large
        self.units.value = chosen.units or self._room.units
        self._stands = True

    def _listen(self, control: widgets.Widget, keep: Callable[[], None]) -> None:
        answer = self.answer(keep)
        control.observe(lambda _: answer() if self._stands else None, "value")

    def _keep_name(self) -> None:
        settings().keep(name=self.entry.value.strip())
        self.say(f"Kept in {home().folder}: the name {settings().name}.", right=True)

    def _keep_picture(self) -> None:
        self.choose(self.picture.value)

    def choose(self, file: str) -> None:
        """Work on another picture; LabError, and the earlier one stays, where it is damaged."""
        try:
            picture = shown_picture(file, self._room)
        except LabError:
            self._show()
            raise
        settings().keep(picture=file)
        self._show()
        self.say(f"Kept in {home().folder}. {picture}", right=True)


def name_entry() -> widgets.Text:
    """A field for the reader's name, which counts once they leave it or press Enter."""
    return widgets.Text(
        value=settings().name,
        description="your name",
        continuous_update=False,
        layout={"width": "17em"},
    )


def lesson_settings() -> SettingsLine:
    """Name, picture, unit and type size, once for the whole lesson."""
    return SettingsLine(home().room())
