"""03-aspect-ratio: borders that are equal all round, and series with something in common."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from labkit.drawing.series import Hung, draw_series
from labkit.drawing.sheet import draw_sheet
from labkit.errors import LabError
from labkit.geometry import proportion
from labkit.geometry.box import Box
from labkit.geometry.holding import area, area_text
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, decimal, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import ALIKE, equal_border, fill, ratio_inside, ratio_text
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.aspect_ratio.shapes import MOST_BORDER, SHAPES, percent, sheet_controls, short
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.predict import OrderQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture

_SERIES = (("3 : 2", Fraction(3, 2)), ("3 : 4", Fraction(3, 4)), ("1 : 1", Fraction(1)))
_LEAST_PRINT = length("1/2in")
_GIVEN = "given"


@dataclass(frozen=True)
class EqualBorders:
    """A sheet with the same border all round: set as ``border``, or as a picture of ``ratio`` asks for."""

    sheet: Sheet
    border: Length
    ratio: Fraction | None = None

    @cached_property
    def solved(self) -> Length:
        """The border; LabError where there is none that is equal all round."""
        if self.ratio is None:
            return self.border
        return equal_border(self.ratio, self.sheet.width, self.sheet.height)

    @property
    def shown(self) -> Length:
        """The border, or the last one that there was."""
        try:
            return self.solved
        except LabError:
            return self.border

    @property
    def shape(self) -> Fraction:
        """The picture's, width over height."""
        return ratio_inside(self.sheet.width, self.sheet.height, self.solved)


@dataclass(frozen=True)
class Series:
    """Pictures that have their width, height or area in common, on sheets of one size."""

    sheet: Sheet
    border: Length
    alike: str = "width"

    @cached_property
    def sizes(self) -> list[tuple[Length, Length]]:
        """Width and height of each."""
        inner = (side - self.border * 2 for side in (self.sheet.width, self.sheet.height))
        return proportion.series([ratio for _, ratio in _SERIES], *inner, self.alike)


@follows_picture
def equal_borders(picture: str | Path | None = None) -> FigureApp:
    """Sheet and border give the picture's shape; sheet and shape give the border, if there is one."""
    room = home().room()
    shown = your_picture(room, picture)
    own = Fraction(*shown.pixels)
    options = [
        ("what the border leaves", _GIVEN),
        (f"your picture's, {ratio_text(own)}", own),
        *((f"{ratio_text(each)}", each) for each in _both_ways() if each != own),
    ]
    return FigureApp(
        EqualBorders(find_sheet("13x19in"), length("1in")),
        [
            *sheet_controls(room, ("8x10in", "11x14in")),
            LengthControl(
                "border",
                "equal border",
                shown=lambda state: state.shown,
                made=lambda state, border: replace(state, border=border, ratio=None),
                span=lambda state: (ZERO, min(state.sheet.width, state.sheet.height) / 2 - _LEAST_PRINT),
            ),
            MenuControl(
                "ratio",
                "shape",
                shown=lambda state: state.ratio or _GIVEN,
                made=lambda state, ratio: replace(
                    state, border=state.shown, ratio=None if ratio == _GIVEN else ratio
                ),
                options=options,
            ),
        ],
        draw=lambda state, units: draw_sheet(
            _even(state, shown.pixels), units=units, prefix="equal", guides=False
        ),
        tell=lambda state, units: _even_sentence(state, units),
        read=lambda state, units: equal_readings(state, shown.pixels, units),
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def equal_readings(state: EqualBorders, pixels: tuple[int, int], units: str) -> list[Reading]:
    """The equation with its figures, and what a picture of your shape would lose."""
    sheet, border = state.sheet, state.solved
    inner = [short(side - border * 2, units) for side in (sheet.width, sheet.height)]
    crop, twice = _even(state, pixels).crop, f"2 × {short(border, units)}"
    return [
        ("the sheet's shape", ratio_text(sheet.width / sheet.height)),
        ("border on all four sides", border.both(units)),
        ("width less two borders", f"{short(sheet.width, units)} − {twice} = {inner[0]}"),
        ("height less two borders", f"{short(sheet.height, units)} − {twice} = {inner[1]}"),
        ("so the picture's shape", f"{ratio_text(state.shape)}, or {decimal(state.shape, 3)}"),
        ("yours would lose", percent(crop.lost)),
    ]  # fmt: skip


@follows_picture
def series(picture: str | Path | None = None) -> FigureApp:
    """Three pictures of different shape on the same sheet: equal widths, equal heights or equal areas."""
    room = home().room()
    shown = your_picture(room, picture)
    return FigureApp(
        Series(find_sheet("11x14in"), length("1in")),
        [
            *sheet_controls(room, ("8x10in", "11x14in")),
            LengthControl("border", "least border", span=lambda state: (ZERO, MOST_BORDER)),
            ChoiceControl("alike", "in common", options=[(f"equal {each}s", each) for each in ALIKE]),
        ],
        draw=lambda state, units: draw_series(
            state.sheet,
            [
                Hung(name, size, fill(shown.pixels, *size))
                for (name, _), size in zip(_SERIES, state.sizes, strict=True)
            ],
            units=units, prefix="series", title=f"A series of equal {state.alike}s",
            words=_series_sentence(state, units),
        ),
        tell=_series_sentence,
        read=series_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def series_readings(state: Series, units: str) -> list[Reading]:
    """Each one's size and its area."""
    told = []
    for (name, _), (wide, high) in zip(_SERIES, state.sizes, strict=True):
        told.append((f"{name}, size", f"{wide.both(units)} × {high.both(units)}"))
        told.append((f"{name}, area", area_text(area(wide, high), units)))
    return told


def which_largest() -> OrderQuestion:
    """Predict an order: which is larger when all three are equally high."""
    wide, square, upright = "3 : 2, lying", "1 : 1", "3 : 4, upright"
    return OrderQuestion(
        "Three pictures of a series are printed equally high. Put them in order by their area, smallest "
        "first.",
        (upright, square, wide),
        "With equal heights the widths are 3/4, 1 and 3/2 times the height, and the areas go the same way. "
        "The lying picture has twice the area of the upright one, and looks like the most important of "
        "the three.",
        {
            (
                wide,
                square,
            ): "3 : 2 is one and a half times as wide as high; the square only as wide as "
            "high. At the same height the square is smaller.",
            (
                wide,
                upright,
            ): "3 : 4 stands: it is narrower than it is high. At the same height nothing "
            "here is smaller.",
            (square, upright): "The upright one is only three quarters as wide as the square.",
        },
    )


def _both_ways() -> list[Fraction]:
    """Every shape lying, then every one upright."""
    lying = [ratio for _, ratio in SHAPES]
    return lying + [1 / ratio for ratio in reversed(lying) if ratio != 1]


def _even(state: EqualBorders, pixels: tuple[int, int]) -> Layout:
    border, sheet = state.solved, state.sheet
    size = sheet.width - border * 2, sheet.height - border * 2
    ratio_inside(sheet.width, sheet.height, border)
    return Layout(sheet, Box(border, border, *size), fill(pixels, *size))


def _even_sentence(state: EqualBorders, units: str) -> str:
    sheet, border = state.sheet, state.solved
    return (
        f"On {sheet}, borders of {border.both(units)} on all four sides leave "
        f"{(sheet.width - border * 2).both(units)} by {(sheet.height - border * 2).both(units)}: a picture "
        f"of {ratio_text(state.shape)}."
    )


def _series_sentence(state: Series, units: str) -> str:
    each = "; ".join(
        f"{name}, {wide.both(units)} by {high.both(units)}, {area_text(area(wide, high), units)}"
        for (name, _), (wide, high) in zip(_SERIES, state.sizes, strict=True)
    )
    return (
        f"Three prints of equal {state.alike} on {state.sheet}, with at least {state.border.both(units)} of "
        f"border: {each}."
    )
