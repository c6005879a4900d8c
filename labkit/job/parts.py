"""One picture printed in several parts that line up: a print file and a ticket for each, all or none."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.header.picture import Picture
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout, lay_out, sized
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import Sheet, find_sheet, sheet_of
from labkit.geometry.parts import Part, Split
from labkit.geometry.proportion import HALF, Crop
from labkit.geometry.raster import part_of, rasterize
from labkit.job.planned import Made, make_planned, planned
from labkit.room.laying import medium_on_roll
from labkit.room.rules import Room

_QUARTER, _METRIC = length("1/4in"), length("5mm")
"""In what steps a length of roll is taken for a part."""


@dataclass(frozen=True, slots=True)
class InParts:
    """How a picture is divided: columns, rows, and the gap or the overlap between parts.

    Each part lies on a ``sheet`` as it is given, or on a length of the ``roll`` of that width.
    """

    columns: int
    rows: int
    gap: Length = ZERO
    overlap: Length = ZERO
    sheet: str | Sheet | None = None
    roll: Length | None = None


def write_parts(
    picture: Picture,
    asked: InParts,
    room: Room,
    *,
    owner: str,
    title: str,
    width: Length | None = None,
    height: Length | None = None,
    fill: bool = False,
    keep: tuple = (HALF, HALF),
    at: str = "centre",
    turn: bool = False,
    resample: int | None = None,
    keep_pixels: bool = False,
    replace_them: bool = False,
    child: Guarded | None = None,
    **order,
) -> list[Made]:
    """Write a print file and a ticket for each part of a picture, in order.

    The size is that of the whole picture on the wall, gaps counted. Laid edge to edge, less what overlaps,
    the parts hold the pixels of the whole at that resolution, each as it is there. ``order`` is what
    :func:`~labkit.job.planned.planned` takes besides. LabError, with nothing left behind, if it cannot be
    done.
    """
    stated = {"stated": picture.size, "width": width, "height": height, "fill": fill, "keep": keep}
    size, crop = sized(picture.pixels, **stated)
    split = Split(size, asked.columns, asked.rows, asked.gap, asked.overlap)
    whole = Layout(sheet_of(*size), Box(ZERO, ZERO, *size), crop)
    raster = rasterize(
        whole, picture.pixels, working_ppi=room.working_ppi, resample=resample,
        keep_pixels=keep_pixels,
    )  # fmt: skip
    if min(split.part_size) < Length(1 / raster.ppi):
        raise LabError("not one pixel of the picture is left in each part: take fewer parts.")
    plans = [
        planned(
            picture, layout, part_of(raster, part.box, layout.picture, layout.sheet), room,
            owner=owner, title=f"{title}, {part.name}" if title.strip() else "",
            part=part, whole=whole, replace=replace_them, **order,
        )
        for part, layout in _layouts(split, crop, asked, room, at, turn, order)
    ]  # fmt: skip
    return make_planned(plans, replace=replace_them, child=child)


def _layouts(
    split: Split, crop: Crop, asked: InParts, room: Room, at: str, turn: bool, order: dict
) -> Iterator[tuple[Part, Layout]]:
    """Each part on its sheet."""
    paper, printer = order.get("paper"), order.get("printer")
    sheet = _off_roll(split, asked.roll, room, paper) if asked.roll else find_sheet(asked.sheet)
    room.refuse_unstocked(sheet)
    sheet = sheet.turned() if turn else sheet
    edges = room.unprintable(sheet, printer, paper)
    wide, high = split.part_size
    for part in split.parts:
        lies = {"width": wide, "height": high, "fill": True, "at": at, "unprintable": edges}
        layout = lay_out((1, 1), sheet, **lies)
        yield part, replace(layout, crop=_of(crop, part))


def _of(crop: Crop, part: Part) -> Crop:
    """What of the picture a part shows, where ``crop`` of it is divided."""
    (wide, high), box = part.split.size, part.box
    return Crop(
        crop.left + crop.width * (box.left / wide),
        crop.top + crop.height * (box.top / high),
        crop.width * (box.width / wide),
        crop.height * (box.height / high),
    )


def _off_roll(split: Split, width: Length, room: Room, paper: str | None) -> Sheet:
    """The length of a roll that a part takes with the room's border, lying so that it is the shortest."""
    medium, (wide, high) = medium_on_roll(room, width, paper), split.part_size
    edges = medium.edges
    usable = width - edges.left - edges.right
    border = max(room.border, edges.top, edges.bottom)
    lying = [(high, False)] if wide <= usable else []
    if high <= usable and medium.turn:
        lying.append((wide, True))
    if not lying:
        raise LabError(
            f"a part is {wide.both(room.units)} wide and {high.both(room.units)} high, and of {medium.name} "
            f"{usable.both(room.units)} can be printed: take more parts, or a wider roll."
        )
    along, is_turned = min(lying)
    step = _METRIC if room.units == "mm" else _QUARTER
    upright = sheet_of(width, step * ceil((along + border * 2) / step), unit=room.units)
    return upright.turned() if is_turned else upright
