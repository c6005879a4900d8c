"""01-resolution: how much is enough, by eye, distance and a sheet to look at."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path

import ipywidgets as widgets

from labkit.drawing.eye import FARTHEST, draw_eye, draw_true_scale
from labkit.errors import LabError
from labkit.files.child.kept import make_in_child
from labkit.geometry.length import Length, inches, length
from labkit.geometry.resolution import distance_for_eye, ppi_for_eye, ppi_text
from labkit.home import home, make_folder
from labkit.job import words as job
from labkit.lessons.parts.controls import LABEL_WIDTH, App, table
from labkit.lessons.parts.figure import (
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture, settings
from labkit.room.rules import Room
from labkit.teaching.blind import LETTERS, Pair, blind_order, read_rankings, tell_apart
from labkit.teaching.samples import blind_block

ACUITIES = (
    ("20/10, twice as fine", 2.0),
    ("20/20, normal sight", 1.0),
    ("20/40, half as fine", 0.5),
)
"""Acuity is one over the gap seen, in arc-minutes: ISO 8596, clause 4."""
_NEAREST = length("6in")
_RANKED_FROM = {"30 cm": "30 cm (12 in)", "1 m": "1 m (39 in)"}
"""Whence a blind sheet is ranked, and the same in both units."""


@dataclass(frozen=True)
class View:
    """An eye of ``acuity`` at ``distance``."""

    distance: Length
    acuity: float = 1.0

    @property
    def ppi(self) -> float:
        """What it asks for: one pixel to an arc-minute over acuity."""
        return ppi_for_eye(self.distance, self.acuity)


@dataclass(frozen=True)
class TrueScale:
    """A screen of so many dots to the inch, and lines so many of them thick."""

    dots_an_inch: int = 96
    thick: int = 2

    @property
    def lines(self) -> float:
        """Lines to the inch, each black or white: as a picture of that ppi would have them."""
        return self.dots_an_inch / self.thick


@follows_picture
def eye(picture: str | Path | None = None) -> FigureApp:
    """Viewing distance and eyesight: the ppi beyond which nobody sees more."""
    room = home().room()
    shown = your_picture(room, picture)
    return FigureApp(
        View(length("12in")),
        [
            LengthControl("distance", "seen from", span=lambda _: (_NEAREST, FARTHEST)),
            MenuControl("acuity", "eyesight", options=ACUITIES),
        ],
        draw=lambda state, units: draw_eye(state.distance, state.ppi, units=units, prefix="eye"),
        tell=_view_sentence,
        read=lambda state, units: view_readings(state, shown.pixels[0], room, units),
        units=room.units,
    )


def view_readings(state: View, pixels: int, room: Room, units: str) -> list[Reading]:
    """The ppi that is enough, what the room asks for from there, and how wide the picture may be."""
    nearest = min(room.floor, key=lambda row: abs(row.distance - state.distance))
    return [
        ("enough from here", ppi_text(state.ppi)),
        ("one pixel is then", f"{25.4 / state.ppi:.3f} mm"),
        ("300 ppi is enough from", distance_for_eye(300, state.acuity).both(units)),
        (f"the room's floor from {nearest.distance.both(units)}", f"{nearest.ppi} ppi"),
        ("your picture may be this wide", inches(pixels / state.ppi).both(units)),
    ]


def true_scale() -> FigureApp:
    """A bank card sets the screen's scale; lines of known width say from how far an eye loses them."""
    return FigureApp(
        TrueScale(),
        [
            NumberControl(
                "dots_an_inch", "card's size", least=20, most=150, step=1,
                told=lambda n: f"{n:g} dots to the inch",
            ),
            NumberControl("thick", "each line", least=1, most=8, step=1, told=lambda n: f"{n:g} dots"),
        ],
        draw=lambda state, units: draw_true_scale(
            state.dots_an_inch, state.thick, units=units, prefix="true"
        ),
        tell=_true_sentence,
        read=true_readings,
        units=home().room().units,
    )  # fmt: skip


def true_readings(state: TrueScale, units: str) -> list[Reading]:
    """Lines to the inch, and from how far they should run into grey."""
    return [
        ("lines to the inch", f"{state.lines:.1f}"),
        *(
            (f"grey from here on, {name.split(',')[0]}", _far(state.lines, acuity, units))
            for name, acuity in ACUITIES
        ),
    ]


class BlindSheet(App):
    """Exports a sheet with six samples nobody knows, takes rankings, and shows what was told apart."""

    def __init__(self, picture: str | Path | None, room: Room):
        self._room, self._file = room, picture
        style = {"description_width": LABEL_WIDTH}
        self.word = widgets.Text(
            description="any word",
            placeholder="shuffles the samples",
            style=style,
        )
        self.again = widgets.Checkbox(description="replace the earlier sheet", indent=False)
        self.export = self.button("Export the sheet", self._export)
        self.rankings = tuple(
            widgets.Textarea(
                description=f"from {distance}",
                placeholder="one ranking a line, sharpest first:\nC A F B E D",
                style=style,
                layout={"width": "33em", "max_width": "100%", "height": "5.5em"},
            )
            for distance in _RANKED_FROM
        )
        self.ask = self.button("Show what could be told apart", self._show)
        self._told = widgets.HTML()
        super().__init__(
            self.word,
            widgets.HBox([self.export, self.again]),
            *self.rankings,
            widgets.HBox([self.ask]),
            self._told,
        )

    @property
    def sentence(self) -> str:
        """What there is to do."""
        return (
            "A letter sheet with one part of your picture six times, at 72 to 300 ppi, lettered A to F in "
            "an order nobody knows. Print it at 100 %, rank the samples from 30 cm and from 1 m, and type "
            "the rankings here."
        )

    def _export(self) -> None:
        order = blind_order(self.word.value)
        folder = make_folder(home().folder / "previews")
        block = folder / "blind-sheet.tif"
        try:
            shown = your_picture(self._room, self._file)
            make_in_child(shown, self._room, blind_block, block, order)
            picture = job.open_picture(block, room=self._room)
            made = job.write(
                picture,
                job.place(picture, on="letter", room=self._room),
                owner=settings().name,
                title=f"Blind sheet {self.word.value}",
                replace=self.again.value,
                room=self._room,
            )
        finally:
            block.unlink(missing_ok=True)
        self.say(f"{made.file} is ready: print it on letter, at 100 %.", right=True)

    def _show(self) -> None:
        self._told.value = ""
        order = blind_order(self.word.value)
        given = [read_rankings(entry.value) for entry in self.rankings]
        if not any(given):
            raise LabError("type one ranking at least, sharpest first, such as C A F B E D.")
        sample = ", ".join(f"{a} {ppi} ppi" for a, ppi in zip(LETTERS, order, strict=True))
        self._told.value = f"<p>{escape(f'The samples were {sample}.')}</p>" + "".join(
            _seen(distance, tell_apart(rankings, order))
            for distance, rankings in zip(_RANKED_FROM.values(), given, strict=True)
            if rankings
        )


def blind_sheet(picture: str | Path | None = None) -> BlindSheet:
    """Six samples on paper: what can you tell apart, from 30 cm and from 1 m?"""
    return BlindSheet(picture, home().room())


def _seen(distance: str, pairs: Sequence[Pair]) -> str:
    """One distance's pairs, and what guessing would have done, as HTML."""
    heading = f"<h4>Seen from {distance}</h4>"
    return heading + table(
        [(f"{pair.finer} before {pair.coarser} ppi", pair.sentence()) for pair in pairs]
    )


def _far(lines: float, acuity: float, units: str) -> str:
    return distance_for_eye(lines, acuity).both(units)


def _view_sentence(state: View, units: str) -> str:
    return (
        f"Seen from {state.distance.both(units)}, an eye of acuity {state.acuity:g} tells pixels apart up "
        f"to {ppi_text(state.ppi)}. It does not see more."
    )


def _true_sentence(state: TrueScale, units: str) -> str:
    return (
        f"A bank card as wide as it is on a screen of {state.dots_an_inch} dots to the inch, and lines "
        f"{state.thick} dots thick: {state.lines:.1f} to the inch. An eye of 20/20 sees them as grey from "
        f"{_far(state.lines, 1.0, units)} on."
    )
