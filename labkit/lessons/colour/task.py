"""05-colour: the exercise, a file for one paper in one light."""

from dataclasses import dataclass
from pathlib import Path

from labkit.files.header.picture import Picture
from labkit.files.writing.name import file_name
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


@dataclass(frozen=True)
class Toned(Placing):
    """A picture on a sheet, made so many stops ``lighter``."""

    lighter: float = 0.0


class StripExercise(Exercise):
    """An exercise to which a test strip belongs: a sheet with it lies in the folder beside the file."""

    def __init__(self, *given, **named):
        self.strip = self.button(
            "Write my test strip", self._write_strip, busy="Making your test strip …"
        )
        super().__init__(*given, **named)

    def _hand_in(self) -> list:
        return [self.strip, *super()._hand_in()]

    def judge(self, file: str | Path) -> Judgement:
        """Judge a file, and tell where its strip is missing."""
        judgement = super().judge(file)
        if judgement.passed and not self._strips():
            self.say("Now its test strip, which is handed in as well: press “Write my test strip”.")
        return judgement

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
            paper=self.room.paper(),
            sheet=None,
            job=self._job,
            out=self.folder,
            room=self.room,
            replace=self.again.value,
        )
        self._list_files()
        names = ", ".join(file.name for file in made.written.files)
        self.say(f"Made: {names}, ready to print, with the steps of the strip above.", right=True)

    @property
    def _job(self) -> str:
        return f"{self.brief.reader} {self.brief.title}"

    def _strips(self) -> list[Path]:
        """The sheets with a strip for this task."""
        made = file_name(
            "{owner}_{title}_{sheet}", owner=f"job {self._job}", title="strips", sheet_label="sheet"
        )
        return sorted(self.folder.glob(f"*{made.removesuffix('_strips_sheet')}*.tif"))


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
        besides=lambda app: {"lighter": app.state.lighter},
    )


def _readings(state: Toned, units: str) -> list[Reading]:
    return [("tone step", f"{step_label(state.lighter)} stops"), *border_readings(state, units)]
