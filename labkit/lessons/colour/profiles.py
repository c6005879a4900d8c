"""05-colour: numbers are no colours until a profile says which; a label changed, a translation made."""

import json
from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.prints import draw_prints
from labkit.files.child.kept import cached_file
from labkit.files.pixels.proof import told
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, MenuControl, Reading
from labkit.lessons.parts.predict import ChoiceQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.colour_samples import READINGS, keep_readings

_BY = {"file": "the file's own", "as wide": "a wide RGB", "as matt": "the matt paper's"}
_WIDE = "the wide RGB"
_DONE = {
    "file": ("nothing", "the file as it came in", "spot"),
    "as wide": ("label changed", f"labelled as {_WIDE}", "spot"),
    "translated": ("translated", f"translated to {_WIDE}", "translated"),
    "wide, label lost": ("translated, label lost", f"{_WIDE}, label lost", "translated"),
    "matt, label lost": ("made for the paper, label lost", "the matt paper's, label lost", "sent"),
}
"""What may be done to a file: its name in a menu, its label in the drawing, which numbers it leaves."""


@dataclass(frozen=True)
class Read:
    """The numbers of a file, read by a profile."""

    by: str = "file"


@dataclass(frozen=True)
class Done:
    """What was done to a file."""

    what: str = "file"


@follows_picture
def numbers(picture: str | Path | None = None) -> FigureApp:
    """The same numbers under three profiles."""
    made, room = _made(picture)
    return FigureApp(
        Read(),
        [ChoiceControl("by", "profile", options=[(words, name) for name, words in _BY.items()])],
        draw=lambda state, units: _two(
            state.by, f"read by {_BY[state.by]}", made, "numbers", _read_sentence(state, made)
        ),
        tell=lambda state, units: _read_sentence(state, made),
        read=lambda state, units: read_readings(state, made),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def read_readings(state: Read, made: dict) -> list[Reading]:
    """One pixel's numbers, the colour they mean by this profile, and how far that is from the file's own."""
    return [
        ("numbers of the strongest colour", _rgb(made["spot"])),
        *_colour_rows(made["lab"][state.by]),
        ("off from the file's colour (ΔE2000)", told(made["changed"][state.by])),
    ]


def what_changes() -> ChoiceQuestion:
    """Predict: what a translation does to numbers and to colours."""
    return ChoiceQuestion(
        "A file says sRGB. A program translates it into the wide RGB, and labels it so. What changes?",
        "The same numbers would mean other, stronger colours by the wide RGB: that you have seen. So that "
        "the colours stay, each gets new numbers. It is as with resolution: another label of ppi leaves the "
        "pixels and changes the size; to keep the size, new pixels have to be made.",
        {
            "the numbers, not the colours": "",
            "the colours, not the numbers": "That is another label alone, as you have just seen: the same "
            "numbers, read by another profile. Here they were translated.",
            "numbers and colours": "If the colours changed too, what would the translation be for?",
            "neither of them": "Then the same numbers would be read by the wide RGB, and mean stronger "
            "colours, as you have just seen.",
        },
    )  # fmt: skip


@follows_picture
def labels(picture: str | Path | None = None) -> FigureApp:
    """A label changed, a translation made, a label lost: numbers and colours of each."""
    made, room = _made(picture)
    return FigureApp(
        Done(),
        [MenuControl("what", "what was done", options=[(words[0], name) for name, words in _DONE.items()])],
        draw=lambda state, units: _two(
            state.what, _DONE[state.what][1], made, "labels", _done_sentence(state, made)
        ),
        tell=lambda state, units: _done_sentence(state, made),
        read=lambda state, units: done_readings(state, made),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def done_readings(state: Done, made: dict) -> list[Reading]:
    """One pixel's numbers before and after, its colour, and whether either changed."""
    after, off = made[_DONE[state.what][2]], made["changed"][state.what]
    return [
        ("numbers before", _rgb(made["spot"])),
        ("numbers after", _rgb(after)),
        *_colour_rows(made["lab"][state.what]),
        ("colour off by (ΔE2000)", told(off)),
        ("did the numbers change?", "no" if after == made["spot"] else "yes"),
        ("did the colour change?", "no" if off < 1 else "yes"),
    ]


def _two(at: str, label: str, made: dict, prefix: str, words: str) -> str:
    tiles = [(0, "the file"), (READINGS.index(at), label)]
    return draw_prints(
        tiles, len(READINGS), made["shape"], prefix=prefix, title="What is seen", words=words
    )


def _colour_rows(lab: list[float]) -> list[Reading]:
    lightness, a, b = lab
    return [
        ("lightness L*, 0 to 100", f"{lightness:.0f}"),
        ("green to red, a*", f"{a:+.0f}"),
        ("blue to yellow, b*", f"{b:+.0f}"),
    ]


def _rgb(numbers: list[int]) -> str:
    return " ".join(map(str, numbers))


def _read_sentence(state: Read, made: dict) -> str:
    return (
        f"The file as it is meant, and the same numbers read by the profile of {_READ_BY[state.by]}: "
        f"{_moved(made['changed'][state.by])}."
    )


_READ_BY = {"file": "the file itself", "as wide": "a wide RGB", "as matt": "a matt paper"}


def _done_sentence(state: Done, made: dict) -> str:
    changed = made[_DONE[state.what][2]] != made["spot"]
    return (
        f"The file as it came in, and as it is seen now ({_DONE[state.what][0]}): its numbers "
        f"{'changed' if changed else 'are the same'}, and {_moved(made['changed'][state.what])}."
    )


def _moved(off: float) -> str:
    return f"its strongest colour is {'as it was' if off < 1 else 'another'}"


def _made(picture: str | Path | None) -> tuple[dict, Room]:
    room = home().room()
    kept = cached_file(your_picture(room, picture), room, keep_readings, "-readings.json")
    return json.loads(kept.read_text(encoding="utf-8")), room
