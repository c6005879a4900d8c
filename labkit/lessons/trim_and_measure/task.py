"""09-trim-and-measure: the exercise, a print file marked for its cuts."""

from dataclasses import dataclass, replace
from functools import cached_property

from labkit.files.header.picture import Picture
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.trimplan import plan_of, to_be_cut, widest_border
from labkit.geometry.weight import EVEN, WEIGHTS, Weight
from labkit.home import home
from labkit.lessons.parts.exercise import Exercise
from labkit.lessons.parts.figure import LengthControl, MenuControl, Reading
from labkit.lessons.parts.placing import Placing
from labkit.lessons.parts.sheetapp import SheetApp
from labkit.room.room import Room
from labkit.teaching.trim_and_measure import BEGIN_BORDER, BEGIN_WIDTH, trim_brief


@dataclass(frozen=True)
class ToBeCut(Placing):
    """A picture on a sheet, cut to a border on three sides and below to what the weight adds."""

    cut_to: Length = ZERO
    weight: Weight = EVEN

    @cached_property
    def layout(self) -> Layout:
        """With corner marks; LabError where the sheet has no room for the borders or the marks."""
        return to_be_cut(super().layout, self.cut_to, self.weight)

    @property
    def widest_cut(self) -> Length:
        """The widest border that the sheet has room for."""
        plain = super().layout
        return widest_border(plain.picture, (self.sheet.width, self.sheet.height), self.weight)


def exercise(reader: str | None = None) -> Exercise:
    """A picture of given width, to be cut to given borders, drawn from the reader's name."""
    more = [
        LengthControl(
            "cut_to",
            "border after cutting",
            made=lambda state, border: replace(state, cut_to=border),
            span=lambda state: (ZERO, state.widest_cut),
        ),
        MenuControl("weight", "below", options=list(WEIGHTS.items())),
    ]

    def begin(picture: Picture, room: Room) -> SheetApp:
        sheet = room.sheets[0]
        placing = ToBeCut(
            picture.pixels, sheet, BEGIN_WIDTH, room.unprintable(sheet), cut_to=BEGIN_BORDER
        )
        controls = ("sheet", "turn", "width")
        return SheetApp("task", picture, placing, controls, _readings, room=room, more=more)

    return Exercise("09-trim-and-measure", trim_brief, begin, room=home().room(), reader=reader)


def _readings(state: ToBeCut, units: str) -> list[Reading]:
    plan = plan_of(state.layout)
    borders = plan.borders
    told = [
        ("left, right and above", borders.top.both(units)),
        ("below", borders.bottom.both(units)),
        ("finished piece", size_text(plan.piece.size, units)),
    ]
    told += [
        (f"{number}. {cut.side}", f"{cut.distance.said(units)} from the {cut.start}")
        for number, cut in enumerate(plan.cuts, 1)
    ]
    return told
