"""01-resolution: enlarging adds no detail, by three filters and what each lost."""

import json
from dataclasses import dataclass
from pathlib import Path

from labkit.drawing.chart import Chart, draw_chart
from labkit.drawing.crops import TILE, draw_crops
from labkit.drawing.style import OKABE_ITO
from labkit.files.child.kept import cached_file
from labkit.home import home
from labkit.lessons.parts.figure import ChoiceControl, FigureApp, Reading
from labkit.lessons.parts.predict import OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.pictures import demo_pictures
from labkit.teaching.samples import FILTERS, STRIP, TIMES, enlarged

_UNNAMED = ("bilinear", "bicubic", "nearest")
"""The filters of the pictures A, B and C."""
_LINES = ((OKABE_ITO["black"], "-"), (OKABE_ITO["vermilion"], "--"),
          (OKABE_ITO["blue"], ":"), (OKABE_ITO["bluish green"], "-."))  # fmt: skip


@dataclass(frozen=True)
class Enlarged:
    """A crop enlarged again by a filter, and how much closer it is looked at."""

    by: str = "nearest"
    closer: int = 1


@follows_picture
def crops(picture: str | Path | None = None) -> FigureApp:
    """A crop as it is, the same reduced and enlarged again, and what was lost on the way."""
    room = home().room()
    made = _made(picture, room)
    return FigureApp(
        Enlarged(),
        [
            ChoiceControl("by", "enlarged by", options=[(name, name) for name in FILTERS]),
            ChoiceControl("closer", "look", options=[("whole", 1), ("4 times closer", 4)]),
        ],
        draw=lambda state, units: draw_crops(
            [
                (0, "as it was"),
                (STRIP.index(state.by), f"enlarged, {state.by}"),
                (STRIP.index(f"{state.by}, lost"), "what was lost"),
            ],
            len(STRIP),
            prefix="crops",
            title=f"Reduced {TIMES} times and enlarged again",
            words=_crops_sentence(state, units),
            closer=state.closer,
        ),
        tell=_crops_sentence,
        read=lambda state, units: crops_readings(state, made["lost"]),
        units=room.units,
        photo=made["strip"],
    )


def crops_readings(state: Enlarged, lost: dict[str, float]) -> list[Reading]:
    """How many pixels were kept, how many were made up, and how far they are off."""
    kept, all_ = (TILE // TIMES) ** 2, TILE**2
    return [
        ("pixels of the crop", f"{TILE} × {TILE} = {all_}"),
        ("pixels kept when reduced", f"{TILE // TIMES} × {TILE // TIMES} = {kept}"),
        ("pixels made up by enlarging", str(all_ - kept)),
        ("off by, on average", f"{lost[state.by]:.1f} levels of 255"),
    ]


def which_filter() -> OrderQuestion:
    """Predict an order: which of three enlarged pictures is which."""
    room = home().room()
    made = _made(demo_pictures()[0].file, room)
    asked = (
        "The same crop, reduced four times and enlarged again in three ways. Nearest repeats each "
        "pixel; bilinear draws straight slopes between them; bicubic draws curves, which keeps edges a "
        "little crisper. Say which is A, which is B and which is C."
    )
    figure = FigureApp(
        Enlarged(closer=4),
        [ChoiceControl("closer", "look", options=[("whole", 1), ("4 times closer", 4)])],
        draw=lambda state, units: draw_crops(
            [(STRIP.index(name), letter) for name, letter in zip(_UNNAMED, "ABC", strict=True)],
            len(STRIP),
            prefix="which",
            title="Enlarged in three ways",
            words=_unnamed_sentence(state, units),
            closer=state.closer,
        ),
        tell=_unnamed_sentence,
        units=room.units,
        photo=made["strip"],
    )
    return OrderQuestion(
        asked,
        _UNNAMED,
        "A is bilinear, B bicubic, C nearest. Nearest shows squares. Of the other two, bilinear is the "
        "softer. None of the three has brought a detail back: see for yourself below.",
        {
            ("bicubic", "bilinear"): "A and B are the smooth ones, and A is the softer of them. Look along "
            "an edge, closer: bicubic is crisper there, often with a thin light rim.",
            ("nearest", "bilinear"): "Nearest repeats pixels, so it shows squares with sharp corners. That "
            "is C.",
            ("nearest", "bicubic"): "Nearest repeats pixels, so it shows squares with sharp corners. That "
            "is C.",
        },
        figure,
        labels="ABC",
    )  # fmt: skip


def spectrum(picture: str | Path | None = None) -> Chart:
    """For teachers: how strong the picture is at each fineness, before and after."""
    detail = _made(picture, home().room())["detail"]
    limit = TILE // (2 * TIMES)
    at = (5, limit, 2 * limit, len(detail["original"]) - 1)
    told = "; ".join(
        f"{name} " + ", ".join(f"{values[wave - 1]:.4f} at {wave}" for wave in at)
        for name, values in detail.items()
    )
    return draw_chart(
        lambda axes: _plot(axes, detail, limit),
        f"Strength in levels by fineness, in waves across the crop of {TILE} pixels: {told}. Reduced "
        f"{TIMES} times, a picture has nothing finer than {limit} waves; enlarging puts nothing true there.",
    )


def _made(picture: str | Path | None, room: Room) -> dict:
    kept = cached_file(your_picture(room, picture), room, enlarged, "-enlarged.json")
    return json.loads(kept.read_text(encoding="utf-8"))


def _crops_sentence(state: Enlarged, units: str) -> str:
    return (
        f"A crop of {TILE} × {TILE} pixels as it was; beside it the same, reduced {TIMES} times to "
        f"{TILE // TIMES} × {TILE // TIMES} and enlarged again, {state.by}; and what was lost on the way, "
        f"grey where nothing was{_closer(state)}."
    )


def _closer(state: Enlarged) -> str:
    return f"; the middle of it, {state.closer} times closer" if state.closer > 1 else ""


def _unnamed_sentence(state: Enlarged, units: str) -> str:
    return f"The same crop enlarged in three ways, lettered A, B and C{_closer(state)}."


def _plot(axes, detail: dict[str, list[float]], limit: int) -> None:
    for (name, values), (colour, line) in zip(detail.items(), _LINES, strict=True):
        axes.plot(range(1, len(values) + 1), values, color=colour, linestyle=line, label=name)
    axes.axvline(limit, color="#4d4d4d", linewidth=1)
    axes.annotate("finest after reducing", (limit, 1), (6, -12), textcoords="offset points",
                  xycoords=("data", "axes fraction"))  # fmt: skip
    axes.set(yscale="log", xlabel="waves across the crop", ylabel="strength, levels")
    axes.legend(loc="upper right")
