"""05-colour: the exercise, a file for one paper in one light."""

from dataclasses import dataclass
from pathlib import Path

from labkit.files.header.picture import Picture
from labkit.geometry.light import tone_step
from labkit.geometry.paper import find_sheet
from labkit.geometry.proportion import HALF
from labkit.home import home
from labkit.job.strip import strip_of, write_strips_on
from labkit.lessons.colour.lamp import step_label
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import ChoiceControl, Reading
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.room.rules import Room
from labkit.teaching.colour import BEGIN_WIDTH, colour_brief
from labkit.teaching.judge import Judgement
from labkit.teaching.papers import STEPS
from labkit.teaching.with_strip import judge_with_strip


@dataclass(frozen=True)
class Toned(Placing):
    """A picture on a sheet, made so many stops ``lighter``."""

    lighter: float = 0.0


class StripExercise(Exercise):
    """An exercise to which a test strip belongs: a sheet with it lies in the folder beside the file, and both
    are judged."""

    def __init__(self, *given, **named):
        self.strip = self.button(
            "Write my test strip", self._write_strip, busy="Making your test strip …"
        )
        super().__init__(*given, besides=self._set, **named)

    @property
    def ways(self) -> tuple[str, ...]:
        """How to do it; the strip has a button, and a line to type."""
        brief, width = self.brief, self.brief.layout.picture.width
        typed = (
            f'labkit strip {brief.picture.name} --width "{width.inch_text()}" --papers "{brief.paper}" '
            f'--owner "{brief.reader}" --title "{brief.title}" --out FOLDER'
        )
        return (*super().ways, f"The strip: “Write my test strip”, or on a command line: {typed}")

    def _set(self, app: SheetApp) -> dict:
        return {"lighter": app.state.lighter, "paper": self.brief.paper}

    def _hand_in(self) -> list:
        return [self.strip, *super()._hand_in()]

    def _judged(self, file: str | Path) -> Judgement:
        return judge_with_strip(file, self.brief, self.room, self.folder)

    def _write_strip(self) -> None:
        strip = strip_of(
            self.picture,
            owner=self.brief.reader,
            title=self.brief.title,
            at=(HALF, HALF),
            width=self.brief.layout.picture.width,
        )
        made = write_strips_on(
            [strip],
            size=find_sheet("4x6in"),
            steps=tuple(map(tone_step, STEPS)),
            paper=self.room.paper(self.brief.paper),
            sheet=None,
            job=f"{self.brief.reader} {self.brief.title}",
            out=self.folder,
            room=self.room,
            replace=self.again.value,
        )
        (file,) = made.written.files
        self._list_files()
        self.file.value = str(file)
        self.judge(file)


def exercise(reader: str | None = None) -> StripExercise:
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

    return StripExercise(
        "05-colour",
        colour_brief,
        begin,
        room=home().room(),
        reader=reader,
    )


def _readings(state: Toned, units: str) -> list[Reading]:
    return [("tone step", f"{step_label(state.lighter)} stops"), *border_readings(state, units)]
