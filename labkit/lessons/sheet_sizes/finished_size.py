"""02-sheet-sizes: what a size comes to in a frame, and in whole pixels."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.drawing.edge import draw_edge
from labkit.drawing.frame import draw_frame
from labkit.geometry.holding import area, sight_size
from labkit.geometry.length import ZERO, Length, decimal, length, size_text
from labkit.geometry.paper import Sheet, find_sheet, iso_tolerance
from labkit.geometry.size import Size
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture

_FRAMES = ("5x7in", "8x10in", "A4", "11x14in", "A3", "16x20in")
_LIPS, _MOST_BORDER = (length("1/16in"), length("3/4in")), length("2in")
_SHEETS = tuple(f"A{number}" for number in range(7))
_COARSEST, _FINEST = 20, 600


@dataclass(frozen=True)
class Framed:
    """A print in a frame of its size: what the frame's lip covers, and the border round the picture."""

    frame: Sheet
    lip: Length
    border: Length

    @property
    def size(self) -> Size:
        """Width and height of frame and print."""
        return self.frame.width, self.frame.height

    @property
    def seen(self) -> Size:
        """The sight size."""
        return sight_size(self.size, self.lip)


@dataclass(frozen=True)
class Rounded:
    """A sheet in whole pixels."""

    sheet: Sheet
    ppi: int

    @property
    def pixels(self) -> tuple[int, int]:
        """Whole pixels across and down."""
        return self.sheet.width.pixels(self.ppi), self.sheet.height.pixels(self.ppi)

    @property
    def pixel(self) -> Length:
        """One pixel."""
        return Length(Fraction(1, self.ppi))

    @property
    def off(self) -> Length:
        """How far the last pixel across ends beyond the sheet's edge; negative where it ends short."""
        return self.pixel * self.pixels[0] - self.sheet.width

    @property
    def tolerance(self) -> Length:
        """How far the sheet's width may be off."""
        return iso_tolerance(self.sheet.width)


@follows_picture
def frame(picture: str | Path | None = None) -> FigureApp:
    """A frame and its lip: what is seen of a print, and of its border."""
    room = home().room()
    shown = your_picture(room, picture)
    upright = [find_sheet(name) for name in _FRAMES]
    is_turned = shown.pixels[0] > shown.pixels[1]
    frames = [each.turned() if is_turned else each for each in upright]
    return FigureApp(
        Framed(frames[1], length("1/4in"), length("1in")),
        [
            MenuControl("frame", "frame for", options=[(str(each), each) for each in frames]),
            LengthControl("lip", "lip", span=lambda _: _LIPS),
            LengthControl("border", "border printed", span=lambda _: (ZERO, _MOST_BORDER)),
        ],
        draw=lambda state, units: draw_frame(
            state.size, state.lip, state.border, units=units, prefix="frame",
            words=_frame_sentence(state, units),
        ),
        tell=_frame_sentence,
        read=frame_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def frame_readings(state: Framed, units: str) -> list[Reading]:
    """Frame and sight size, the share that is covered, and what is left to see of the border."""
    left = state.border - state.lip
    border = (
        left.both(units) if left >= ZERO else f"none: {(-left).said(units)} of picture is covered"
    )
    hidden = 1 - area(*state.seen) / area(*state.size)
    return [
        ("frame, and print", size_text(state.size, units)),
        ("sight size", size_text(state.seen, units)),
        ("covered on each side", state.lip.both(units)),
        ("covered of the print", f"{float(hidden):.0%}"),
        ("border printed", state.border.both(units)),
        ("border seen", border),
    ]


def rounding() -> FigureApp:
    """A metric sheet in whole pixels: how far off that is, beside how far the paper itself may be."""
    sheets = [find_sheet(name) for name in _SHEETS]
    return FigureApp(
        Rounded(find_sheet("A4"), 300),
        [
            MenuControl("sheet", "sheet", options=[(str(each), each) for each in sheets]),
            NumberControl(
                "ppi", "resolution", least=_COARSEST, most=_FINEST, told=lambda ppi: f"{ppi} ppi"
            ),
        ],
        draw=lambda state, units: draw_edge(
            state.tolerance, state.pixel, state.off, prefix="edge",
            title=f"The right edge of {state.sheet.name}, enlarged",
            words=_rounding_sentence(state, units),
        ),
        tell=_rounding_sentence,
        read=rounding_readings,
        units=home().room().units,
    )  # fmt: skip


def rounding_readings(state: Rounded, units: str) -> list[Reading]:
    """The sheet in both units, exactly and in whole pixels; half a pixel against the paper's tolerance."""
    sheet, half = state.sheet, state.pixel / 2
    exact = (decimal(side.inches * state.ppi, 2) for side in (sheet.width, sheet.height))
    typed = length(f"{decimal(sheet.width.inches, 2)}in")
    return [
        ("sheet", size_text((sheet.width, sheet.height), units)),
        ("exactly", " × ".join(exact) + " pixels"),
        ("in whole pixels", "{} × {}".format(*state.pixels)),
        (f"its width typed as {typed.inch_text()}", f"{typed.pixels(state.ppi)} pixels"),
        ("half a pixel", _thin(half, units)),
        ("the cutter may be off by", state.tolerance.both(units)),
        ("that is, in half pixels", decimal(state.tolerance / half, 0)),
    ]


def _thin(size: Length, units: str) -> str:
    """A length too small for a ruler, in both units."""
    inch, metric = f"{decimal(size.inches, 4)} in", f"{decimal(size.mm, 3)} mm"
    return f"{metric} ({inch})" if units == "mm" else f"{inch} ({metric})"


def _frame_sentence(state: Framed, units: str) -> str:
    left = max(ZERO, state.border - state.lip)
    return (
        f"A frame for {size_text(state.size, units)} takes a print of that size. Its lip covers "
        f"{state.lip.both(units)} on each side, and {size_text(state.seen, units)} is seen. Of a border of "
        f"{state.border.both(units)}, {left.both(units)} is seen."
    )


def _rounding_sentence(state: Rounded, units: str) -> str:
    exact = decimal(state.sheet.width.inches * state.ppi, 2)
    side = "beyond" if state.off > ZERO else "short of"
    return (
        f"{state.sheet.name} is {state.sheet.width.both(units)} wide: {exact} pixels at {state.ppi} ppi, "
        f"so {state.pixels[0]}. The last of them ends {_thin(abs(state.off), units)} {side} the edge. The "
        f"cut itself may be {state.tolerance.both(units)} off."
    )
