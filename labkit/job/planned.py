"""A job that can be made: what goes on its ticket and into its file, and the making in the child."""

import re
from contextlib import nullcontext
from dataclasses import dataclass
from dataclasses import replace as with_
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.header.picture import Picture
from labkit.files.writing.name import file_name
from labkit.files.writing.part import parts_of, publish, taken
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length
from labkit.geometry.light import ToneStep, tone_step
from labkit.geometry.parts import Part
from labkit.geometry.raster import Raster
from labkit.geometry.resolution import LEAST_PPI, MOST_PPI, floor_for, largest_at_floor, ppi_text
from labkit.home import home, make_folder
from labkit.job.making import Job, Measured, make, unwritable
from labkit.room.drift import drift
from labkit.room.rules import Room


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
    lighter: float | None = None,
    by: str | None = None,
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
            raise taken(target, titled=True)
    reach = ""
    if measured:
        measured = with_(measured[0], unprintable=layout.unprintable), measured[1]
        reach = out_of_reach(measured[0], raster.ppi, rules)
    piece = layout.trim.box if layout.trim else layout.picture
    stock = rules.not_kept(route), route.more_than_left(copies)
    job = Job(
        picture,
        file,
        layout,
        raster,
        owner=owner.strip(),
        title=title.strip(),
        lighter=step_asked(lighter, by),
        warnings=tuple(filter(None, (shortfall, reach, *stock, drift(route, piece, rules)))),
        room=rules,
        order={"copies": copies, "paper": paper, "printer": printer, "course": course, "due": due},
        day=date.today(),
        measured=measured,
        part=part,
    )
    return Planned(job, ticket, price, bool(shortfall))


def step_asked(lighter: float | None, by: str | None) -> ToneStep | None:
    """The tone step asked for; LabError for a unit without one."""
    if lighter is not None:
        return tone_step(lighter, by or "stops")
    if by is not None:
        raise LabError(
            f"{by} is what a tone step is told in, and no step is asked for: say how much lighter "
            "(lighter=4, --lighter 4), or leave the unit out (by=…, --by)."
        )
    return None


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
