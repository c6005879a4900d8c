"""What the lesson on resolution asks: the largest print at the floor, on the smallest sheet for it."""

from collections.abc import Iterator, Sequence
from math import floor

from labkit.errors import LabError
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import by_width
from labkit.geometry.resolution import FloorRow, floor_for, ppi_at
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for

STEP = length("1/4in")
"""Widths are asked for in whole steps of this."""
_BORDER_STEP = length("1/8in")
_BORDERS, _LEAST = range(4, 13), range(2, 7)
"""Left and top border, and what the other two must have at least, in eighths of an inch."""
_TRIES = 1000

_HINTS = {
    "picture-size": "The largest print: the pixels along the long side divided by the floor's ppi, then "
    "the width rounded down to a whole quarter inch.",
    "picture-shape": "Only the width is set; the height follows from the pixels.",
    "sheet-size": "The smallest sheet: add left border, width and least right border; then the same "
    "downwards; take the smallest in stock that is at least so large both ways.",
    "sheet-turned": "The sheet lies the picture's way: a picture that is wider than high lies on a "
    "sheet that is wider than high.",
    "resolution-label": "The label tells the printer how large the pixels are, and this one tells it "
    "wrong.",
    "resolution-missing": "A file without the label has pixels, and no inches.",
    "border": "Left and top are given exactly; what is over goes to the right and below.",
}


def resolution_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``, with one of ``pictures`` on a sheet in stock.

    LabError without a name, or where no sheet in stock holds the largest print of a picture.
    """
    chance = chance_for("resolution", reader)
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        left, top = (_BORDER_STEP * chance.choice(_BORDERS) for _ in range(2))
        right, bottom = (_BORDER_STEP * chance.choice(_LEAST) for _ in range(2))
        layout = answer(candidate[1], room, (left, top), (right, bottom))
        if layout is not None:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} holds the largest print of any of our pictures: add a "
            "larger one to the room's file."
        )
    asked = (
        f"Print “{candidate[0].title}” as large as this room's floor lets it be, its width in whole "
        "quarter inches, on the smallest sheet in stock that holds it. The sheet lies the picture's "
        "way. Left border ", left, ", top border ", top, "; on the right at least ", right,
        ", below at least ", bottom, ".",
    )  # fmt: skip
    return brief_of(reader, candidate, asked, layout, room, _HINTS, finds_sheet=True)


def answer(
    pixels: tuple[int, int],
    room: Room,
    corner: tuple[Length, Length],
    least: tuple[Length, Length],
) -> Layout | None:
    """The largest print at the floor, its left and top at ``corner``, on the smallest sheet in stock
    that leaves at least ``least`` on the right and below; None where none does."""
    longest = max(max(sheet.width, sheet.height) for sheet in room.sheets)
    width = largest_width(pixels, room.floor, longest)
    if width <= ZERO:
        return None
    needed = [
        before + side + after
        for before, side, after in zip(corner, by_width(pixels, width), least, strict=True)
    ]
    for sheet in _smallest_first(room, lying=pixels[0] > pixels[1]):
        if sheet.width < needed[0] or sheet.height < needed[1]:
            continue
        edges = room.unprintable(sheet)
        try:
            return lay_out(
                pixels, sheet, unprintable=edges, width=width, left=corner[0], top=corner[1]
            )
        except LabError:  # this printer does not reach so near to the edge
            return None
    return None


def largest_width(pixels: tuple[int, int], table: tuple[FloorRow, ...], at_most: Length) -> Length:
    """The largest width in whole steps at which a print is at the floor and no longer than ``at_most``;
    none where not even one step is."""
    steps = floor(at_most * min(1, pixels[0] / max(pixels)) / STEP)
    for count in range(steps, 0, -1):
        size = by_width(pixels, STEP * count)
        if max(size) <= at_most and ppi_at(pixels[0], size[0]) >= floor_for(max(size), table).ppi:
            return size[0]
    return ZERO


def _smallest_first(room: Room, *, lying: bool) -> Iterator[Sheet]:
    for sheet in sorted(room.sheets, key=lambda each: each.width.inches * each.height.inches):
        yield sheet.turned() if lying != sheet.is_turned else sheet
