"""What the lesson on sheet sizes asks: a print of a given size on the smallest sheet that holds it."""

from collections.abc import Sequence
from random import Random

from labkit.errors import LabError
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import Length, length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.resolution import ppi_at
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for

STEP, LEAST_WIDTH = length("1/16in"), length("5in")
"""Widths are asked for in whole steps, from the least one up."""
_BORDERS = tuple(STEP * count for count in range(8, 21))
_TRIES = 500
"""For each sheet in stock."""


def sheet_sizes_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: the print's width and its least border are given; the sheet, and the way
    it lies, are to be found.

    LabError without a name, or where no sheet in stock holds a print of 5 in with its borders.
    """
    chance = chance_for("sheet sizes", reader)
    tasks = (
        _task_on(sheet, chance, pictures, room)
        for sheet in chance.sample(room.sheets, len(room.sheets))
    )
    found = next(filter(None, tasks), None)
    if found is None:
        raise LabError(
            f"no sheet in stock at {room.name} holds one of our pictures {LEAST_WIDTH} wide with borders "
            f"of {_BORDERS[0]}: add a larger one to the room's file."
        )
    candidate, border, layout = found
    asked = (
        f"Print “{candidate[0].title}” at 100 %, ", layout.picture.width, " wide, on the smallest sheet in "
        "stock that leaves a border of at least ", border, " on every side. ",
        _turn(layout, border, room), " The picture sits in its centre.",
    )  # fmt: skip
    hints = _hints(layout, border)
    return brief_of(reader, candidate, asked, layout, room, hints, finds_sheet=True)


def _task_on(
    sheet: Sheet, chance: Random, pictures: Sequence[Candidate], room: Room
) -> tuple[Candidate, Length, Layout] | None:
    """A picture, a least border and a layout whose answer is ``sheet``; None where none turns up."""
    least = int(LEAST_WIDTH / STEP)
    most = max(least, int(max(sheet.width, sheet.height) / STEP))
    for _ in range(_TRIES):
        candidate, border = chance.choice(pictures), chance.choice(_BORDERS)
        width = STEP * chance.randint(least, most)
        if ppi_at(candidate[1][0], width) < room.working_ppi:
            continue
        layout = answer(candidate[1], width, border, room)
        if layout is not None and layout.sheet in (sheet, sheet.turned()):
            return candidate, border, layout
    return None


def answer(pixels: tuple[int, int], width: Length, border: Length, room: Room) -> Layout | None:
    """The print in the centre of the smallest sheet in stock that leaves ``border``; None if none does."""
    size = by_width(pixels, width)
    sheet = room.sheet_for(size, border=border)
    if sheet is None:
        return None
    return lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width)


def _turn(layout: Layout, border: Length, room: Room) -> str:
    """Which way the sheet lies, said only where both would do."""
    if len(room.ways_it_holds(layout.picture.size, layout.sheet, border=border)) == 1:
        return "Lay the sheet the way that holds it."
    return "The sheet lies the way the picture does."


def _hints(layout: Layout, border: Length) -> dict[str, str]:
    """What the task wants to teach, by what is found."""
    size = layout.picture.size
    wide, high = (f"{side} + 2 × {border} = {side + border * 2}" for side in size)
    lies = "wider than high" if size[0] > size[1] else "higher than wide"
    return {
        "sheet-size": f"It must be at least this wide: {wide}; and this high: {high}. Try every sheet in "
        "stock both ways; of those that are large enough, take the one with the least area. On a larger "
        "one paper is wasted, on a smaller one the print would have to shrink.",
        "sheet-turned": f"The picture is {lies}, and this sheet holds it only if it lies that way too."
        " Turn the blank sheet, never the picture.",
        "picture-size": "At 100 % the print has the width the task names, whatever the sheet. Where it does "
        "not fit, the sheet is wrong, not the print.",
        "picture-shape": "Only the width is set; the height follows from the pixels.",
        "border": "In the centre what is spare is halved: left and right are alike, above and below are "
        "alike.",
        "resolution-label": "The width in inches comes of pixels and label together: a wrong label prints "
        "another size at 100 %.",
    }  # fmt: skip
