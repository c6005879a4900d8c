"""What the lesson on margins asks: a picture of a given width at a given place on a given sheet."""

from collections.abc import Sequence

from labkit.errors import LabError
from labkit.geometry.layout import PLACES, lay_out
from labkit.geometry.length import length
from labkit.geometry.resolution import ppi_at
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for

AT = {
    "centre": "in the centre of the sheet",
    "optical": "at the optical centre (two parts of the white above the picture, three below)",
    "even-three": "with equal borders on the left, on the right and above, and the rest below",
}
"""The places in words."""
BEGIN_WIDTH, BEGIN_AT = length("4in"), "centre"
"""Where the exercise's figure begins, on the first sheet in stock, upright: no task is one step away."""
_STEP = length("1/4in")
_LEAST_WIDTH, _LEAST_BORDER = BEGIN_WIDTH, length("1/2in")
_TRIES = 1000
_HINTS = {
    "picture-size": "Only the width is asked for; the height follows from the pixels.",
    "sheet-turned": "Your task says which way the sheet lies. Turn the blank sheet, never the picture.",
    "border": "Work out the white first: the sheet less the picture, across and down. The place says how it "
    "is shared.",
}


def margins_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``, with one of ``pictures`` on a sheet in stock.

    LabError without a name, or where no sheet in stock takes a print of 4 in with borders.
    """
    chance = chance_for("margins", reader)
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        pixels = candidate[1]
        sheet = chance.choice(room.sheets)
        sheet = sheet.turned() if chance.random() < 0.4 else sheet
        at = chance.choice(PLACES)
        least, most = int(_LEAST_WIDTH / _STEP), int(sheet.width / _STEP)
        width = _STEP * chance.randint(least, max(least, most))
        if ppi_at(pixels[0], width) < room.working_ppi:
            continue
        if sum((sheet != room.sheets[0], at != BEGIN_AT, width != BEGIN_WIDTH)) < 2:
            continue
        try:
            layout = lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width, at=at)
        except LabError:
            continue
        if min(border for _, border in layout.borders.items()) >= _LEAST_BORDER:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} takes a print of {_LEAST_WIDTH} with borders of "
            f"{_LEAST_BORDER}: add a larger one to the room's file."
        )
    lies = "lying on its side" if sheet.is_turned else "upright"
    title = candidate[0].title
    asked = (f"Print “{title}” ", width, f" wide on a sheet of {sheet}, {lies}, {AT[at]}.")
    return brief_of(reader, candidate, asked, layout, room, _HINTS)
