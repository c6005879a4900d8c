"""One job from picture to print file and ticket: the words of a notebook, and of the command line.

    picture = open_picture("boat.jpg")
    layout = place(picture, on="13x19in", width="12in", at="optical")
    made = write(picture, layout, owner="Ada Brook", title="Boat")
    check(made.file)

Lengths are text with a unit, or :class:`Length`. ``room`` is an argument everywhere: a room, the path
of a room file, or None for the reader's own.
"""

import sys
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.child.kept import cached_file
from labkit.files.child.opening import open_picture as read_facts
from labkit.files.header.picture import Picture
from labkit.files.look.address import data_address
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.proportion import HALF
from labkit.geometry.raster import ppi_that_fits, rasterize
from labkit.home import home
from labkit.job.making import Measured, keep_preview, unwritable
from labkit.job.planned import Made, make_planned, planned
from labkit.room.rules import Room, load_room

if TYPE_CHECKING:
    from labkit.files.checks.findings import Findings


def open_picture(
    file: str | Path,
    *,
    page: int | None = None,
    room: Room | str | Path | None = None,
    child: Guarded | None = None,
) -> Picture:
    """The facts of a picture file, read without decoding it. LabError if it is not one we can use.

    ``page`` takes one of several pages or frames, counted from 1. ``child`` is a guarded child already
    started.
    """
    return read_facts(Path(file).expanduser(), _room(room), page=page, child=child)


def place(
    picture: Picture,
    *,
    on: str | Sheet,
    turn: bool = False,
    width: str | Length | None = None,
    height: str | Length | None = None,
    fit: bool = False,
    fill: bool = False,
    border: str | Length | None = None,
    crop_at: str | tuple | None = None,
    at: str = "centre",
    left: str | Length | None = None,
    top: str | Length | None = None,
    trim: str | None = None,
    bleed: str | Length | None = None,
    paper: str | None = None,
    printer: str | None = None,
    room: Room | str | Path | None = None,
) -> Layout:
    """Lay a picture out on a sheet: how large, where, and what is cut off.

    ``on`` is a sheet's name or size, ``turn`` lays it on its side. Size: ``width``, ``height``,
    ``fit`` or ``fill`` with ``border``, ``fill`` with ``width`` and ``height``, or nothing: the size the
    file states. ``crop_at`` ("X,Y", fractions) says what stays of a picture that is cropped. Place:
    ``at`` ("centre", "optical", "even-three") or ``left`` and ``top``. ``trim`` with ``bleed`` prints to
    the edge of a smaller finished size. ``paper`` and ``printer`` say whose edges are not printed; the
    room's own choice for this size if None. LabError for what cannot be printed so.
    """
    rules = _room(room)
    sheet = _sheet(on, rules, turn=turn)
    if trim is None and bleed is not None:
        raise LabError("bleed is what is cut off a trimmed print: give the trim size as well.")
    if border is not None and not (fit or fill):
        raise LabError("a border is kept by fit and by fill: ask for one of them, or leave it out.")
    if border is not None and fill and (width is not None or height is not None):
        raise LabError(
            "width and height give the box that is filled, and so does a border: leave one of the two out."
        )
    if crop_at is not None and not (fill or trim):
        raise LabError("the point to keep counts where a picture is cropped, by fill or by trim.")
    edges = rules.unprintable(sheet, printer, paper)
    return lay_out(
        picture.pixels,
        sheet,
        unprintable=edges,
        stated=picture.size,
        width=_length(width, "the width"),
        height=_length(height, "the height"),
        fit=fit,
        fill=fill,
        border=_border(rules, edges) if border is None else length(border, "the border"),
        keep=point(crop_at),
        at=at,
        left=_length(left, "the left border"),
        top=_length(top, "the top border"),
        trim=_size(trim),
        bleed=rules.bleed if bleed is None else length(bleed, "the bleed"),
    )


def place_whole(
    picture: Picture,
    *,
    on: str | Sheet | None = None,
    turn: bool = False,
    paper: str | None = None,
    printer: str | None = None,
    room: Room | str | Path | None = None,
) -> tuple[Layout, Fraction]:
    """Lay out a file that is a finished sheet already, so that every pixel stays where it is; and the
    resolution at which it is that sheet, for ``resample`` of :func:`write`.

    Without ``on`` it is the sheet that it states. LabError where its pixels are not exactly that sheet at
    the resolution stated or at a usual one.
    """
    rules = _room(room)
    sheet = _sheet(on or _stated_sheet(picture, rules), rules, turn=turn)
    ppi = ppi_that_fits(picture.pixels, sheet, rules.working_ppi) or _stated_ppi(picture, sheet)
    if ppi is None:
        wide, high = (side.pixels(rules.working_ppi) for side in (sheet.width, sheet.height))
        raise LabError(
            f"{picture.path.name} has {picture.pixels[0]} × {picture.pixels[1]} pixels, and a whole "
            f"{sheet} has {wide} × {high} at {rules.working_ppi} ppi: leave --whole out, and place the "
            "picture on the sheet."
        )
    box = Box(ZERO, ZERO, sheet.width, sheet.height)
    return Layout(sheet, box, unprintable=rules.unprintable(sheet, printer, paper)), Fraction(ppi)


def _stated_sheet(picture: Picture, room: Room) -> Sheet:
    from labkit.files.checks.size import find_size

    sheet = find_size(picture, room).sheet
    if sheet is None:
        raise LabError(
            "does not say which sheet it is: say it (on=…, --sheet).", about=picture.path.name
        )
    return sheet


def _stated_ppi(picture: Picture, sheet: Sheet) -> Fraction | None:
    """The resolution that the file states, where its pixels are exactly that sheet at it."""
    ppi = picture.ppi and picture.ppi[0]
    if ppi and picture.pixels == (sheet.width.pixels(ppi), sheet.height.pixels(ppi)):
        return ppi
    return None


def _border(room: Room, edges: Edges) -> Length:
    """The room's own border, or as much as the printer needs where that is more."""
    return max(room.border, *(edge for _, edge in edges.items()))


def write(
    picture: Picture,
    layout: Layout,
    *,
    owner: str,
    title: str,
    out: str | Path | None = None,
    resample: int | Fraction | None = None,
    keep_pixels: bool = False,
    replace: bool = False,
    copies: int = 1,
    paper: str | None = None,
    printer: str | None = None,
    course: str = "",
    due: str | date = "",
    lighter: float | None = None,
    by: str | None = None,
    measured: Measured | None = None,
    room: Room | str | Path | None = None,
    child: Guarded | None = None,
) -> Made:
    """Write the print file and its ticket into ``out`` (the reader's own folder if None).

    Pixels beyond the room's working ppi are reduced to it; ``resample`` asks for new pixels at that
    ppi, ``keep_pixels`` for every pixel as it is. Nothing is overwritten unless ``replace``; the
    picture itself is only read. ``lighter``: one tone step at middle grey, darker below 0; black and white
    stay, and the paper round the picture. It is told ``by`` "stops" (None) or "lightness" (CIE L*).
    ``copies``, ``paper``, ``printer``, ``course`` and ``due`` (2031-05-12) go on the ticket. ``measured`` is
    where a finished sheet has its picture, for the ticket. ``child`` is a guarded child already started.
    LabError, with nothing left behind, if it cannot be done.
    """
    rules = _room(room)
    raster = rasterize(
        layout,
        picture.pixels,
        working_ppi=rules.working_ppi,
        resample=resample,
        keep_pixels=keep_pixels,
    )
    plan = planned(
        picture, layout, raster, rules, owner=owner, title=title, out=out, replace=replace,
        copies=copies, paper=paper, printer=printer, course=course, due=due, lighter=lighter, by=by,
        measured=measured,
    )  # fmt: skip
    return make_planned([plan], replace=replace, child=child)[0]


def check(
    file: str | Path,
    *,
    against: Layout | None = None,
    named: str | None = None,
    room: Room | str | Path | None = None,
) -> "Findings":
    """Look a hand-in over; or compare it with the layout, and the name, that it should have."""
    from labkit.files.checks.check import check as look_over
    from labkit.files.checks.check import compare

    path = Path(file).expanduser()
    if against is None:
        return look_over(path, room=_room(room))
    return compare(path, against, named=named, room=_room(room))


def preview(picture: Picture, *, room: Room | str | Path | None = None) -> str:
    """The whole picture, small, as a ``data:`` address for a drawing.

    It is decoded in a guarded child, once: the reader's own folder keeps what was made of each file.
    """
    try:
        return data_address(cached_file(picture, _room(room), keep_preview, ".jpg").read_bytes())
    except OSError as error:
        raise unwritable(home().folder, error) from None


def _room(room: Room | str | Path | None) -> Room:
    if isinstance(room, Room):
        return room
    return home().room() if room is None else load_room(Path(room).expanduser())


def _sheet(on: str | Sheet, room: Room, *, turn: bool) -> Sheet:
    """The sheet as it is to lie; LabError where neither a sheet in stock nor a roll gives it."""
    sheet = find_sheet(on)
    room.refuse_unstocked(sheet)
    return sheet.turned() if turn else sheet


def _length(value, what: str) -> Length | None:
    return None if value is None else length(value, what)


def _size(text: str | None) -> tuple[Length, Length] | None:
    if text is None:
        return None
    sheet = find_sheet(text)
    return sheet.width, sheet.height


def point(text: str | tuple | None) -> tuple[Fraction, Fraction]:
    """The point of a picture that stays when it is cropped, as fractions; the middle for None."""
    if text is None:
        return HALF, HALF
    parts = text.split(",") if isinstance(text, str) else text
    try:
        across, down = (Fraction(str(part).strip()) for part in parts)
    except (ValueError, ZeroDivisionError):
        raise LabError(
            f"the point to keep, “{text}”, is two fractions from 0 to 1: 0.5,0.3."
        ) from None
    return across, down


if "IPython" in sys.modules:
    from labkit.drawing.show import show_in_notebook

    show_in_notebook()
