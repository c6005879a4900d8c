"""01-resolution: how large a picture of so many pixels can be, and what the label has to do with it."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.drawing.beside import CARD, LETTER, Thing, draw_beside
from labkit.drawing.chart import Chart, draw_chart
from labkit.drawing.style import OKABE_ITO
from labkit.files.header.picture import Picture
from labkit.geometry.length import Length, length, nearest
from labkit.geometry.proportion import by_width
from labkit.geometry.resolution import (
    FloorRow,
    floor_for,
    largest_at_floor,
    ppi_at,
    ppi_text,
)
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.chartapp import ChartApp
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    Reading,
)
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.predict import ChoiceQuestion, NumberQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.room.rules import Room
from labkit.teaching.resolution import resolution_brief

LABELS = (72, 150, 200, 300, 600)
"""The labels to choose from, in ppi."""
_UNSTATED = 300
"""What is taken for the label of a picture that has none."""


@dataclass(frozen=True)
class PrintSize:
    """So many pixels, printed so wide."""

    pixels: tuple[int, int]
    width: Length

    @property
    def size(self) -> tuple[Length, Length]:
        """Width and height."""
        return by_width(self.pixels, self.width)

    @property
    def ppi(self) -> Fraction:
        """What the pixels come to, per inch."""
        return ppi_at(self.pixels[0], self.width)


@dataclass(frozen=True)
class Labelling:
    """A picture of so many ``pixels`` at ``stated`` ppi, and another ``ppi`` for it: as a new label, or
    with pixels made anew."""

    pixels: tuple[int, int]
    stated: Fraction
    ppi: int
    resample: bool = False

    @property
    def count(self) -> tuple[int, int]:
        """The pixels it then has."""
        if not self.resample:
            return self.pixels
        return tuple(max(1, nearest(side * self.ppi / self.stated)) for side in self.pixels)

    @property
    def size(self) -> tuple[Length, Length]:
        """Width and height at 100 %."""
        return tuple(Length(Fraction(side, self.ppi)) for side in self.count)


@follows_picture
def size(picture: str | Path | None = None) -> FigureApp:
    """A slider for the print's width: inches and ppi change, pixels do not."""
    room = home().room()
    shown = your_picture(room, picture)
    widest = _widest(shown.pixels, room)
    start = PrintSize(shown.pixels, min(length("10in"), widest))
    most = _things(PrintSize(shown.pixels, widest).size)
    return FigureApp(
        start,
        [LengthControl("width", "print's width", span=lambda _: (min(length("2in"), widest), widest))],
        draw=lambda state, units: draw_beside(
            _things(state.size),
            most,
            units=units,
            prefix="size",
            title=f"{state.pixels[0]} × {state.pixels[1]} pixels at {ppi_text(state.ppi)}",
        ),
        tell=lambda state, units: _size_sentence(state, room, units),
        read=lambda state, units: size_readings(state, room.floor, units),
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def size_readings(state: PrintSize, table: tuple[FloorRow, ...], units: str) -> list[Reading]:
    """What changes with the width, what does not, and what the room asks for."""
    wide, high = state.size
    row = floor_for(max(wide, high), table)
    return [
        ("pixels", f"{state.pixels[0]} × {state.pixels[1]}"),
        ("wide", wide.both(units)),
        ("high", high.both(units)),
        ("resolution", ppi_text(state.ppi)),
        (f"floor, seen from {row.distance.both(units)}", f"{row.ppi} ppi"),
        ("is that enough?", "yes" if state.ppi >= row.ppi else "no"),
    ]


def chart(picture: str | Path | None = None) -> ChartApp:
    """Ppi over the print's width, the room's floor in steps, and the largest sizes at the floor."""
    room = home().room()
    return ChartApp(lambda units: _chart(your_picture(room, picture).pixels, room, units), room)


def _chart(pixels: tuple[int, int], room: Room, units: str) -> Chart:
    share = Fraction(pixels[0], max(pixels))
    widest = _widest(pixels, room)
    reached = sorted(
        {largest_at_floor(max(pixels), room.floor, at_most=row.up_to) * share for row in room.floor}
    )
    return draw_chart(
        lambda axes: _plot(axes, pixels, share, widest, reached, room, units),
        _chart_sentence(pixels, widest, reached, room, units),
    )


def how_wide() -> NumberQuestion:
    """Predict a number: how wide a picture can be at 240 ppi."""
    return NumberQuestion(
        "Another picture has 6000 × 4000 pixels. How wide can it be printed so that it still has 240 ppi?",
        length("25in"),
        "240 pixels make an inch: 6000 pixels across, divided by 240 pixels per inch, are 25 in "
        "(635 mm). The other side is 4000 ÷ 240 = 16.67 in.",
        {
            "16.67in": "That is its height: 4000 pixels, divided by 240. The question is about the width.",
            "20in": "That is 6000 divided by 300. The question is about 240 ppi.",
            "1/25in": "That is 240 divided by 6000: the wrong way round. More pixels make a larger print.",
            "12 1/2in": "That is half of it. Pixels per inch are counted along one side at a time, so each "
            "side is divided once.",
            "83 1/3in": "That is 6000 divided by 72. The question is about 240 ppi.",
        },
    )


@follows_picture
def label(picture: str | Path | None = None) -> FigureApp:
    """The resolution tag: a new label leaves every pixel, resampling makes new ones."""
    room = home().room()
    shown = your_picture(room, picture)
    stated = shown.ppi[0] if shown.ppi else Fraction(_UNSTATED)
    state = Labelling(shown.pixels, stated, min(LABELS, key=lambda ppi: abs(ppi - stated)))
    largest = Length(max(shown.pixels[0] / min(stated, Fraction(min(LABELS))), Fraction(1)))
    most = _things(by_width(shown.pixels, largest))
    return FigureApp(
        state,
        [
            ChoiceControl("resample", "change", options=[("label only", False), ("pixels too", True)]),
            MenuControl("ppi", "resolution", options=[(f"{ppi} ppi", ppi) for ppi in LABELS]),
        ],
        draw=lambda state, units: draw_beside(
            _things(state.size),
            most,
            units=units,
            prefix="label",
            title=f"{state.count[0]} × {state.count[1]} pixels, labelled {state.ppi} ppi",
        ),
        tell=_label_sentence,
        read=label_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def label_readings(state: Labelling, units: str) -> list[Reading]:
    """Pixels, which a label leaves as they are, and the size, which it does not."""
    wide, high = state.size
    change = "none" if state.count == state.pixels else "all of them are new"
    return [
        ("pixels before", f"{state.pixels[0]} × {state.pixels[1]}"),
        ("pixels now", f"{state.count[0]} × {state.count[1]}"),
        ("pixels that changed", change),
        ("label", f"{state.ppi} ppi"),
        ("wide at 100 %", wide.both(units)),
        ("high at 100 %", high.both(units)),
    ]


def wrong_label() -> ChoiceQuestion:
    """Predict a choice: the counter's commonest fault."""
    return ChoiceQuestion(
        "A file comes to the counter. It has 5700 × 3900 pixels, and its label says 72 ppi. It is meant for "
        "a sheet of 19 × 13 in, but the computer says it is 79.17 × 54.17 in. What do you do?",
        "5700 ÷ 300 = 19 and 3900 ÷ 300 = 13: the pixels are right, only the label is wrong. Set the "
        "resolution to 300 ppi without resampling. Nothing is lost, and no pixel changes.",
        {
            "Write 300 ppi on the label and leave the pixels alone.": "",
            "Resample it to 300 ppi.": "Resampling keeps the size and makes new pixels: 79.17 in at "
            "300 ppi would be 23 750 pixels across, all invented, for a sheet that nobody has.",
            "Send it back: 72 ppi is too few for a print.": "72 is only what the label says. Count the "
            "pixels: 5700 along 19 in are 300 to the inch.",
            "Have the printer scale it down to the sheet.": "Then the printer decides how large the "
            "print is. A finished file is printed at 100 %, so that nobody has to guess.",
        },
    )


def exercise(reader: str | None = None) -> Exercise:
    """The largest print at the floor on the smallest sheet for it, drawn from the reader's name."""
    controls = ("sheet", "turn", "width", "left", "top")

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        placing = Placing(picture.pixels, sheet, length("5in"), room.unprintable(sheet))
        placing = placing.resized(placing.width)

        def read(now: Placing, units: str) -> list[Reading]:
            told = size_readings(PrintSize(now.shape, now.width), room.floor, units)
            return [*told[3:5], *border_readings(now, units)]

        return SheetApp("task", picture, placing, controls, read, room=room)

    return Exercise("01-resolution", resolution_brief, begin, room=home().room(), reader=reader)


def _widest(pixels: tuple[int, int], room: Room) -> Length:
    """The width at which the picture has no more than the least of the room's floor."""
    return Length(Fraction(pixels[0], min(row.ppi for row in room.floor)))


def _things(size: tuple[Length, Length]) -> tuple[Thing, ...]:
    return Thing("your print", *size), LETTER, CARD


def _size_sentence(state: PrintSize, room: Room, units: str) -> str:
    wide, high = (side.both(units) for side in state.size)
    row = floor_for(max(state.size), room.floor)
    enough = "enough" if state.ppi >= row.ppi else "too few"
    return (
        f"{state.pixels[0]} × {state.pixels[1]} pixels printed {wide} wide and {high} high have "
        f"{ppi_text(state.ppi)}: {enough} for this room, which asks for {row.ppi} ppi at that size. "
        "Beside it a letter sheet and a bank card, to the same scale."
    )


def _label_sentence(state: Labelling, units: str) -> str:
    wide, high = (side.both(units) for side in state.size)
    done = (
        "Resampled: new pixels" if state.resample else "Only the label: the pixels are as they were"
    )
    return (
        f"{done}, {state.count[0]} × {state.count[1]}. Labelled {state.ppi} ppi, so {wide} by {high} at "
        "100 %."
    )


def _plot(axes, pixels, share, widest, reached, room: Room, units: str) -> None:
    def along(width: Length) -> float:
        return float(width if units == "in" else width.mm)

    widths = [widest * Fraction(step, 200) for step in range(10, 201)]
    axes.plot(
        [along(width) for width in widths],
        [float(ppi_at(pixels[0], width)) for width in widths],
        color=OKABE_ITO["blue"],
        linewidth=2,
        label="this picture",
    )
    ends = [row.up_to for row in room.floor if row.up_to and row.up_to * share < widest]
    steps = [0.0, *(along(end * share) for end in ends), along(widest)]
    floor = [row.ppi for row in room.floor[: len(steps) - 1]]
    axes.stairs(floor, steps, color=OKABE_ITO["vermilion"], linewidth=2, linestyle="--",
                baseline=None, zorder=3, label="this room's floor")  # fmt: skip
    for width in reached:
        ppi = float(ppi_at(pixels[0], width))
        axes.plot([along(width)], [ppi], "o", color=OKABE_ITO["black"], zorder=4)
        axes.annotate(f"{width.mm_text() if units == 'mm' else width}\n{ppi:.0f} ppi",
                      (along(width), ppi), (8, 10), textcoords="offset points")  # fmt: skip
    axes.set(
        xlabel=f"print's width, {'inches' if units == 'in' else 'millimetres'}",
        ylabel="pixels per inch", xlim=(0, along(widest) * 1.12), ylim=(0, 1.6 * max(floor)),
    )  # fmt: skip
    axes.legend(loc="upper right")


def _chart_sentence(pixels, widest: Length, reached, room: Room, units: str) -> str:
    widths = (length("5in"), length("10in"), length("20in"), length("30in"))
    curve = ", ".join(
        f"{ppi_text(ppi_at(pixels[0], width))} at {width.both(units)}"
        for width in widths
        if width <= widest
    )
    floor = ", ".join(
        f"{row.ppi} ppi " + (f"up to {row.up_to.both(units)}" if row.up_to else "beyond")
        for row in room.floor
    )
    largest = " and ".join(width.both(units) for width in reached)
    return (
        f"Resolution of {pixels[0]} × {pixels[1]} pixels by the print's width: {curve}. The room's floor, "
        f"by the print's long side: {floor}. The picture is largest at the floor at a width of {largest}."
    )


def grouped(number: int) -> str:
    """With a thin gap between thousands."""
    return f"{number:,}".replace(",", " ")
