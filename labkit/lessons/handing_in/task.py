"""06-handing-in: the exercise, four messy files made four finished ones."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.files.checks.check import check
from labkit.home import home
from labkit.lessons.at_the_counter.reading import Looked, fact_readings, paper_reading
from labkit.lessons.parts.controls import table
from labkit.lessons.parts.exercise import NO_NAME, Exercise, judgement_html
from labkit.lessons.parts.figure import FigureApp, MenuControl, Reading, TextControl
from labkit.room.rules import Room
from labkit.teaching.handing_in import (
    MENDS,
    HandingTask,
    Mess,
    finished,
    handing_in_task,
    judge_mess,
    make_messes,
    mend,
)
from labkit.teaching.judge import Judgement

_AS_IT_IS = next(iter(MENDS))
_TELLING = ("pixels", "resolution", "layers and pages", "paper round the picture")


@dataclass(frozen=True)
class Mending:
    """Which of the four is looked at, what is done to it, and the name it gets."""

    at: int = 0
    how: str = _AS_IT_IS
    name: str = ""


class MessFigure(FigureApp):
    """One of the four at a time: what it is to be, its facts, what is to be done to it, and how it looks."""

    def __init__(self, task: HandingTask, files: list[Path]):
        self._task, self._asked = task, widgets.HTML()
        looked = cache(lambda at: _look(files[at], task.room))
        self._looked = looked
        super().__init__(
            Mending(),
            [
                MenuControl(
                    "at",
                    "file",
                    made=lambda state, at: Mending(at),
                    options=[
                        (f"{mess.number}. {mess.hand_in.file_name}", at)
                        for at, mess in enumerate(task.messes)
                    ],
                ),
                MenuControl("how", "what to do", options=[(how, how) for how in MENDS]),
                TextControl("name", "its name"),
            ],
            draw=lambda state, units: looked(state.at).draw(
                units, "mess", whole=looked(state.at).whole
            ),
            tell=lambda state, units: task.messes[state.at].brief.sentence(units),
            read=lambda state, units: _facts(looked(state.at), units),
            units=task.room.units,
        )  # fmt: skip
        menu, *others = self.side.children
        self.side.children = [menu, self._asked, *others]

    @property
    def mess(self) -> Mess:
        """The one that is looked at."""
        return self._task.messes[self.state.at]

    def narrow(self, wide: int) -> None:
        """What each file is to be takes two lines of the readings' room, or three."""
        super().narrow(wide)
        most, least = self._lines_there
        self._lines_there = most - 3, least
        self.put(self.state)

    def _show(self, drawing: str, sentence: str) -> None:
        self.view.photo = self._looked(self.state.at).photo
        self._asked.value = f"<p>{sentence}</p>"
        super()._show(drawing, sentence)


class HandingIn(Exercise):
    """Four messy files: saves each as the reader says, and judges any file as one of the four."""

    ways = (
        "With the figure below: choose what to do and type a name, then “Export my print file”. One of the "
        "four cannot be mended so.",
        "In any editor: the files lie in the folder “messy” in your folder. Save yours beside that folder, "
        "choose it below, and have it judged as the file chosen in the figure.",
        "In code, in a cell of your own, with any library you like. The file counts, not the tool.",
    )
    begun = "with none of the four mended"

    def __init__(self, reader: str | None = None):
        super().__init__(
            "06-handing-in",
            handing_in_task,
            lambda *_: MessFigure(self.brief, make_messes(self.brief, self.folder)),
            room=home().room(),
            reader=reader,
        )

    def _give(self) -> None:
        """The messy files were made with the figure."""

    def judge(self, file: str | Path) -> Judgement:
        """Judge a file as the one of the four that the figure shows, and tell how many are finished."""
        if self.brief is None:
            raise LabError(NO_NAME)
        self._told.value = ""
        if not str(file):
            raise LabError(f"choose a file first; they are looked for in {self.folder}.")
        judgement = judge_mess(file, self.app.mess, self.room)
        self.say("")
        self._told.value = judgement_html(judgement)
        if judgement.passed:
            done = finished(self.brief, self.folder)
            self._told.value += table([("finished", f"{len(done)} of {len(self.brief.messes)}")])
        return judgement

    def _export(self) -> None:
        self._told.value = ""
        state = self.app.state
        made = mend(self.app.mess, state.how, state.name, self.folder, again=self.again.value)
        self._list_files()
        self.file.value = str(made)
        self.judge(made)


def exercise(reader: str | None = None) -> HandingIn:
    """Four messy files, drawn from the reader's name."""
    return HandingIn(reader)


def _facts(looked: Looked, units: str) -> list[Reading]:
    """What the file says of itself but its name, and the colour of the paper in it; what gives most faults
    away comes first."""
    told = [*fact_readings(looked, units)[1:], *paper_reading(looked)]
    return sorted(told, key=lambda reading: reading[0] not in _TELLING)


def _look(file: Path, room: Room) -> Looked:
    return Looked(check(file, room=room, thumbnail=True))
