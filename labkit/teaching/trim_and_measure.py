"""What the lesson on trimming asks: a print file with marks for its cuts, which leave given borders."""

from collections.abc import Sequence
from dataclasses import replace

from labkit.errors import LabError
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import length
from labkit.geometry.raster import Raster, mark_boxes
from labkit.geometry.resolution import ppi_at
from labkit.geometry.trimplan import plan_of, to_be_cut
from labkit.geometry.weight import EVEN, WEIGHTS
from labkit.room.laying import blade_of
from labkit.room.rules import Room
from labkit.teaching.brief import Brief, Candidate, brief_of, chance_for

BEGIN_WIDTH, BEGIN_BORDER = length("4in"), length("1/2in")
"""Where the exercise's figure begins, on the first sheet in stock, upright, equal all round."""
_STEP = length("1/4in")
_TRIES = 2000
_HINTS = {
    "cut-border": "The borders on the left, on the right and above are alike, as wide as your task says.",
    "cut-border bottom": "Your task says by how much it is wider than the other three.",
    "cut-marks": "They lie in line with the edges of the finished piece, outside it, so that none is left.",
    "border": "The picture lies in the centre of the sheet; what is cut off need not be alike.",
    "picture-size": "Only the width is asked for; the height follows from the pixels.",
    "sheet-turned": "Your task says which way the sheet lies. Turn the blank sheet, never the picture.",
}


def trim_brief(reader: str, pictures: Sequence[Candidate], room: Room) -> Brief:
    """The task for ``reader``: one of ``pictures`` in the centre of a sheet in stock, to be cut to a border.

    LabError without a name, or where no sheet in stock takes a print of 4 in with borders and marks.
    """
    chance = chance_for("trim and measure", reader)
    blade = blade_of(room)
    for _ in range(_TRIES):
        candidate, sheet = chance.choice(pictures), chance.choice(room.sheets)
        pixels = candidate[1]
        sheet = sheet.turned() if pixels[0] > pixels[1] else sheet
        width = _STEP * chance.randint(
            int(BEGIN_WIDTH / _STEP) + 1, max(17, int(sheet.width / _STEP))
        )
        border = _STEP * chance.randint(3, 6)
        name = chance.choice([word for word, weight in WEIGHTS.items() if weight != EVEN])
        if ppi_at(pixels[0], width) < room.working_ppi:
            continue
        try:
            edges = room.unprintable(sheet)
            layout = lay_out(pixels, sheet, unprintable=edges, width=width)
            cut = to_be_cut(layout, border, WEIGHTS[name])
            if len(plan_of(cut, blade).cuts) == 4:
                break
        except LabError:
            continue
    else:
        raise LabError(
            f"no sheet in stock at {room.name} takes a print of {BEGIN_WIDTH} with borders of "
            f"{BEGIN_BORDER} and corner marks: add a larger one to the room's file."
        )
    lies = "lying on its side" if sheet.is_turned else "upright"
    asked = (
        f"Print “{candidate[0].title}” ", width, f" wide in the centre of a sheet of {sheet}, {lies}. It "
        "will be cut to a border of ", border, f" on the left, on the right and above, and {name} below. Put "
        "corner marks where it is cut.",
    )  # fmt: skip
    brief = brief_of(reader, candidate, asked, cut, room, _HINTS)
    return replace(brief, by_hand=marks_by_hand(cut, brief.raster))


def marks_by_hand(layout: Layout, raster: Raster) -> str:
    """Where the corner marks go, in pixels, for any editor."""
    boxes = mark_boxes(layout, raster.ppi)
    level = [box for box in boxes if box.width > box.height]
    upright = [box for box in boxes if box.height >= box.width]
    rows = " and ".join(str(top) for top in sorted({box.top for box in level}))
    columns = " and ".join(str(left) for left in sorted({box.left for box in upright}))
    across = " and ".join(
        f"{left} to {right}" for left, right in sorted({(b.left, b.right) for b in level})
    )
    down = " and ".join(
        f"{top} to {foot}" for top, foot in sorted({(b.top, b.bottom) for b in upright})
    )
    thick = min(boxes[0].width, boxes[0].height)
    return (
        f"For the corner marks fill boxes {thick} pixels thick with black. Level ones: top edge at {rows} "
        f"pixels, each from {across} pixels across. Upright ones: left edge at {columns} pixels, each from "
        f"{down} pixels down."
    )
