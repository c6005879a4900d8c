"""00-start-here: the print room, the reader, and how a lesson works."""

from html import escape
from pathlib import Path
from shutil import copyfileobj

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.home import home, make_folder
from labkit.lessons.parts.controls import App, card, table
from labkit.lessons.parts.line import SettingsLine
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.reader import our_pictures, your_picture
from labkit.lessons.parts.settings import follows_picture, settings
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.lessons.parts.upload import Upload
from labkit.room.printers import PATHS
from labkit.room.rules import Room
from labkit.teaching.progress import LESSONS, Step, progress

_KINDS = ".jpg,.jpeg,.png,.tif,.tiff,.heic,.heif,.webp,.gif,.bmp"


class PrintRoom(App):
    """What the print room has, and what it asks for."""

    def __init__(self, room: Room):
        self._room = room
        sheets = tuple(str(sheet) for sheet in room.sheets)
        rolls = tuple(f"{roll.width.both(room.units)} wide" for roll in room.rolls)
        papers = tuple(
            f"{each.name}: {each.surface}, {each.weight_gsm} g/m²" for each in room.papers
        )
        printers = tuple(
            f"{printer.name}, {PATHS[path]}, does not reach: {feed.unprintable.text(room.units)}"
            for printer in room.printers
            for path, feed in printer.feeds.items()
        )
        cards = widgets.HBox(
            [
                card(f"{room.name}: cut sheets", sheets),
                card("Rolls", rolls),
                card("Papers", papers),
                card("Printers, for an upright sheet", printers),
                card("How many pixels a print needs", self._floor()),
            ]
        )
        cards.add_class("labkit-cards")
        super().__init__(cards)

    @property
    def sentence(self) -> str:
        """The room in words."""
        sheets = "; ".join(str(sheet) for sheet in self._room.sheets)
        return (
            f"{self._room.name}. Cut sheets: {sheets}. Files are made at {self._room.working_ppi} ppi. "
            + " ".join(f"{line}." for line in self._floor())
        )

    def _floor(self) -> tuple[str, ...]:
        units = self._room.units
        return tuple(
            (f"up to {row.up_to.both(units)} long" if row.up_to else "longer than that")
            + f": at least {row.ppi} ppi, seen from {row.distance.both(units)}"
            for row in self._room.floor
        )


class AboutYou(SettingsLine):
    """The line that stands at the top of every lesson, and a way to bring pictures of one's own."""

    def __init__(self, room: Room):
        self.upload = Upload("Bring a picture of your own", _KINDS, self.answer(self._take))
        super().__init__(room, self.upload)

    def _take(self) -> None:
        """Keep an uploaded picture beside the reader's others, if it is one and whole."""
        name, content = self.upload.whole()
        file = _free(make_folder(home().uploads) / name)
        try:
            with file.open("wb") as kept:
                copyfileobj(content, kept)
            self.choose(str(file))
        except (LabError, OSError):
            file.unlink(missing_ok=True)
            raise


class HowFar(App):
    """Which exercises are done, read from the exported files, and how long the rest takes."""

    def __init__(self, room: Room):
        self._room, self._table = room, widgets.HTML()
        self._steps = tuple(Step(lesson, None) for lesson in LESSONS)
        super().__init__(self._table, self.button("Look again", self.look))
        self.answer(self.look)()
        self.follow("name", self.look)

    @property
    def sentence(self) -> str:
        """How far the reader is."""
        steps = self._steps
        left = [step.lesson for step in steps if not step.done]
        if not left:
            return f"All {len(steps)} exercises are done."
        minutes = sum(lesson.minutes for lesson in left)
        names = ", ".join(lesson.title for lesson in left)
        done = len(steps) - len(left)
        return (
            f"{done} of {len(steps)} exercises done. Still to do: {names}. Alone that takes about "
            f"{minutes} minutes."
        )

    def look(self) -> None:
        """Judge the files again."""
        name = settings().name
        if name:
            pictures = our_pictures(self._room)
            self._steps = progress(name, pictures, self._room, home().exports)
        rows = [
            (
                step.lesson.title,
                f"done: {step.done.name}" if step.done else f"{step.lesson.minutes} min",
            )
            for step in self._steps
        ]
        self._table.value = f"<p>{escape(self.sentence)}</p>{table(rows)}"


def print_room() -> PrintRoom:
    """The print room whose rules the lessons follow."""
    return PrintRoom(home().room())


def about_you() -> AboutYou:
    """Your name, your units, your picture."""
    return AboutYou(home().room())


def how_far() -> HowFar:
    """Which exercises you have done."""
    return HowFar(home().room())


@follows_picture
def practice(picture: str | Path | None = None) -> SheetApp:
    """A first sheet to try: one slider, one picture to drag."""
    room = home().room()
    shown, sheet = your_picture(room, picture), find_sheet("13x19in")
    placing = Placing(shown.pixels, sheet, length("10in"), room.unprintable(sheet))
    placing = placing.resized(placing.width)
    controls = ("width", "left", "top")
    return SheetApp("practice", shown, placing, controls, border_readings, room=room)


def _free(file: Path) -> Path:
    """A name beside ``file`` that nothing has yet."""
    tried, count = file, 1
    while tried.exists():
        count += 1
        tried = file.with_stem(f"{file.stem}-{count}")
    return tried
