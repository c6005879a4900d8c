"""06-handing-in: a file with layers, printed twice; and why the one handed in is flat."""

import json
from dataclasses import dataclass, replace
from pathlib import Path

from labkit.drawing.prints import draw_prints
from labkit.files.child.kept import cached_file
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, Reading
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.teaching.saved_samples import LAYERED, keep_layers

_MEANT = "10"


@dataclass(frozen=True)
class Layered:
    """A file handed in with its ``layers`` or flat, and which of them are on where it is opened again;
    ``earlier`` are the prints that its layers gave before."""

    layers: bool = True
    sky: bool = True
    notes: bool = True
    earlier: frozenset[str] = frozenset()

    @property
    def printed(self) -> str:
        """Which of the prints comes out."""
        return self._switched if self.layers else _MEANT

    @property
    def seen(self) -> frozenset[str]:
        """The prints that its layers have given so far."""
        return self.earlier | {self._switched}

    def switch(self, **to: bool) -> "Layered":
        """With a layer switched."""
        return replace(self, **to, earlier=self.seen)

    @property
    def _switched(self) -> str:
        return f"{int(self.sky)}{int(self.notes)}"


@follows_picture
def layers(picture: str | Path | None = None) -> FigureApp:
    """The file as its owner saw it, and as it comes out with the layers' switches as they are here."""
    room = home().room()
    kept = cached_file(your_picture(room, picture), room, keep_layers, "-layers.json")
    made = json.loads(kept.read_text(encoding="utf-8"))
    return FigureApp(
        Layered(),
        [
            ChoiceControl("layers", "handed in", options=[("with layers", True), ("flat", False)]),
            _switch("sky", "layer “darker sky”"),
            _switch("notes", "layer “notes”"),
        ],
        draw=lambda state, units: draw_prints(
            [
                (LAYERED.index(_MEANT), "as its owner saw it"),
                (LAYERED.index(state.printed), "as it is printed here"),
            ],
            len(LAYERED), made["shape"], prefix="layers", title="One file, printed twice",
            words=_sentence(state),
        ),
        tell=lambda state, units: _sentence(state),
        read=lambda state, units: readings(state, made["bytes"]),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def readings(state: Layered, size: dict[str, int]) -> list[Reading]:
    """How many prints the file has given, whether this is the one that is meant, and what it takes."""
    return [
        ("layers in the file", "3" if state.layers else "1"),
        ("different prints so far", str(len(state.seen)) if state.layers else "1"),
        ("is this the print that was meant?", "yes" if state.printed == _MEANT else "no"),
        ("a small copy takes", f"{size['layers' if state.layers else 'flat'] / 1000:.0f} KB"),
    ]


def _switch(name: str, label: str) -> ChoiceControl:
    """A layer on or off, while there are layers."""
    return ChoiceControl(
        name,
        label,
        made=lambda state, on: state.switch(**{name: on}),
        when=lambda state: state.layers,
        options=[("off", False), ("on", True)],
    )


def _sentence(state: Layered) -> str:
    if not state.layers:
        return "A flat file has no switches: the print is the picture that its owner saw."
    on = [
        name for name, is_on in (("the darker sky", state.sky), ("the notes", state.notes)) if is_on
    ]
    told = " and ".join(on) or "nothing but the picture"
    same = "as its owner saw it" if state.printed == _MEANT else "not as its owner saw it"
    return f"A file with three layers. Switched on here: {told}. The print is {same}."
