"""An exercise: its brief, three ways to do it, and the judging of the file that comes out."""

from collections.abc import Callable, Sequence
from html import escape
from pathlib import Path

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.home import home, make_folder
from labkit.job import words as job
from labkit.lessons.parts.controls import App, card, menu
from labkit.lessons.parts.figure import FigureApp
from labkit.lessons.parts.line import name_entry
from labkit.lessons.parts.reader import our_pictures
from labkit.lessons.parts.settings import settings
from labkit.room.rules import Room
from labkit.teaching.brief import GIVEN, Brief, Candidate, give_picture
from labkit.teaching.judge import Judgement, judge

NO_NAME = "Type your name: your task is drawn from it, and your file will carry it."

_WAYS = (
    "With the sheet below: set it, then press “Export my print file”.",
    "In code, in a cell of your own: place(…), write(…), then judge(…) what was made.",
    f"In any editor: the picture lies in the folder “{GIVEN}” in your folder. Follow the steps, save the "
    "file in your folder, choose it below, have it judged.",
)
_NARROW = 560
"""Of the sheet's drawing, in CSS pixels, so that task, sheet and buttons are seen together."""
_NONE = ("none yet", "")


class Exercise(App):
    """Draws a brief from the reader's name, exports a print file, and judges any file handed in.

    ``lesson`` names the folder of its files, under the reader's exports, so that two lessons' tasks
    never take one name. ``draw_brief`` makes the brief; ``begin`` the figure the reader sets, which
    has a ``layout_now`` and does not begin at the answer. Without a ``reader`` it follows the name in the
    line at the top of the lesson, and asks for one where there is none; with one, no name is kept.
    ``besides`` gives what is set in the figure and goes to ``write`` with the layout. :attr:`brief`,
    :attr:`picture` and :attr:`folder` are there for those who work in code.
    """

    ways: Sequence[str] = _WAYS
    begun = "with a sheet set from the start"

    def __init__(
        self,
        lesson: str,
        draw_brief: Callable[[str, Sequence[Candidate], Room], Brief],
        begin: Callable[[Picture, Room], FigureApp],
        *,
        room: Room,
        reader: str | None = None,
        besides: Callable[[FigureApp], dict] = lambda app: {},
    ):
        self.room, self.folder = room, home().exports / lesson
        self.brief: Brief | None = None
        self.picture: Picture | None = None
        self.app: FigureApp | None = None
        self._draw, self._begin = draw_brief, begin
        self._reader, self._besides = reader, besides
        self.entry = name_entry()
        self.entry.observe(self.answer(self._take_name), "value")
        self._task, self._told = widgets.VBox(), widgets.HTML()
        self.again = widgets.Checkbox(description="replace my earlier try", indent=False)
        self.export = self.button(
            "Export my print file", self._export, busy="Making your print file …", main=True
        )
        self.file = menu("file to judge", [_NONE], "")
        self.ask = self.button(
            "Judge this file", lambda: self.judge(self.file.value), busy="Looking at your file …"
        )
        self.look = self.button("Look again", self._list_files)
        super().__init__(self._task, self._told)
        self.add_class("labkit-exercise")
        self.answer(self._begin_task)()
        if reader is None:
            self.follow("name", self._change_name)
        self.follow("units", self._show_task)

    @property
    def sentence(self) -> str:
        """The task in words."""
        return self.brief.sentence(self.room.units) if self.brief else NO_NAME

    def judge(self, file: str | Path) -> Judgement:
        """Judge a file, whatever made it, and show what is to be mended."""
        if self.brief is None:
            raise LabError(NO_NAME)
        self._told.value = ""
        self.app.say("")
        if not str(file):
            raise LabError(f"choose a file first; they are looked for in {self.folder}.")
        judgement = self._judged(file)
        self.say("")
        self._told.value = judgement_html(judgement)
        return judgement

    def _judged(self, file: str | Path) -> Judgement:
        """What is to be said of a file."""
        return judge(file, self.brief, self.room)

    def _take_name(self) -> None:
        """The name typed here: for all lessons, or for this exercise alone where it was given one."""
        name = self.entry.value.strip()
        if self._reader is None:
            settings().keep(name=name)
        elif name != self._reader.strip():
            self._reader = name
            self._begin_task()

    def _change_name(self) -> None:
        """Begin the task of the name that is now in the settings, and say so."""
        self._begin_task()
        if self.brief:
            self.app.say(
                f"This task is drawn from the name {self.brief.reader}, {self.begun}. "
                "Files exported under another name stay in your folder.",
                right=True,
            )

    def _begin_task(self) -> None:
        self.brief = self.picture = self.app = None
        self._told.value = ""
        name = settings().name if self._reader is None else self._reader
        self.entry.value = name
        self._task.children = [widgets.HTML(f"<p>{escape(NO_NAME)}</p>"), self.entry]
        if not name.strip():
            return
        self.brief = self._draw(name, our_pictures(self.room), self.room)
        self.picture = job.open_picture(self.brief.picture, room=self.room)
        self.app = self._begin(self.picture, self.room)
        self.app.narrow(_NARROW)
        self._asked = widgets.HTML()
        ways = (*self.ways, f"Your folder is {make_folder(self.folder)}")
        folded = widgets.HBox(
            [
                card("Three ways to do it", ways, folded=True),
                card("Step by step, in any editor", self.brief.card(), steps=True),
            ]
        )
        hand_in = widgets.HBox(self._hand_in())
        for row, look in ((folded, "labkit-cards"), (hand_in, "labkit-row")):
            row.add_class(look)
        self._task.children = [self._asked, folded, self.app, hand_in]
        self._show_task()
        self._list_files()
        self._give()

    def _give(self) -> None:
        """Put into the reader's folder what they work on in an editor."""
        give_picture(self.brief, self.folder)

    def _hand_in(self) -> list[widgets.Widget]:
        """What stands in the row below the figure."""
        return [self.export, self.again, self.file, self.ask, self.look]

    def _show_task(self) -> None:
        """The task in the unit shown first."""
        if self.brief:
            task = f"{self.brief.sentence(self.app.units)} {self.brief.named}"
            self._asked.value = (
                f'<section class="labkit-card"><b>Your task.</b> {escape(task)}</section>'
            )

    def _export(self) -> None:
        self._told.value = ""
        made = job.write(
            self.picture,
            self.app.layout_now,
            owner=self.brief.reader,
            title=self.brief.title,
            out=self.folder,
            replace=self.again.value,
            room=self.room,
            **self._besides(self.app),
        )
        self._list_files()
        self.file.value = str(made.file)
        self.judge(made.file)

    def _list_files(self) -> None:
        chosen = self.file.value
        endings = {".tif", ".tiff", ".jpg", ".jpeg", ".png"}
        found = sorted(each for each in self.folder.glob("*") if each.suffix.lower() in endings)
        self.file.options = [_NONE, *((each.name, str(each)) for each in found)]
        if chosen in [value for _, value in self.file.options]:
            self.file.value = chosen


def judgement_html(judgement: Judgement) -> str:
    """The judgement in a sentence, and its hints, a line each."""
    hints = "".join(f"<li>{escape(hint)}</li>" for hint in judgement.hints)
    look = "labkit-message labkit-right" if judgement.passed else "labkit-message"
    return (
        f'<div class="{look}" role="status"><b>{escape(judgement.sentence())}</b>'
        f"<ul>{hints}</ul></div>"
    )
