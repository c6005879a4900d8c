"""07-roll-paper: a class's work laid out by the engine, and the cost shared by area."""

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.errors import LabError
from labkit.files.gang.gang import share_by_area
from labkit.files.gang.slug import SLUG_ROOM
from labkit.files.gang.told import money
from labkit.geometry.box import Box
from labkit.geometry.holding import area
from labkit.geometry.length import Length, length, size_text
from labkit.geometry.packing import Packing, Piece, pack
from labkit.home import home
from labkit.lessons.parts.figure import (
    ChoiceControl,
    FigureApp,
    LengthControl,
    MenuControl,
    NumberControl,
    Reading,
)
from labkit.room.laying import Medium, cutter_of, price_of, rolls_of
from labkit.room.rules import Room

_CLASS = (
    ("Ada", "8x10"), ("Ben", "12x16"), ("Cleo", "5x7"), ("Dov", "10x15"), ("Esi", "8x12"),
    ("Finn", "11x14"), ("Gita", "6x9"), ("Hugo", "9x12"), ("Iris", "5x7"), ("Jun", "12x18"),
    ("Kofi", "8x10"), ("Lena", "10x10"),
)  # fmt: skip
"""An invented class, and what each of them wants printed, in inches."""
_STEPS = 150
"""Layouts tried: so many that a slider still answers at once, the same ones each time."""


@dataclass(frozen=True)
class ClassWork:
    """The first so many of the class on a roll, laid out in rows or more freely."""

    medium: Medium
    count: int
    gap: Length
    turn: bool
    stages: int | None
    room: Room

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """Their prints."""
        found = []
        for name, size in _CLASS[: self.count]:
            sides = (length(f"{side}in") for side in size.split("x"))
            found.append(Piece(name, *sides, turn=self.turn))
        return tuple(found)

    @cached_property
    def packing(self) -> Packing:
        """The best layout found."""
        return pack(
            self.pieces, self.medium.stock(below=SLUG_ROOM), gap=self.gap, stages=self.stages,
            cutter=cutter_of(self.room, self.medium.paper), seconds=None, steps=_STEPS,
        )  # fmt: skip

    @property
    def taken(self) -> Length:
        """What comes off the roll."""
        margins = self.packing.stock.margins
        return margins.top + self.packing.used + margins.bottom

    @property
    def price(self) -> Decimal | None:
        """Of all of it."""
        return price_of(self.room, self.medium, self.taken)

    @property
    def one_by_one(self) -> Length:
        """What comes off if each is printed by itself, turned if that is shorter."""
        margins, usable = self.packing.stock.margins, self.packing.stock.width
        total = length("0in")
        for piece in self.pieces:
            fitting = [high for wide, high in piece.ways() if wide <= usable]
            if not fitting:
                raise LabError(f"{piece.name} does not fit on the {self.medium.name}.")
            total += min(fitting) + margins.top + margins.bottom
        return total


def class_work() -> FigureApp:
    """A class's prints on one length of roll: what the engine finds, and who pays how much."""
    room = home().room()
    media = rolls_of(room)
    start = ClassWork(media[min(1, len(media) - 1)], 6, length("1/4in"), True, 2, room)
    return FigureApp(
        start,
        [
            MenuControl("medium", "roll", options=[(each.name, each) for each in media]),
            NumberControl(
                "count", "students", least=1, most=len(_CLASS), told=lambda count: f"the first {count}"
            ),
            LengthControl("gap", "gap", span=lambda _: (length("0in"), length("2in"))),
            ChoiceControl(
                "turn", "prints", options=[("may be turned", True), ("stay as they are", False)]
            ),
            ChoiceControl(
                "stages", "cuts", options=[("rows first", 2), ("three stages", 3), ("any", None)]
            ),
        ],
        draw=lambda state, units: draw_strip(
            Strip(
                state.medium.width, (state.taken,), state.medium.edges, state.medium.leader,
                state.medium.tail,
            ),
            list(_pieces(state)), (), units=units, prefix="class-work",
            title=f"The class on a {state.medium.name}", words=_sentence(state, units),
        ),
        tell=_sentence,
        read=readings,
        units=room.units,
    )  # fmt: skip


def _pieces(state: ClassWork):
    corner = state.medium.edges.left, state.packing.stock.margins.top
    for each in state.packing.placed:
        box = each.box
        at = Box(box.left + corner[0], box.top + corner[1], box.width, box.height)
        yield Shown(at, each.name, "turned" if each.turned else "")


def readings(state: ClassWork, units: str) -> list[Reading]:
    """What comes off, its waste and price, beside printing one by one; then each student's share."""
    price = state.price
    told = [
        ("comes off the roll", state.taken.both(units)),
        ("one by one", state.one_by_one.both(units)),
        ("no print on", f"{float(state.packing.waste):.0%} of it"),
        ("cuts", str(len(state.packing.cuts))),
        ("the paper costs", "no price is set" if price is None else money(state.room, price)),
    ]
    if price is None:
        return told
    areas = [area(piece.width, piece.height) for piece in state.pieces]
    for piece, share in zip(state.pieces, share_by_area(price, areas), strict=True):
        size = size_text((piece.width, piece.height), units).split(" (")[0]
        told.append((f"{piece.name}, {size}", money(state.room, share)))
    return told


def _sentence(state: ClassWork, units: str) -> str:
    return (
        f"{len(state.packing.placed)} students' prints on a {state.medium.name}: {state.taken.both(units)} "
        f"of paper come off, {float(state.packing.waste):.0%} of it no print; one by one it would be "
        f"{state.one_by_one.both(units)}."
    )
