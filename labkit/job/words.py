"""One job from picture to print file and ticket: the words of a notebook, and of the command line.

    picture = open_picture("boat.jpg")
    layout = place(picture, on="13x19in", width="12in", at="optical")
    made = write(picture, layout, owner="Ada Brook", title="Boat")
    check(made.file)

Lengths are text with a unit, or :class:`Length`. ``room`` is an argument everywhere: a room, the path
of a room file, or None for the reader's own.
"""

import re
import sys
from contextlib import nullcontext
from dataclasses import dataclass
from dataclasses import replace as with_
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.child.kept import cached_file
from labkit.files.child.opening import open_picture as read_facts
from labkit.files.header.picture import Picture
from labkit.files.look.address import data_address
from labkit.files.writing.name import file_name
from labkit.files.writing.part import parts_of, publish, taken
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import Layout, lay_out
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.light import tone_step
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.parts import Part
from labkit.geometry.proportion import HALF
from labkit.geometry.raster import Raster, ppi_that_fits, rasterize
from labkit.geometry.resolution import LEAST_PPI, MOST_PPI, floor_for, largest_at_floor, ppi_text
from labkit.home import home, make_folder
from labkit.job.making import Job, Measured, keep_preview, make, unwritable
from labkit.room.drift import drift
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


@dataclass(frozen=True)
class Made:
    """A finished job: the print file, its ticket, what it costs (None where no price is set), and its
    number."""

    printed: PrintFile
    ticket: Path
    price: Decimal | None
    below_floor: bool
    number: str

    @property
    def file(self) -> Path:
        """The print file."""
        return self.printed.file

    @property
    def layout(self) -> Layout:
        """Where the picture sits."""
        return self.printed.layout

    def sentence(self, first: str = "in") -> str:
        """What was made, in words."""
        return self.printed.sentence(first)

    def __str__(self) -> str:
        return self.sentence()

    def lines(self, first: str = "in") -> list[str]:
        """What was made and where it lies, what was done to make it, and what to mind."""
        return [
            f"Made: {self.file.name}, and its ticket {self.ticket.name}.",
            f"Folder: {home().told(self.file.parent)}.",
            self.sentence(first).removeprefix(f"{self.file.name}: "),
            *self.printed.converted,
            *self.printed.warnings,
        ]

    def _repr_pretty_(self, printer, cycle):
        printer.text("\n".join(self.lines()))


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
    lighter: float = 0.0,
    measured: Measured | None = None,
    room: Room | str | Path | None = None,
    child: Guarded | None = None,
) -> Made:
    """Write the print file and its ticket into ``out`` (the reader's own folder if None).

    Pixels beyond the room's working ppi are reduced to it; ``resample`` asks for new pixels at that
    ppi, ``keep_pixels`` for every pixel as it is. Nothing is overwritten unless ``replace``; the
    picture itself is only read. ``lighter``: one tone step in stops at middle grey, darker below 0; black
    and white stay, and the paper round the picture. ``copies``, ``paper``, ``printer``, ``course`` and
    ``due`` (2031-05-12) go on the ticket. ``measured`` is where a finished sheet has its picture, for the
    ticket. ``child`` is a guarded child already started. LabError, with nothing left behind, if it cannot
    be done.
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
        copies=copies, paper=paper, printer=printer, course=course, due=due, lighter=lighter,
        measured=measured,
    )  # fmt: skip
    return make_planned([plan], replace=replace, child=child)[0]


@dataclass(frozen=True)
class Planned:
    """A job that can be made: with its ticket, its price, and whether it falls below the floor."""

    job: Job
    ticket: Path
    price: Decimal | None
    below_floor: bool


def planned(
    picture: Picture,
    layout: Layout,
    raster: Raster,
    rules: Room,
    *,
    owner: str,
    title: str,
    out: str | Path | None = None,
    replace: bool = False,
    copies: int = 1,
    paper: str | None = None,
    printer: str | None = None,
    course: str = "",
    due: str | date = "",
    lighter: float = 0.0,
    measured: Measured | None = None,
    part: Part | None = None,
    whole: Layout | None = None,
) -> Planned:
    """What :func:`write` is to make of a picture that is laid out in pixels; LabError where it cannot.

    ``whole`` is the layout that the floor is asked of: that of the whole picture, where ``part`` is one
    part of it.
    """
    due = day_due(due)
    _refuse_untold_page(picture)
    stem = file_name(rules.name_pattern, owner=owner, title=title, sheet_label=layout.sheet.label)
    _refuse_resolution(raster, layout)
    route = rules.route(layout.sheet, paper, printer)
    price = route.price(copies)
    shortfall = _shortfall(whole or layout, picture, raster, rules)
    folder = make_folder(Path(out).expanduser() if out else home().exports)
    file, ticket = folder / f"{stem}.tif", folder / f"{stem}_ticket.html"
    for target in (file, ticket):
        if target.exists() and target.samefile(picture.path):
            raise LabError(
                f"{target} is the picture itself, which is only read: give another title or folder."
            )
        if target.exists() and not replace:
            raise taken(target)
    reach = ""
    if measured:
        measured = with_(measured[0], unprintable=layout.unprintable), measured[1]
        reach = out_of_reach(measured[0], raster.ppi, rules)
    cut_size = layout.trim.box.size if layout.trim else layout.picture.size
    job = Job(
        picture,
        file,
        layout,
        raster,
        owner=owner.strip(),
        title=title.strip(),
        lighter=tone_step(lighter),
        warnings=tuple(
            filter(None, (shortfall, reach, rules.not_kept(route), drift(route, cut_size, rules)))
        ),
        room=rules,
        order={"copies": copies, "paper": paper, "printer": printer, "course": course, "due": due},
        day=date.today(),
        measured=measured,
        part=part,
    )
    return Planned(job, ticket, price, bool(shortfall))


def make_planned(
    plans: list[Planned], *, replace: bool, child: Guarded | None = None
) -> list[Made]:
    """Make all of them or none: print files and tickets. LabError, with nothing left behind, if it cannot
    be done."""
    targets = [target for plan in plans for target in (plan.job.file, plan.ticket)]
    made = []
    try:
        with parts_of(*targets) as parts:
            for number, plan in enumerate(plans):
                told = _in_child(plan.job, parts[2 * number : 2 * number + 2], child)
                made.append((plan, told))
            publish(list(zip(parts, targets, strict=True)), replace=replace)
    except OSError as error:
        raise unwritable(targets[0].parent, error) from None
    return [
        Made(plan.job.printed(told), plan.ticket, plan.price, plan.below_floor, told["number"])
        for plan, told in made
    ]


def _refuse_resolution(raster: Raster, layout: Layout) -> None:
    """No file states such a resolution in earnest, and so none is read back."""
    if LEAST_PPI <= raster.ppi <= MOST_PPI:
        return
    left, top, right, bottom = raster.source
    told = (
        f"{right - left:.0f} × {bottom - top:.0f} pixels printed {layout.picture.width} wide make "
        f"{ppi_text(raster.ppi)}, and a print file has"
    )
    if raster.ppi < LEAST_PPI:
        raise LabError(
            f"{told} at least {LEAST_PPI}: take a larger picture, or make the print smaller."
        )
    raise LabError(f"{told} at most {MOST_PPI}: make the print larger, or ask for fewer pixels.")


def _refuse_untold_page(picture: Picture) -> None:
    if picture.pages > 1 and not picture.page:
        parts = "frames" if picture.animated else "pages"
        raise LabError(
            f"has {picture.pages} {parts}, and a print is made of one: say which, from 1 to "
            f"{picture.pages} (page=1 in open_picture, --page 1 on the command line).",
            about=picture.path.name,
        )


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


def _in_child(job: Job, parts: list[Path], child: Guarded | None) -> dict:
    limits = job.room.limits
    with nullcontext(child) if child else Guarded("labkit.job.making") as running:
        return running.run(
            make,
            job,
            *parts,
            seconds=limits.seconds,
            memory_mb=limits.memory_mb,
            about=job.picture.path.name,
        )


def _shortfall(layout: Layout, picture: Picture, raster: Raster, room: Room) -> str:
    """The warning that a print falls below the room's floor, with the largest that would not; or ""."""
    size, crop = layout.picture, layout.crop
    if not room.is_below_floor(raster.own_ppi, max(size.size)):
        return ""
    row = floor_for(max(size.size), room.floor)
    longest = max(picture.pixels[0] * crop.width, picture.pixels[1] * crop.height)
    most = largest_at_floor(longest, room.floor, at_most=max(size.size))
    scale = most / max(size.size)
    wide, high = (side * scale for side in size.size)
    return (
        f"At {size.width.both(room.units)} wide the picture has {ppi_text(raster.own_ppi)}; at that size "
        f"this room asks for {row.ppi} ppi, seen from {row.distance.both(room.units)}. "
        f"It has enough up to {wide.both(room.units)} by {high.both(room.units)}."
    )


def out_of_reach(layout: Layout, ppi: Fraction, room: Room) -> str:
    """The warning that the printer chosen does not reach all of the picture; or ""."""
    pixel, needed = Length(1 / ppi), dict(layout.unprintable.items())
    short = [side for side, border in layout.borders.items() if border + pixel < needed[side]]
    if layout.trim or not short:
        return ""
    edges = ", ".join(f"{side} {needed[side].both(room.units)}" for side in short)
    return f"The printer does not reach all of the picture on this path (it leaves: {edges})."


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


def day_due(due: str | date) -> str:
    """A date as it stands on the ticket; "" for none."""
    if isinstance(due, date):
        return f"{due:%Y-%m-%d}"
    text = str(due or "").strip()
    try:
        if text and not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError
        return text and date.fromisoformat(text).isoformat()
    except ValueError:
        raise LabError(
            f"the day it is due, “{text}”, is no date: write year, month and day like 2031-05-12."
        ) from None


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
