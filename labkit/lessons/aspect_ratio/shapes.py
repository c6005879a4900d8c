"""03-aspect-ratio: a picture's shape against the paper's, whole, filled or (never) stretched."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from labkit.drawing.chart import Chart, draw_chart
from labkit.drawing.sheet import describe_sheet, draw_sheet
from labkit.drawing.stretched import draw_stretched
from labkit.drawing.style import OKABE_ITO
from labkit.files.header.picture import Picture
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO, Length, decimal, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import ratio_inside, ratio_text
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.chartapp import ChartApp
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.predict import SHARE, NumberQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.rules import Room
from labkit.teaching.pictures import DemoPicture, demo_pictures

CAMERAS = (
    ("a square", Fraction(1)),
    ("most phones", Fraction(4, 3)),
    ("most larger cameras, 35 mm film", Fraction(3, 2)),
    ("video", Fraction(16, 9)),
)
"""Common practice, no source."""
FRAMES = ("4x6in", "5x7in", "8x10in", "11x14in", "16x20in", "20x24in")
SHEETS = ("letter", "legal", "A4", "11x17in", "13x19in")
SHAPES = (
    ("1 : 1, a square", Fraction(1)),
    ("5 : 4, as 8 × 10 in", Fraction(5, 4)),
    ("14 : 11, as 11 × 14 in", Fraction(14, 11)),
    ("22 : 17, as letter", Fraction(22, 17)),
    ("4 : 3, as most phones", Fraction(4, 3)),
    ("7 : 5, as 5 × 7 in", Fraction(7, 5)),
    ("1.414 : 1, as A3", Fraction(420, 297)),
    ("19 : 13, as 13 × 19 in", Fraction(19, 13)),
    ("3 : 2, as many cameras", Fraction(3, 2)),
    ("16 : 9, as video", Fraction(16, 9)),
)
"""Shapes to choose from, long side to short."""
MOST_BORDER = length("3in")
"""Of the sliders that set one."""


@dataclass(frozen=True)
class Shaped:
    """A picture of ``shape`` pixels on a sheet with a border: whole, or filled and cropped."""

    shape: tuple[int, int]
    sheet: Sheet
    border: Length
    way: str = "fit"

    @cached_property
    def layout(self) -> Layout:
        """In the centre of the sheet."""
        return lay_out(self.shape, self.sheet, border=self.border, **{self.way: True})


@dataclass(frozen=True)
class Squeezed:
    """One of our pictures, of ``shape`` pixels, squeezed into another ``ratio``, with or without a
    ``circle`` on what is round."""

    shape: tuple[int, int]
    ratio: Fraction
    demo: DemoPicture
    circle: bool = False

    @property
    def tall(self) -> Fraction:
        """How many times as high as wide a circle becomes."""
        return Fraction(*self.shape) / self.ratio


@follows_picture
def fit_or_fill(picture: str | Path | None = None) -> FigureApp:
    """The whole picture with uneven borders, or even borders and a cropped picture."""
    room = home().room()
    shown = your_picture(room, picture)
    return FigureApp(
        Shaped(shown.pixels, find_sheet("11x14in"), length("1in")),
        [
            *sheet_controls(room, ("8x10in", "11x14in")),
            ChoiceControl("way", "picture", options=[("whole", "fit"), ("filled and cropped", "fill")]),
            LengthControl("border", "least border", span=lambda state: (ZERO, MOST_BORDER)),
        ],
        draw=lambda state, units: draw_sheet(state.layout, units=units, prefix="fit", guides=False),
        tell=lambda state, units: describe_sheet(state.layout, units=units, guides=False),
        read=fit_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def fit_readings(state: Shaped, units: str) -> list[Reading]:
    """Three shapes, two pairs of borders, and what is lost."""
    layout = state.layout
    borders, size = layout.borders, layout.picture
    return [
        ("your picture's shape", ratio_text(Fraction(*state.shape))),
        ("the sheet's shape", ratio_text(state.sheet.width / state.sheet.height)),
        ("shape inside the border", ratio_text(_inner(state))),
        ("printed", f"{size.width.both(units)} × {size.height.both(units)}"),
        ("left and right border", borders.left.both(units)),
        ("top and bottom border", borders.top.both(units)),
        ("lost of the picture", percent(layout.crop.lost)),
    ]


@follows_picture
def stretched(picture: str | Path | None = None) -> FigureApp:
    """The fault to recognise: a circle that is no circle, and by how much."""
    room = home().room()
    demo = ours(your_picture(room, picture)) or demo_pictures()[0]
    shown = your_picture(room, demo.file)
    own = Fraction(*shown.pixels)
    options = [(name, ratio if own >= 1 else 1 / ratio) for name, ratio in SHAPES]
    return FigureApp(
        Squeezed(shown.pixels, options[5][1], demo),
        [
            MenuControl("ratio", "squeezed into", options=options),
            ChoiceControl("circle", "a circle", options=[("hidden", False), ("laid on it", True)]),
        ],
        draw=lambda state, units: draw_stretched(
            state.shape, state.ratio, demo.round, circle=state.circle, prefix="stretch",
            title="Never stretched", words=_stretched_sentence(state, units),
        ),
        tell=_stretched_sentence,
        read=stretched_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def stretched_readings(state: Squeezed, units: str) -> list[Reading]:
    """Two shapes; with the circle, how far off round the round part is."""
    told = [
        ("the picture's shape", ratio_text(Fraction(*state.shape))),
        ("squeezed into", ratio_text(state.ratio)),
    ]
    if not state.circle:
        return told
    return [
        *told,
        (f"{state.demo.round.name}, height by width", decimal(state.tall, 3)),
        ("off round by", percent(_off(state))),
    ]


def ratios(picture: str | Path | None = None) -> ChartApp:
    """The shapes of cameras, frames and sheets on one line, long side to short, and your picture's."""
    room = home().room()
    return ChartApp(lambda units: _ratios(your_picture(room, picture).pixels), room)


def _ratios(pixels: tuple[int, int]) -> Chart:
    own = Fraction(max(pixels), min(pixels))
    rows = chart_rows()
    told = "; ".join(f"{name} {decimal(ratio, 3)}" for name, ratio, _ in rows)
    return draw_chart(
        lambda axes: _plot(axes, rows, own),
        f"Long side divided by short side, from the squarest to the longest: {told}. Your picture: "
        f"{decimal(own, 3)}.",
    )


def chart_rows() -> list[tuple[str, Fraction, str]]:
    """Name, long side over short, and kind of each, from the squarest to the longest."""
    rows = [(name, ratio, "camera") for name, ratio in CAMERAS]
    for names, kind in ((FRAMES, "frame"), (SHEETS, "sheet")):
        rows += [
            (_called(sheet), sheet.height / sheet.width, kind) for sheet in map(find_sheet, names)
        ]
    return sorted(rows, key=lambda row: row[1])


def how_much_lost() -> NumberQuestion:
    """Predict a number: the share that is lost when 3 : 2 fills 8 × 10."""
    return NumberQuestion(
        "A picture of 3 : 2, wider than high, is to fill a frame of 10 × 8 in, which lies the same way. "
        "What share of the picture is cropped away?",
        Fraction(1, 6),
        "8 in high, the whole picture would be 8 × 3/2 = 12 in wide. The frame is 10 in wide, so 2 of 12 in "
        "are cropped away: one sixth, or 17%.",
        {
            "20%": "The share is that of the picture, not of the frame: divide by the picture's width.",
            "0": "Nothing is lost only where the shapes are the same, and 10 × 8 is 5 : 4.",
            "25%": "3 : 2 is 1.5 and 5 : 4 is 1.25. 0.25 is the difference of the two, not yet a share.",
            "1/3": "A third is lost where 3 : 2 fills a square. 5 : 4 is longer than that.",
            "47%": "That is the frame standing upright, 8 in wide and 10 in high. Here it lies.",
            "83%": "83% is what stays.",
        },
        SHARE,
    )


def percent(share: Fraction) -> str:
    """A share for people, to a tenth: ``16.7%``."""
    return f"{decimal(share * 100, 1)}%"


def short(size: Length, units: str) -> str:
    return size.mm_text() if units == "mm" else size.inch_text()


def ours(picture: Picture) -> DemoPicture | None:
    """Which of our own pictures it is, with the parts that have a name; None for another."""
    return next((demo for demo in demo_pictures() if demo.file == picture.path), None)


def sheet_controls(room: Room, besides: Sequence[str]) -> list:
    """A menu of sheets, and which way they lie."""
    stock = list(dict.fromkeys([*map(find_sheet, besides), *room.sheets]))
    return [
        MenuControl(
            "sheet",
            "sheet",
            shown=lambda state: state.sheet.turned() if state.sheet.is_turned else state.sheet,
            made=lambda state, sheet: replace(
                state, sheet=sheet.turned() if state.sheet.is_turned else sheet
            ),
            options=[(str(sheet), sheet) for sheet in stock],
        ),
        ChoiceControl(
            "turn",
            "the sheet lies",
            shown=lambda state: state.sheet.is_turned,
            made=lambda state, _: replace(state, sheet=state.sheet.turned()),
            options=[("upright", False), ("on its side", True)],
        ),
    ]


def _inner(state: Shaped) -> Fraction:
    return ratio_inside(state.sheet.width, state.sheet.height, state.border)


def _off(state: Squeezed) -> Fraction:
    return max(state.tall, 1 / state.tall) - 1


def _stretched_sentence(state: Squeezed, units: str) -> str:
    name, own = state.demo.round.name, ratio_text(Fraction(*state.shape))
    if not _off(state):
        return f"A picture of {own} in its own shape: {name} is round. Choose another shape."
    told = f"A wrong example: a picture of {own} squeezed into {ratio_text(state.ratio)}."
    if not state.circle:
        return f"{told} Is {name}, which is round, still round?"
    way = "higher than wide" if state.tall > 1 else "wider than high"
    return f"{told} {name.capitalize()}, which is round, becomes {percent(_off(state))} {way}."


def _called(sheet: Sheet) -> str:
    return (
        sheet.in_unit("in")
        if sheet.name == sheet.size
        else f"{sheet.name}, {sheet.in_unit(sheet.unit)}"
    )


_LOOKS = {
    "camera": ("cameras and phones", "o", OKABE_ITO["blue"]),
    "frame": ("frames and photo sizes", "s", OKABE_ITO["vermilion"]),
    "sheet": ("sheets", "^", OKABE_ITO["bluish green"]),
}


def _plot(axes, rows: list[tuple[str, Fraction, str]], own: Fraction) -> None:
    for kind, (label, mark, colour) in _LOOKS.items():
        places = [at for at, row in enumerate(rows) if row[2] == kind]
        axes.plot(
            [float(rows[at][1]) for at in places],
            places,
            mark,
            color=colour,
            label=label,
            markersize=8,
        )
    for at, (_, ratio, _) in enumerate(rows):
        axes.annotate(
            ratio_text(ratio),
            (float(ratio), at),
            (9, 0),
            textcoords="offset points",
            va="center",
            fontsize=9.5,
            zorder=4,
            bbox={"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none"},
        )
    axes.axvline(float(own), color="#4d4d4d", linestyle="--", zorder=1.8, label="your picture")
    axes.set(yticks=range(len(rows)), yticklabels=[name for name, _, _ in rows],
             xlabel="long side ÷ short side", xlim=(0.97, 1.9))  # fmt: skip
    axes.tick_params(axis="y", labelsize=9.5)
    axes.legend(loc="upper left")
