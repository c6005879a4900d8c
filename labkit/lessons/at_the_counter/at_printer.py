"""08-at-the-counter: what a printer makes of a file when it scales, centres or turns it."""

from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from labkit.drawing.sheet import draw_sheet
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import find_sheet
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import ChoiceControl, Control, FigureApp, MenuControl, Reading
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.predict import NumberQuestion
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.lessons.parts.sheetapp import sheet_controls
from labkit.room.rules import Paper, Room


@dataclass(frozen=True)
class Printing:
    """A file, and what the printer is told to do with it besides printing it.

    ``fitted`` scales it to what the printer reaches; ``centred`` puts it in the middle of that;
    ``turned`` sends it through the other way round. All three are off where they are done right.
    """

    placing: Placing
    paper: Paper
    fitted: bool = True
    centred: bool = True
    turned: bool = True

    @property
    def asked(self) -> Layout:
        """The layout in the file."""
        return self.placing.layout

    @property
    def printed(self) -> Layout:
        """What comes out: what is where on the paper, and what the printer then does not reach."""
        asked = self.asked
        edges = asked.unprintable.turned().turned() if self.turned else asked.unprintable
        reach = replace(asked, unprintable=edges).printable
        scale = self._scale(reach)
        left, top = (
            (_middle(reach) if self.fitted or self.centred else _middle(asked.sheet_box))[side]
            - size * scale / 2
            for side, size in enumerate(asked.sheet_box.size)
        )
        box = asked.picture
        placed = Box(
            left + box.left * scale, top + box.top * scale, box.width * scale, box.height * scale
        )
        return replace(asked, picture=placed, unprintable=edges)

    @property
    def cut_off(self) -> dict[str, Length]:
        """How much of the picture lies where the printer does not reach, by side."""
        printed = self.printed
        needed = dict(printed.unprintable.items())
        lost = {side: needed[side] - border for side, border in printed.borders.items()}
        return {side: size for side, size in lost.items() if size > ZERO}

    def _scale(self, reach: Box) -> Fraction:
        sheet = self.asked.sheet
        return min(reach.width / sheet.width, reach.height / sheet.height) if self.fitted else 1


@follows_picture
def printing(picture: str | Path | None = None) -> FigureApp:
    """What a printer that scales, centres or turns makes of a file that was right."""
    room = home().room()
    shown = your_picture(room, picture)
    sheet = find_sheet("13x19in")
    placing = Placing(shown.pixels, sheet, length("12in"), room.unprintable(sheet))
    state = Printing(placing.resized(placing.width), room.paper())
    return FigureApp(
        state,
        [
            MenuControl("paper", "paper", options=[(each.name, each) for each in room.papers]),
            *_of_file(state.placing, room),
            ChoiceControl(
                "fitted", "print size", options=[("fitted to the page", True), ("100 %", False)]
            ),
            ChoiceControl(
                "centred",
                "print place",
                options=[("moved to the middle", True), ("as in the file", False)],
            ),
            ChoiceControl(
                "turned", "print turned", options=[("half round", True), ("not at all", False)]
            ),
        ],
        draw=lambda state, units: draw_sheet(state.printed, units=units, prefix="printing"),
        tell=_printing_sentence,
        read=printing_readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )


def printing_readings(state: Printing, units: str) -> list[Reading]:
    """How the paper goes in, and each border as the file has it and as it comes out."""
    asked, printed = state.asked, state.printed
    rows = [
        ("picture's width", asked.picture.width, printed.picture.width),
        *(
            (f"{side} border", border, dict(printed.borders.items())[side])
            for side, border in asked.borders.items()
        ),
    ]
    ends = ("left", "right") if asked.sheet.is_turned else ("top", "bottom")
    lost = [f"{size.both(units)} at the {side}" for side, size in state.cut_off.items()]
    return [
        ("goes in first", f"the {ends[state.turned]} edge"),
        ("cut off", " and ".join(lost) or "nothing"),
        *((label, _compared(was, now, units)) for label, was, now in rows),
        ("side to print on", state.paper.coated_side),
    ]


def how_large() -> NumberQuestion:
    """Predict a number: what fitting the file to the page makes of a picture 12 in wide."""
    return NumberQuestion(
        "A file for a sheet of 13 × 19 in (330.2 × 482.6 mm) has a picture 12 in wide. This printer does not "
        "reach 12 mm on the left and 12 mm on the right, and it is set to fit the file to the page: it makes "
        "the whole file as wide as the part it reaches. How wide does the picture come out?",
        length("12in") * Fraction(3062, 3302),
        "The printer reaches 330.2 − 24 = 306.2 mm: 92.7 % of the sheet. 92.7 % of 12 in is 11.128 in "
        "(282.6 mm), and the frame was made for 12 in. So: always 100 %.",
        {
            "12in": "12 in is what the file says. It comes out so at 100 % only.",
            "11.055in": "11.055 in is 24 mm less. The sheet loses 24 mm; the picture, which is narrower, "
            "loses its share of that.",
        },
    )


def _of_file(placing: Placing, room: Room) -> list[Control]:
    """The controls of the file itself: how its sheet lies, and where the picture is on it."""
    wanted = ("turn", "width", "left", "top")
    known = sheet_controls(placing, room, by_hand=True)
    return [_inside(control) for control in known if control.name in wanted]


def _inside(control: Control) -> Control:
    """A control of a placing, as one of a printing that has it inside."""
    changed = {
        "shown": lambda state: control.of(state.placing),
        "made": lambda state, value: replace(state, placing=control.put(state.placing, value)),
    }
    if hasattr(control, "span"):
        changed["span"] = lambda state: control.span(state.placing)
    return replace(control, **changed)


def _middle(box: Box) -> tuple[Length, Length]:
    return box.left + box.width / 2, box.top + box.height / 2


def _compared(was: Length, now: Length, units: str) -> str:
    if was == now:
        return f"{was.both(units)}, as asked"
    short = Length.mm_text if units == "mm" else Length.inch_text
    return f"{short(was)}, printed {short(now)}"


def _printing_sentence(state: Printing, units: str) -> str:
    printed = state.printed
    if printed == state.asked:
        return f"The print comes out as the file says. {printed.sentence(units)}"
    done = [
        words
        for words, on in (
            ("scaled", state.fitted),
            ("centred", state.fitted or state.centred),
            ("turned round", state.turned),
        )
        if on
    ]
    told = f"The printer has {', '.join(done)} the file. What comes out: {printed.sentence(units)}"
    if state.cut_off:
        told += f" At the {' and '.join(state.cut_off)} some of the picture is cut off."
    return told
