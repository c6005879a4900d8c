"""09-trim-and-measure: a print cut to its borders, the cuts in order, and one of them a little off."""

from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from labkit.drawing.trimplan import draw_plan
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import place
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.trimplan import (
    EDGE,
    MARKS,
    Blade,
    TrimPlan,
    finished,
    plan_cuts,
    widest_border,
)
from labkit.geometry.weight import EVEN, WEIGHTS, Weight
from labkit.home import home
from labkit.job import words as job
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.lessons.parts.predict import NumberQuestion, OrderQuestion, Quantity
from labkit.lessons.parts.reader import your_picture
from labkit.lessons.parts.settings import follows_picture
from labkit.room.laying import blade_of

STEP = length("1/32in")
"""By what a cut is moved: what a good worker may be off."""
_LARGER = 16
_MOST = 4
SMALL = Quantity(length, length("1/100in"), "1/8in or 3mm", "a length first, with its unit")


@dataclass(frozen=True)
class Cutting:
    """A picture in the centre of a sheet, cut to a border on three sides and what the weight adds below.

    ``off`` is how many steps the cut on ``side`` falls too near to the picture; ``start`` what the second
    of two opposite cuts is measured from.
    """

    shape: tuple[int, int]
    sheet: Sheet
    width: Length
    blade: Blade
    border: Length
    weight: Weight = EVEN
    side: str = "first"
    off: float = 0
    start: str = EDGE

    @cached_property
    def picture(self) -> Box:
        """Where it lies on the sheet."""
        size = by_width(self.shape, self.width)
        return Box(*place(size, self.sheet), *size)

    @property
    def widest(self) -> Length:
        """The widest border there is room for."""
        return widest_border(self.picture, (self.sheet.width, self.sheet.height), self.weight)

    @cached_property
    def plan(self) -> TrimPlan:
        """The cuts in order."""
        border = min(self.border, self.widest)
        piece = finished(self.picture, border, self.weight)
        return plan_cuts((self.sheet.width, self.sheet.height), self.picture, piece, self.blade)

    @property
    def wrong(self) -> dict[str, Length]:
        """Which cut is off, and by how much."""
        if not self.plan.cuts or not self.off:
            return {}
        cut = self.plan.cuts[0 if self.side == "first" else -1]
        return {cut.side: STEP * int(self.off)}

    @property
    def borders(self) -> Edges:
        """As they come out."""
        return self.plan.borders_if(self.wrong, self.start)


@follows_picture
def cuts(picture: str | Path | None = None) -> FigureApp:
    """A print cut to its borders, equal or heavier below: cuts in order, and what one that is off does."""
    room = home().room()
    shown = your_picture(room, picture)
    sheet = find_sheet("13x19in")
    sheet = sheet.turned() if shown.pixels[0] > shown.pixels[1] else sheet
    widest = min(sheet.width - length("4in"), length("12in"))
    width = min(widest, (sheet.height - length("4in")) * shown.pixels[0] / shown.pixels[1])
    state = Cutting(shown.pixels, sheet, width, blade_of(room), length("1in"))
    return FigureApp(
        state,
        [
            LengthControl("border", "border", made=_bordered, span=lambda state: (ZERO, state.widest)),
            MenuControl("weight", "below", made=_weighted, options=list(WEIGHTS.items())),
            NumberControl("off", "one cut off by", least=-_MOST, most=_MOST, told=_off),
            ChoiceControl("side", "which cut", options=[("the first", "first"), ("the last", "last")]),
            ChoiceControl(
                "start", "opposite cuts", options=[("from fresh edge", EDGE), ("from marks", MARKS)]
            ),
        ],
        draw=lambda state, units: draw_plan(
            state.plan, off=state.wrong, borders=state.borders, units=units, prefix="cuts",
            title=f"{state.sheet.in_unit(units)}, cut to {size_text(state.plan.piece.size, units)}",
            words=_sentence(state, units), larger=_LARGER,
        ),
        tell=_sentence,
        read=readings,
        units=room.units,
        photo=job.preview(shown, room=room),
    )  # fmt: skip


def _bordered(state: Cutting, border: Length) -> Cutting:
    return replace(state, border=min(border, state.widest))


def _weighted(state: Cutting, weight: Weight) -> Cutting:
    heavier = replace(state, weight=weight)
    return replace(heavier, border=min(state.border, heavier.widest))


def _off(steps: float) -> str:
    if not steps:
        return "nothing"
    way = "too near" if steps > 0 else "too far out"
    size = STEP * abs(int(steps))
    return f"{abs(int(steps))}/32 in ({size.mm_text()}) {way}"


def readings(state: Cutting, units: str) -> list[Reading]:
    """How far the worst border is off beside what a cut may be, how uneven that looks, then each cut."""
    plan, borders = state.plan, state.borders
    off, limit = plan.furthest_off(borders), state.blade.tolerance
    good = "within" if off <= limit else "more than"
    told = [
        ("a border off by", f"{_fine(off)}, {good} the {_fine(limit)} allowed here"),
        ("two differ by", _fine(plan.uneven(borders))),
    ]
    for number, cut in enumerate(plan.cuts, 1):
        edge = "cut" if cut.fresh else "sheet's own"
        told.append(
            (
                f"{number}. {cut.side}",
                f"{cut.distance.said(units)} from the {cut.start}, {edge} edge",
            )
        )
    told += [(f"{side} border", border.both(units)) for side, border in borders.items()]
    return told


def _fine(size: Length) -> str:
    """A small length as a trimmer's scale has it."""
    parts = size / STEP
    if parts.denominator == 1 and parts % 2:
        return f"{parts}/32 in ({size.mm_text()})"
    return size.both()


def _sentence(state: Cutting, units: str) -> str:
    plan = state.plan
    told = f"{size_text(plan.piece.size, units)} out of {state.sheet}, in {len(plan.cuts)} cuts. "
    return f"{told}Borders as cut: {state.borders.text(units)}."


def how_uneven() -> NumberQuestion:
    """Predict a number: what a first cut that is off does to the opposite border."""
    return NumberQuestion(
        "A print is to have 1 in of white on the left and on the right. The first cut, on the left, falls "
        "1/16 in too near to the picture. The right side is then measured from that fresh edge, and cut "
        "exactly to the width of the finished piece. By how much do the left and right borders differ?",
        length("1/8in"),
        "1/8 in. The left border is 15/16 in. The piece has its right width, so what is missing on the left "
        "is too much on the right: 1 1/16 in. Measured from the marks instead, the right border is 1 in.",
        {
            "1/16in": "1/16 in is what is missing on the left. The piece has its full width all the same: "
            "where has the rest gone?",
            "0in": "The width of the piece is right. But the picture no longer lies in its middle.",
            "1/32in": "That is half of it. Work out both borders, each by itself.",
        },
        SMALL,
    )


def which_cut() -> OrderQuestion:
    """Predict an order: four cuts that leave a straight edge to work from."""
    long, short = "long side, from the sheet's edge", "short side, square to the first cut"
    far, last = "other long side, from the first cut", "other short side, from the second cut"
    return OrderQuestion(
        "All four sides of a print are to be cut off. Put the cuts in order.",
        (long, short, far, last),
        "First a long side: a long fresh edge is the best one to lay against the fence. Then a short side, "
        "square to it: now there is a true corner. The other two are measured from those fresh edges, so "
        "they come out parallel, whichever of them comes first; this lesson takes the long one, while the "
        "paper is long enough to hold. (Common practice; there is no standard.)",
        {
            (
                far,
                long,
            ): "The other long side is measured from the first cut: that must be there already.",
            (last, short): "The last short side is measured from the second cut.",
            (
                short,
                long,
            ): "A short edge is a poor guide for a long cut: a little askew grows along it.",
            (
                far,
                short,
            ): "With one straight edge, make the corner first: a short side, square to it.",
        },
        either=frozenset({far, last}),
    )
