"""02-sheet-sizes: what paper there is, and which sheet a print needs."""

from dataclasses import dataclass
from functools import cached_property

from labkit.drawing.beside import Thing, draw_beside
from labkit.drawing.folding import draw_folding
from labkit.drawing.stock import called
from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.geometry.folding import SERIES, folds
from labkit.geometry.holding import area, area_text
from labkit.geometry.length import decimal, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import ratio_text
from labkit.home import home
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import (
    FigureApp,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.predict import ChoiceQuestion, NumberQuestion, OrderQuestion
from labkit.lessons.parts.sheetapp import SheetApp, border_readings
from labkit.room.rules import Room
from labkit.teaching.sheet_sizes import sheet_sizes_brief

MOST_FOLDS = 10

MEANINGS = {
    "A3+": ("329x483mm", "13x19in", "305x457mm"),
    "ledger": ("11x17in", "17x11in"),
    "folio": ("8x13in", "8.27x13in", "8.5x13in"),
    "B4": ("250x353mm", "257x364mm"),
}
"""Names and what they are used for, as standards, catalogues and software have them: see
tests/standards/test_papers.py."""


@dataclass(frozen=True)
class Folded:
    """The first sheet of a series, folded so often."""

    series: str
    folds: int = 0

    @cached_property
    def pieces(self) -> tuple[Sheet, ...]:
        """The sheet, and what it was after every fold."""
        return folds(find_sheet(SERIES[self.series]), self.folds)

    @property
    def title(self) -> str:
        """What was done, in a line."""
        times = {0: "not folded", 1: "folded once"}.get(self.folds, f"folded {self.folds} times")
        return f"{self.pieces[0].name}, {times}"


@dataclass(frozen=True)
class Called:
    """A name that is used for more than one size."""

    name: str

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """What it is used for."""
        return tuple(find_sheet(size) for size in MEANINGS[self.name])

    @property
    def things(self) -> tuple[Thing, ...]:
        """The same, to be drawn."""
        return tuple(
            Thing(f"meaning {number}", sheet.width, sheet.height, "paper")
            for number, sheet in enumerate(self.sheets, 1)
        )


def which_smaller() -> OrderQuestion:
    """Predict an order: five sheets by their area."""
    letter, a4, tabloid, a3, large = "letter", "A4", "11 × 17 in", "A3", "13 × 19 in"
    return OrderQuestion(
        "Put these five sheets in order by their area, smallest first.",
        (letter, a4, tabloid, a3, large),
        "Letter has 603 cm², A4 624 cm², 11 × 17 in 1206 cm², A3 1247 cm², 13 × 19 in 1594 cm². Letter is "
        "6 mm wider than A4, but 18 mm shorter. The larger pair goes the same way: 11 × 17 in is two "
        "letter sheets, A3 is two A4.",
        {
            (a4, letter): "Letter is 6 mm wider than A4, but A4 is 18 mm longer: A4 is the larger by "
            "21 cm².",
            (a3, tabloid): "A3 is twice A4 and 11 × 17 in is twice letter. A4 is the larger of those two, "
            "so A3 is as well.",
            (tabloid, letter): "11 × 17 in is two letters side by side, so it cannot be smaller than one.",
            (tabloid, a4): "11 × 17 in is twice letter, and A4 is only a little larger than letter.",
            (a3, a4): "A3 is twice A4: the smaller number is the larger sheet.",
            (a3, letter): "A3 is twice A4, and A4 is larger than letter.",
            (large, a3): "13 × 19 in is 330 × 483 mm: larger than A3, 297 × 420 mm, both ways.",
            (large, tabloid): "13 × 19 in is 2 in larger than 11 × 17 in, both ways.",
            (large, a4): "13 × 19 in is larger than A3, which is twice A4.",
            (large, letter): "13 × 19 in is larger than 11 × 17 in, which is twice letter.",
        },
    )  # fmt: skip


def how_long() -> NumberQuestion:
    """Predict a number: the long side of a sheet that was folded twice."""
    return NumberQuestion(
        "A2 is 420 × 594 mm. You fold it in half, across its long side, and the piece in half once more, "
        "across its own long side. How long is the long side of what you hold?",
        length("297mm"),
        "The first fold halves 594 and leaves 297 × 420 mm, A3. The second halves 420 and leaves "
        "210 × 297 mm, A4. Its long side is 297 mm (11.693 in), the half of where it began.",
        {
            "210mm": "210 mm is its short side: half of 420.",
            "148.5mm": "148.5 mm is a quarter of 594. But the second fold halves the other side, which is "
            "then the long one.",
            "420mm": "420 mm is the long side after one fold.",
            "198mm": "198 mm is a third of 594. A fold halves; two folds make four pieces.",
            "594mm": "594 mm is what you began with: the first fold halves it.",
        },
    )


def fold(series: str = "A") -> FigureApp:
    """Fold the largest sheet of a series in half, and again: its ratio, its size, its area."""
    if series not in SERIES:
        raise LabError(f"no series is called “{series}”: use one of {', '.join(SERIES)}.")
    prefix, most = (
        f"fold-{series}".replace(" ", "-"),
        [find_sheet(name) for name in SERIES.values()],
    )
    return FigureApp(
        Folded(series),
        [
            MenuControl(
                "series", "series", options=[(f"{key}, from {SERIES[key]}", key) for key in SERIES]
            ),
            NumberControl("folds", "folds", most=MOST_FOLDS, told=_folds),
        ],
        draw=lambda state, units: draw_folding(
            state.pieces, most, prefix=prefix, title=state.title, words=_fold_sentence(state, units)
        ),
        tell=_fold_sentence,
        read=fold_readings,
        units=home().room().units,
    )  # fmt: skip


def fold_readings(state: Folded, units: str) -> list[Reading]:
    """Size, ratio and area of the piece, its share of the first, and the ISO B sheet beside a JIS B."""
    first, piece = state.pieces[0], state.pieces[-1]
    ratio = piece.height / piece.width
    told = [
        ("piece", called(piece)),
        ("size", _both(piece, units)),
        ("long side ÷ short side", decimal(ratio, 3)),
        ("as a ratio", ratio_text(ratio)),
        ("area", area_text(area(piece.width, piece.height), units, metric="m²")),
        (f"pieces out of one {first.name}", str(2**state.folds)),
    ]
    if state.series == "JIS B":
        other = find_sheet(f"B{state.folds}")
        told.append((f"{other.name} of ISO 216", _both(other, units)))
        told.append(("JIS is longer, times", decimal(piece.height / other.height, 4)))
    return told


def half_a_letter() -> ChoiceQuestion:
    """Predict a shape: half of a letter sheet."""
    return ChoiceQuestion(
        "Half of an A4 sheet has the shape of A4: its long side is 1.414 times its short side. A letter "
        "sheet is 8.5 × 11 in, and 11 ÷ 8.5 is 1.294. You cut it in half. What shape is the half?",
        "The half is 5.5 × 8.5 in, and 8.5 ÷ 5.5 is 1.545: slimmer. Cut again, and it is 1.294 once more. "
        "Only the root of two stays as it is: 2 ÷ 1.414 is 1.414, but 2 ÷ 1.294 is 1.545.",
        {
            "slimmer: 1.545": "",
            "the same: 1.294": "That holds for A4, whose ratio is the root of two. The half of a letter "
            "sheet is 5.5 × 8.5 in: divide it out.",
            "stouter: 1.1": "The long side of the half is the short side of the whole, 8.5 in, and its "
            "short side is half of 11 in. Divide it out.",
            "twice as slim: 2.588": "The half is upright again once you turn it: its long side is 8.5 in, "
            "its short side 5.5 in.",
        },
    )


def names() -> FigureApp:
    """Names that mean more than one size, each size drawn."""
    return FigureApp(
        Called("A3+"),
        [MenuControl("name", "name", options=[(name, name) for name in MEANINGS])],
        draw=lambda state, units: draw_beside(
            state.things, state.things, units=units, prefix="names", title=f"Sold as “{state.name}”"
        ),
        tell=_name_sentence,
        read=name_readings,
        units=home().room().units,
    )


def name_readings(state: Called, units: str) -> list[Reading]:
    """Each size, and how far apart they are."""
    sheets = state.sheets
    told = [
        (f"meaning {number}" + _source(sheet), _both(sheet, units))
        for number, sheet in enumerate(sheets, 1)
    ]
    for word, sides in (
        ("width", [sheet.width for sheet in sheets]),
        ("height", [sheet.height for sheet in sheets]),
    ):
        told.append((f"apart in {word}", (max(sides) - min(sides)).both(units)))
    return told


def exercise(reader: str | None = None) -> Exercise:
    """A print of given size on the smallest sheet that holds it, laid the right way, in its centre."""
    controls = ("sheet", "turn", "width", "at", "left", "top")

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        placing = Placing(picture.pixels, sheet, length("4in"), room.unprintable(sheet))
        placing = placing.resized(placing.width)
        return SheetApp("task", picture, placing, controls, border_readings, room=room)

    return Exercise("02-sheet-sizes", sheet_sizes_brief, begin, room=home().room(), reader=reader)


def _both(sheet: Sheet, units: str) -> str:
    one, other = ("mm", "in") if "mm" in (units, sheet.unit) else ("in", "mm")
    return f"{sheet.in_unit(one)} ({sheet.in_unit(other)})"


def _source(sheet: Sheet) -> str:
    """The standard of a size, where a name is laid down in two of them."""
    return f", {sheet.standard.split(':')[0]}" if sheet.standard.startswith(("ISO", "JIS")) else ""


def _fold_sentence(state: Folded, units: str) -> str:
    piece = state.pieces[-1]
    name = "" if called(piece) == piece.in_unit(piece.unit) else f"{piece.name}, "
    ratio = decimal(piece.height / piece.width, 3)
    told = f"{state.title}: {name}{_both(piece, units)}, its long side {ratio} times its short side"
    return (
        f"{told}; {2**state.folds} of them make one {state.pieces[0].name}."
        if state.folds
        else f"{told}."
    )


def _name_sentence(state: Called, units: str) -> str:
    sizes = " or ".join(_both(sheet, units) for sheet in state.sheets)
    try:
        find_sheet(state.name)
    except LabError:
        return f"“{state.name}” is {sizes}. Our own tools refuse the name and ask for the size."
    return f"“{state.name}” is {sizes}. Our own tools take the first: say JIS B4 for the other."


def _folds(number: float) -> str:
    return "1 fold" if number == 1 else f"{number} folds"
