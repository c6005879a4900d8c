"""06-handing-in: what is lost when a JPEG is saved again and again."""

import json
from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.crops import draw_crops
from labkit.files.child.kept import cached_file
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, NumberControl, Reading
from labkit.lessons.parts.predict import ChoiceQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.teaching.saved_samples import QUALITIES, SAVED, SAVES, keep_saves

_WAYS = {
    "same": ("quality 85 each time", "always at quality 85"),
    "other": ("85 or better, changing", "at changing qualities, none below 85"),
    "shifted": (
        "85, one pixel cropped",
        "at quality 85, one row and one column cropped off before each",
    ),
}
"""By the way of saving: its name on a button, and in a sentence."""


@dataclass(frozen=True)
class Saved:
    """A crop after the ``at``-th of the counts of saves, in one way, shown so many times ``closer``."""

    at: int = 0
    way: str = "same"
    closer: int = 2

    @property
    def count(self) -> int:
        """How many times it was saved."""
        return SAVES[self.at]


@follows_picture
def again(picture: str | Path | None = None) -> FigureApp:
    """A crop of the picture saved as JPEG again and again, and what it lost."""
    room = home().room()
    kept = cached_file(your_picture(room, picture), room, keep_saves, "-saves.json")
    made = json.loads(kept.read_text(encoding="utf-8"))
    return FigureApp(
        Saved(),
        [
            NumberControl(
                "at", "saved", least=0, most=len(SAVES) - 1, step=1, told=lambda at: _times(SAVES[int(at)])
            ),
            ChoiceControl("way", "how", options=[(name, way) for way, (name, _) in _WAYS.items()]),
            NumberControl("closer", "enlarged", least=1, most=8, step=1, told=lambda by: f"{by:.0f} times"),
        ],
        draw=lambda state, units: draw_crops(
            [
                (0, "never saved as JPEG"),
                (_place(state), f"saved {_times(state.count)}"),
                (_place(state) + 1, "the difference, 4 times"),
            ],
            len(SAVED), prefix="again", title="Saved again and again", words=_sentence(state, made["off"]),
            closer=state.closer,
        ),
        tell=lambda state, units: _sentence(state, made["off"]),
        read=lambda state, units: readings(state, made["off"]),
        units=room.units,
        photo=made["strip"],
    )  # fmt: skip


def readings(state: Saved, off: dict[str, dict[str, float]]) -> list[Reading]:
    """How far the crop is off now, after the first time, and after the last in each way."""
    ways = off[state.way]
    first, now = ways["1"], ways[str(state.count)]
    last = str(SAVES[-1])
    return [
        ("off by, in levels of 255", f"{now:.1f}"),
        ("after the first time", f"{first:.1f}"),
        ("so it grew", f"{now / first:.2f} times"),
        *((f"{_times(SAVES[-1])}, {_WAYS[way][0]}", f"{off[way][last]:.1f}") for way in QUALITIES),
    ]


def how_it_grows() -> ChoiceQuestion:
    """Predict: what the 32nd save at one quality does that the first did not."""
    return ChoiceQuestion(
        "A picture is saved as JPEG at quality 85, opened and saved again, always at the same quality and "
        "with nothing else done to it: 32 times. How far is it off in the end?",
        "The first time loses most. After that the numbers are nearly those that quality 85 would choose "
        "anyway, so little more is lost, and after some times nothing at all. Measured on our harbour: 6.9 "
        "levels after the first time, 7.7 after the 32nd. But nobody's file goes that way: see below.",
        {
            "hardly more than after the first time": "",
            "32 times as far": "Each time would have to lose something else. But what was rounded to a step "
            "once is already on that step. What is left to round?",
            "twice as far": "Then each time would have to lose something new. What is new in the picture the "
            "second time?",
            "not at all, since it is always the same quality": "And the first time? Quality 85 rounds, and "
            "what was rounded does not come back.",
        },
    )  # fmt: skip


def _place(state: Saved) -> int:
    return SAVED.index(f"{state.way}, {state.count}")


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _sentence(state: Saved, off: dict[str, dict[str, float]]) -> str:
    ways = off[state.way]
    now = ways[str(state.count)]
    grown = (
        "" if state.count == 1 else f", {now / ways['1']:.2f} times as far as after the first time"
    )
    return (
        f"A part of the picture saved as JPEG {_times(state.count)}, {_WAYS[state.way][1]}: its pixels are "
        f"off by {now:.1f} levels of 255{grown}."
    )
