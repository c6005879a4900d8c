"""05-colour: the exercise, a file for one paper in one light."""

from dataclasses import dataclass

from labkit.files.header.picture import Picture
from labkit.home import home
from labkit.lessons.colour.lamp import step_label
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import ChoiceControl, Reading
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.room.rules import Room
from labkit.teaching.colour import BEGIN_WIDTH, colour_brief
from labkit.teaching.papers import STEPS


@dataclass(frozen=True)
class Toned(Placing):
    """A picture on a sheet, made so many stops ``lighter``."""

    lighter: float = 0.0


def exercise(reader: str | None = None) -> Exercise:
    """A picture for one paper in one light, with the tone step read on the strip."""
    step = ChoiceControl(
        "lighter", "tone step", options=[(step_label(each), each) for each in STEPS]
    )

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        toned = Toned(picture.pixels, sheet, BEGIN_WIDTH, room.unprintable(sheet))
        toned = toned.resized(toned.width)
        controls = ("sheet", "turn", "width")
        return SheetApp("task", picture, toned, controls, _readings, room=room, more=[step])

    return Exercise(
        "05-colour",
        colour_brief,
        begin,
        room=home().room(),
        reader=reader,
        besides=lambda app: {"lighter": app.state.lighter},
    )


def _readings(state: Toned, units: str) -> list[Reading]:
    return [("tone step", f"{step_label(state.lighter)} stops"), *border_readings(state, units)]
