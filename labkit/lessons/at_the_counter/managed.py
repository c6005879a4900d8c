"""08-at-the-counter: colour is managed in exactly one place, and what it looks like when it is not."""

import json
from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.prints import draw_prints
from labkit.files.child.kept import cached_file
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, Reading
from labkit.lessons.parts.predict import OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.invented_printer import PRINTS, keep_prints
from labkit.teaching.pictures import demo_pictures

_UNNAMED, _LETTERS = ("twice", "never", "once"), "ABC"
"""The prints to be named, and their letters."""
_WAYS = [("manages colour", True), ("leaves it alone", False)]


@dataclass(frozen=True)
class Managing:
    """Who manages colour on the way to the paper."""

    program: bool = False
    printer: bool = False

    @property
    def times(self) -> str:
        """How often it is managed."""
        return ("never", "once", "twice")[self.program + self.printer]

    @property
    def words(self) -> str:
        """The same, to stand under a print."""
        return "never managed" if self.times == "never" else f"managed {self.times}"


@follows_picture
def prints(picture: str | Path | None = None) -> FigureApp:
    """The file and a print of it, by who manages colour: the program, the printer, both or neither."""
    room = home().room()
    made = _made(picture, room)
    return FigureApp(
        Managing(),
        [
            ChoiceControl("program", "the program", options=_WAYS),
            ChoiceControl("printer", "the printer", options=_WAYS),
        ],
        draw=lambda state, units: draw_prints(
            [(0, "the file"), (PRINTS.index(state.times), f"the print: {state.words}")],
            len(PRINTS),
            made["shape"],
            prefix="managed",
            title="An invented printer",
            words=_managing_sentence(state, units),
        ),
        tell=_managing_sentence,
        read=lambda state, units: managing_readings(state, made, room),
        units=room.units,
        photo=made["strip"],
    )


def managing_readings(state: Managing, made: dict, room: Room) -> list[Reading]:
    """How light and how colourful the print is beside the file, and who manages colour in ``room``."""
    return [
        ("colour is managed", state.times),
        *(
            (
                f"{label}: file, print",
                f"{made[key]['file']:.0f}, {made[key][state.times]:.0f} of 255",
            )
            for label, key in (("lightness", "light"), ("colourfulness", "colour"))
        ),
        ("right?", "yes" if state.times == "once" else "no"),
        ("in this room", _manager(room)),
    ]


def _manager(room: Room) -> str:
    """Who manages colour, as the settings of the room's papers say."""
    named = {setting.colour_by for setting in room.settings}
    return f"the {named.pop()} does it" if len(named) == 1 else "the ticket says who does it"


def which_print() -> OrderQuestion:
    """Predict: of three prints of one file, which was managed once, which twice, which never."""
    room = home().room()
    made = _made(demo_pictures()[0].file, room)
    words = "The file as it looks on the screen, and three prints of it, lettered A, B and C."
    figure = FigureApp(
        Managing(),
        [],
        draw=lambda state, units: draw_prints(
            [(0, "the file"), *((PRINTS.index(name), letter) for name, letter in _lettered())],
            len(PRINTS),
            made["shape"],
            prefix="which",
            title="Three prints of one file",
            words=words,
        ),
        tell=lambda state, units: words,
        units=room.units,
        photo=made["strip"],
    )
    return OrderQuestion(
        "Our invented printer prints colours too dull and too dark. Colour management makes them stronger "
        "and lighter first, so that the print looks like the file. One of these prints was managed once, one "
        "twice (by the program, and again by the printer), one never. How were A, B and C printed?",
        _UNNAMED,
        "A was managed twice: its colours were corrected two times, so they are too light and too strong. B "
        "was never managed: dull and dark, as this printer is. C was managed once, and looks like the file.",
        {
            ("never", "twice"): "Never managed, a print is dull and dark. A is lighter and stronger "
            "than the file.",
            ("once", "twice"): "Compare A with the file: it is lighter and stronger. Managed once, a print "
            "looks like the file.",
            ("once", "never"): "Hold B and C against the file. Managed once, a print looks like it; never "
            "managed, it is duller and darker.",
        },
        figure,
        _LETTERS,
    )  # fmt: skip


def _lettered() -> list[tuple[str, str]]:
    return list(zip(_UNNAMED, _LETTERS, strict=True))


def _managing_sentence(state: Managing, units: str) -> str:
    look = {
        "once": "it looks like the file",
        "never": "it is dull and dark",
        "twice": "it is too light and too strong",
    }[state.times]
    return f"The file, and a print of it on an invented printer, {state.words}: {look}."


def _made(picture: str | Path | None, room: Room) -> dict:
    kept = cached_file(your_picture(room, picture), room, keep_prints, "-prints.json")
    return json.loads(kept.read_text(encoding="utf-8"))
