"""What the lesson on aspect ratio asks: a print for a frame, cropped so that one part of it stays seen."""

from collections.abc import Sequence
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.holding import sight_size
from labkit.geometry.layout import PLACES, Layout, lay_out
from labkit.geometry.length import Length, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import HALF, Crop, Part, fill
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for
from labkit.teaching.margins import AT

FRAMES = ("4x6in", "5x7in", "6x8in", "8x10in", "10x12in", "11x14in")
"""What frames hold, by the size they are sold by: common practice, no source."""
_LIP_STEP, _LIPS = length("1/16in"), range(3, 7)
_LEAST_BORDER = length("1/2in")
_PLAY = Fraction(1, 25)
"""How far the crop can be moved at least, as a part of the picture, so that nobody has to be exact."""
_TRIES = 2000

_LIPS_TOO = (
    "The lip hides the print's edge all round: the print is the sight size and two lips more, both "
    "across and down."
)
_HINTS = {
    "picture-size": _LIPS_TOO,
    "picture-shape": f"{_LIPS_TOO} Crop the picture to the shape that makes.",
    "picture-stretched": "A moon or a clock gives it away. What is too long is cut off, never squeezed.",
    "picture-part": "What is seen is the sight size, not the print: the part asked for has to stay clear of "
    "the lip as well.",
    "sheet-turned": "The sheet lies as the task says, whichever way the frame hangs.",
    "border": "The place is reckoned with the whole print, lip and all, not with what is seen.",
}


def aspect_ratio_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: one of ``pictures`` for a frame, on a sheet in stock.

    A crop from the middle never does, and there is room to move the right one. LabError without a
    name, or where no sheet in stock takes such a print.
    """
    chance = chance_for("aspect ratio", reader)
    for _ in range(_TRIES):
        candidate = chance.choice(pictures)
        frame = find_sheet(chance.choice(FRAMES))
        frame = frame.turned() if chance.random() < 0.5 else frame
        lip = _LIP_STEP * chance.choice(_LIPS)
        sheet = chance.choice(room.sheets)
        sheet = sheet.turned() if chance.random() < 0.4 else sheet
        at = chance.choice(PLACES)
        layout = answer(candidate, frame, lip, sheet, at, room)
        if layout is not None:
            break
    else:
        raise LabError(
            f"no sheet in stock at {room.name} takes one of our pictures for a frame: add a larger one "
            "to the room's file."
        )
    demo, lies = candidate[0], "lying on its side" if sheet.is_turned else "upright"
    seen = sight_size((frame.width, frame.height), lip)
    asked = (
        f"Print “{demo.title}” for a frame with a sight size, which is what is seen, of ", seen[0],
        " across by ", seen[1], " down. On each side its lip covers ", lip, " of the print, so the print "
        "has to reach that much further, right under it. Crop the picture to fill it, and leave all of "
        f"{demo.keep.name} to be seen. The sheet is {sheet}, {lies}; the print lies {AT[at]}.",
    )  # fmt: skip
    keep = clear_of_lip(demo.keep, layout, lip)
    return brief_of(reader, candidate, asked, layout, room, _HINTS, keep)


def answer(
    candidate: Candidate, frame: Sheet, lip: Length, sheet: Sheet, at: str, room: Room
) -> Layout | None:
    """The print for ``frame`` with the part to keep as far from the lip as may be; None where it would
    have too few pixels or too little border, or where no crop or just any crop keeps that part."""
    demo, pixels = candidate
    size = frame.width, frame.height
    middle = fill(pixels, *size)
    if pixels[0] * middle.width / size[0].inches < room.working_ppi:
        return None
    placed = {"unprintable": room.unprintable(sheet), "fill": True, "at": at}
    try:
        layout = lay_out(pixels, sheet, width=size[0], height=size[1], **placed)
        keep = clear_of_lip(demo.keep, layout, lip)
        stays = where_it_stays(keep, middle)
        if stays is None or not keep.short(middle):
            return None
        layout = lay_out(pixels, sheet, width=size[0], height=size[1], keep=stays, **placed)
    except LabError:
        return None
    borders = [border for _, border in layout.borders.items()]
    return layout if min(borders) >= _LEAST_BORDER else None


def clear_of_lip(part: Part, layout: Layout, lip: Length) -> Part:
    """``part`` with as much round it as the frame's lip covers: what a crop has to leave whole."""
    size, crop = layout.picture, layout.crop
    return part.grown(lip / size.width * crop.width, lip / size.height * crop.height)


def where_it_stays(keep: Part, crop: Crop) -> tuple[Fraction, Fraction] | None:
    """The point to keep that moves ``crop`` into the middle of where ``keep`` stays whole; None where it
    stays nowhere, or where there is hardly room to move."""
    left, top, right, bottom = keep.box
    across = _middle(left, right, crop.width)
    down = _middle(top, bottom, crop.height)
    return None if across is None or down is None else (across, down)


def _middle(first: Fraction, last: Fraction, share: Fraction) -> Fraction | None:
    """Along one side, of which the crop takes a ``share``."""
    spare = 1 - share
    least, most = max(Fraction(0), last - share), min(spare, first)
    if not spare:
        return HALF if least <= most else None
    return (least + most) / 2 / spare if most - least >= _PLAY else None
