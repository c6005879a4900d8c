"""What the lesson on sheet sizes asks: a print of a given size on the smallest sheet that holds it."""

from collections.abc import Sequence

from labkit.errors import LabError
from labkit.geometry.layout import lay_out
from labkit.geometry.length import length
from labkit.geometry.proportion import by_width
from labkit.geometry.resolution import ppi_at
from labkit.geometry.stock import smallest
from labkit.room import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for

_STEP, _LEAST_WIDTH, _MOST_WIDTH = length("1/4in"), length("5in"), length("17in")
_BORDERS = tuple(length(size) for size in ("1/2in", "3/4in", "1in", "1 1/4in"))
_TRIES = 1000

_HINTS = {
    "sheet-size": "Lay the print on every sheet in stock, upright and on its side, add the borders, and "
    "take the one with the least paper left over.",
    "sheet-turned": "The sheet lies the way the print does.",
    "picture-size": "At 100 % the print has the width the task names, whatever the sheet.",
    "border": "In the centre, what is spare is halved: left and right alike, above and below alike.",
}


def sheet_sizes_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: size and least border are given, the sheet and its turn are to be found.

    LabError without a name, or where no sheet in stock holds a print of 5 in with its borders.
    """
    chance = chance_for("sheet sizes", reader)
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        pixels = candidate[1]
        width = _STEP * chance.randint(int(_LEAST_WIDTH / _STEP), int(_MOST_WIDTH / _STEP))
        border = chance.choice(_BORDERS)
        size = by_width(pixels, width)
        sheet = smallest(size, room.sheets, room.unprintable, border)
        lies_alike = sheet is not None and sheet.is_turned == (size[0] > size[1])
        if lies_alike and ppi_at(pixels[0], width) >= room.working_ppi:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} holds a print of {_LEAST_WIDTH} with borders of "
            f"{_BORDERS[0]}: add a larger one to the room's file."
        )
    layout = lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width)
    title = candidate[0].title
    asked = (
        f"Print “{title}” at 100 %, ",
        width,
        " wide, in the centre of the smallest sheet in stock that leaves a border of at least ",
        border,
        " on every side. The sheet lies the way the print does.",
    )
    return brief_of(reader, candidate, asked, layout, room, _HINTS)
