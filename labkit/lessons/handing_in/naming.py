"""06-handing-in: a name that somebody else can use, built from its parts and checked while it is typed."""

from pathlib import Path

import ipywidgets as widgets

from labkit.errors import LabError
from labkit.files.checks.naming import name_findings
from labkit.files.writing.name import file_name
from labkit.home import home
from labkit.lessons.parts.controls import App, columns, menu, table
from labkit.lessons.parts.settings import settings
from labkit.room.rules import Room

_BEGIN = {"owner": "Nia Oak", "title": "First light"}
_TRY = "final_FINAL (2).tif"


class NameBuilder(App):
    """A file's name made of who, what and how large; and any other name, with what the check says of it."""

    def __init__(self, room: Room):
        self._room = room
        self.owner = _entry("whose", settings().name or _BEGIN["owner"])
        self.title = _entry("what", _BEGIN["title"])
        self.sheet = menu("sheet", [(each.label, each) for each in room.sheets], _largest(room))
        self.other = _entry("another name", _TRY)
        self._built, self._found = widgets.HTML(), widgets.HTML()
        told = widgets.VBox([self._built, self._found])
        told.add_class("labkit-told")
        super().__init__(
            columns(widgets.VBox([self.owner, self.title, self.sheet, self.other]), told)
        )
        for entry in (self.owner, self.title, self.sheet, self.other):
            entry.observe(self.answer(self._show), "value")
        self.follow("name", self._take_name)
        self.answer(self._show)()

    @property
    def sentence(self) -> str:
        """The name as it is now, and what the check says of the other."""
        try:
            built = f"{self.stem}.tif"
        except LabError as refusal:
            built = str(refusal)
        return f"{built}. {self.other.value}: {' '.join(self.found) or 'nothing to mend.'}"

    @property
    def stem(self) -> str:
        """The name built of its parts; LabError while one of them is missing."""
        return file_name(
            self._room.name_pattern,
            owner=self.owner.value,
            title=self.title.value,
            sheet_label=self.sheet.value.label,
        )

    @property
    def found(self) -> tuple[str, ...]:
        """What the check says of the other name, a sentence each."""
        if not self.other.value.strip():
            return ("Type a name: whose, what, how large.",)
        findings = name_findings(Path(self.other.value), self.sheet.value, self._room)
        return tuple(f"{each.found[:1].upper()}{each.found[1:]}. {each.why}" for each in findings)

    def _take_name(self) -> None:
        if settings().name:
            self.owner.value = settings().name

    def _show(self) -> None:
        self._found.value = _finding_html(self.other.value, self.found)
        try:
            stem = self.stem
        except LabError:
            self._built.value = ""
            raise
        size = len(stem.encode())
        rows = [
            ("the name", f"{stem}.tif"),
            ("made by this room's pattern", self._room.name_pattern),
            ("characters, and bytes in the file system", f"{len(stem)}, {size}"),
        ]
        self._built.value = table(rows)


def name() -> NameBuilder:
    """Build a name; try another."""
    return NameBuilder(home().room())


def _largest(room: Room):
    return max(room.sheets, key=lambda each: each.width.inches * each.height.inches)


def _entry(label: str, value: str) -> widgets.Text:
    return widgets.Text(value=value, description=label, continuous_update=True)


def _finding_html(name: str, found: tuple[str, ...]) -> str:
    from html import escape

    lines = "".join(f"<li>{escape(line)}</li>" for line in found) or "<li>nothing to mend.</li>"
    return (
        f'<section class="labkit-card"><h4>{escape(name or "no name yet")}: what the check says</h4>'
        f"<ul>{lines}</ul></section>"
    )
