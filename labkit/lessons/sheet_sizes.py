"""02-sheet-sizes: what paper there is, and which sheet a print needs."""

from fractions import Fraction
from pathlib import Path

from labkit import job
from labkit.drawing.stock import draw_edge, draw_fold, draw_frame, draw_roll, draw_stock
from labkit.files.picture import Picture
from labkit.geometry.length import Length, length
from labkit.geometry.paper import find_sheet
from labkit.geometry.stock import area
from labkit.home import home
from labkit.lessons.exercise import Exercise
from labkit.lessons.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
)
from labkit.lessons.margins import border_readings
from labkit.lessons.paper import (
    SERIES,
    Folded,
    Framed,
    Laid,
    Rolled,
    Rounded,
    fold_readings,
    fold_sentence,
    frame_readings,
    frame_sentence,
    roll_readings,
    roll_sentence,
    rounding_readings,
    rounding_sentence,
    stock_readings,
    stock_sentence,
)
from labkit.lessons.placing import Placing
from labkit.lessons.predict import ChoiceQuestion, NumberQuestion, OrderQuestion
from labkit.lessons.reader import your_picture
from labkit.lessons.sheetapp import SheetApp
from labkit.room import Room
from labkit.teaching.sheet_sizes import sheet_sizes_brief

_FRAMES = ("5x7in", "8x10in", "11x14in", "16x20in", "A4", "A3")
_LEAST, _MOST = length("3in"), length("20in")


def stock(picture: str | Path | None = None) -> FigureApp:
    """Your print laid on every sheet in stock: which hold it, which is the smallest, what is left."""
    room = home().room()
    shown = your_picture(room, picture)
    return FigureApp(
        Laid(shown.pixels, length("9in"), length("1/2in"), room),
        [
            LengthControl("width", "print's width", span=lambda state: (_LEAST, _MOST)),
            LengthControl(
                "border", "least border", span=lambda state: (length("0in"), length("3in"))
            ),
        ],
        draw=lambda state, units: draw_stock(
            state.size, state.sheets, prefix="stock", words=stock_sentence(state, units)
        ),
        tell=stock_sentence,
        read=stock_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )


def fold() -> FigureApp:
    """Fold the largest sheet of a series in half, and again: its size, its ratio, its area."""
    return FigureApp(
        Folded(),
        [
            MenuControl("series", "series", options=[(name, name) for name in SERIES]),
            NumberControl(
                "folds", "folds", most=8, told=lambda n: "once" if n == 1 else f"{n} times"
            ),
        ],
        draw=lambda state, units: draw_fold(
            state.pieces, state.count, prefix="fold", words=fold_sentence(state, units)
        ),
        tell=fold_sentence,
        read=fold_readings,
        units=home().room().units,
    )


def frame(picture: str | Path | None = None) -> FigureApp:
    """A frame, its lip, and what is seen of the picture."""
    room = home().room()
    shown = your_picture(room, picture)
    frames = [find_sheet(name) for name in _FRAMES]
    return FigureApp(
        Framed(frames[1], length("1/4in")),
        [
            MenuControl("opening", "frame for", options=[(str(each), each) for each in frames]),
            LengthControl("lip", "lip", span=lambda state: (length("1/16in"), length("3/4in"))),
        ],
        draw=lambda state, units: draw_frame(
            state.size, state.lip, prefix="frame", words=frame_sentence(state, units)
        ),
        tell=frame_sentence,
        read=frame_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )


def rounding() -> FigureApp:
    """A metric sheet in whole pixels: how far off that is, beside what the cutter is allowed."""
    sheets = [find_sheet(f"A{number}") for number in range(1, 6)]
    return FigureApp(
        Rounded(sheets[3], 300),
        [
            MenuControl("sheet", "sheet", options=[(str(each), each) for each in sheets]),
            NumberControl(
                "ppi", "resolution", least=20, most=600, step=1, told=lambda n: f"{n} ppi"
            ),
        ],
        draw=lambda state, units: draw_edge(
            state.tolerance,
            Length(Fraction(1, state.ppi)),
            state.off,
            prefix="edge",
            words=rounding_sentence(state, units),
        ),
        tell=rounding_sentence,
        read=rounding_readings,
        units=home().room().units,
    )


def sheet_or_roll(picture: str | Path | None = None) -> FigureApp:
    """A print on a roll: the width is fixed, the length is free."""
    room = home().room()
    shown = your_picture(room, picture)
    rolls = [(f"{roll.width.both(room.units)} wide", roll) for roll in room.rolls]
    return FigureApp(
        Rolled(shown.pixels, length("20in"), room.rolls[1], False, room),
        [
            MenuControl("roll", "roll", options=rolls),
            LengthControl(
                "width", "print's width", span=lambda state: (length("6in"), length("60in"))
            ),
            ChoiceControl(
                "turned", "across it", options=[("the width", False), ("the height", True)]
            ),
        ],
        draw=lambda state, units: draw_roll(
            state.size,
            state.roll.width,
            state.run,
            prefix="roll",
            words=roll_sentence(state, units),
        ),
        tell=roll_sentence,
        read=roll_readings,
        units=room.units,
    )


def how_long() -> NumberQuestion:
    """Predict a number: a sheet halved twice."""
    return NumberQuestion(
        "A2 is 420 × 594 mm. You fold it in half, across its long side, and once more. How long is the "
        "long side of what you hold?",
        length("297mm"),
        "Halving the long side of A2 gives A3, 297 × 420 mm; halving 420 gives A4, 210 × 297 mm. Its "
        "long side is 297 mm (11.693 in).",
        {
            "210mm": "210 mm is its short side.",
            "148mm": "148 mm is a quarter of 594: but the second fold halves the other side.",
            "148.5mm": "148.5 mm is a quarter of 594: but the second fold halves the other side.",
            "420mm": "420 mm is the long side after one fold.",
        },
    )


def which_smaller() -> OrderQuestion:
    """Predict an order: five sheets by their area."""
    letter, a4, tabloid, a3, large = "letter", "A4", "11 × 17 in", "A3", "13 × 19 in"
    return OrderQuestion(
        "Put these five sheets in order by their area, smallest first.",
        (letter, a4, tabloid, a3, large),
        "Letter has 603 cm², A4 624 cm², 11 × 17 in 1206 cm², A3 1247 cm², 13 × 19 in 1594 cm². Letter "
        "is wider than A4, but A4 is longer, and wins.",
        {
            (
                a4,
                letter,
            ): "Letter is 6 mm wider than A4, but A4 is 18 mm longer: A4 is the larger by 21 cm².",
            (a3, tabloid): "A3 is twice A4 and 11 × 17 in is twice letter: so A3 is the larger.",
            (large, a3): "13 × 19 in is larger than A3 in both directions.",
        },
    )


def half_a_letter() -> ChoiceQuestion:
    """Predict a shape: half of a letter sheet."""
    return ChoiceQuestion(
        "A letter sheet, 8.5 × 11 in, is 1.294 : 1. You cut it in half. What shape is the half?",
        "The half is 5.5 × 8.5 in, and 8.5 : 5.5 is 1.545 : 1: slimmer. Cut again, and it is 1.294 : 1 "
        "once more. Only 1.414 : 1, the root of two, stays as it is when it is halved.",
        {
            "slimmer: 1.545 : 1": "",
            "the same: 1.294 : 1": "That is true of A4, whose ratio is the root of two. Letter is 1.294 : 1, "
            "and its half is 5.5 × 8.5 in: divide it out.",
            "stouter: 1.1 : 1": "The long side of the half is the short side of the whole, 8.5 in; its short "
            "side is half of 11 in. Divide it out.",
        },
    )


def exercise(reader: str | None = None) -> Exercise:
    """A print of given size on the smallest sheet that holds it, turned the right way."""

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = max(room.sheets, key=lambda each: area(each.width, each.height))
        placing = Placing(picture.pixels, sheet, length("4in"), room.unprintable(sheet))
        controls = ("sheet", "turn", "width", "at")
        return SheetApp("task", picture, placing, controls, border_readings, room=room)

    return Exercise("02-sheet-sizes", sheet_sizes_brief, begin, room=home().room(), reader=reader)
