"""A ticket for a finished file, whoever made it, from what a check measured of it."""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.checks.check import check
from labkit.files.checks.findings import Findings
from labkit.files.checks.name_parts import read_file_name
from labkit.files.checks.place import layout_of
from labkit.files.child.guarded import Child
from labkit.files.gang.statement import PRINTS
from labkit.files.writing.part import parts_of, publish, taken
from labkit.files.writing.printfile import PrintFile
from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet
from labkit.geometry.raster import Raster
from labkit.home import make_folder
from labkit.job.cutting import cut_to
from labkit.job.making import Measured, unwritable
from labkit.job.number import job_number
from labkit.job.planned import day_due, out_of_reach
from labkit.room.drift import drift
from labkit.room.route import Route
from labkit.room.rules import Room


@dataclass(frozen=True)
class Ticketed:
    """A ticket that was written: of which file, how its prints go, how many, and the job's number."""

    ticket: Path
    printed: PrintFile
    route: Route
    copies: int
    number: str


def write_ticket(
    file: Path,
    *,
    room: Room,
    day: date,
    copies: int = 1,
    paper: str | None = None,
    printer: str | None = None,
    course: str = "",
    due: str = "",
    border: str | None = None,
    below: str | None = None,
    out: Path | None = None,
    replace_it: bool = False,
    number: str | None = None,
    page: int | None = None,
    child: Child | None = None,
) -> Ticketed:
    """Measure a finished file, and write its ticket beside it, or into ``out``.

    ``border`` and ``below`` ask for the cuts that leave such white borders, as :func:`cut_to` has them.
    ``number`` is that of a job printed before (None: a new one), ``page`` the one that is meant of
    several. The file itself is only read. LabError
    for one that cannot be printed as it is, with the reasons.
    """
    from labkit.drawing.pages.ticket import Order, ticket

    room.paper(paper), room.printer(printer)
    day_text = day_due(due)
    target = (make_folder(out) if out else file.parent) / f"{file.stem}_ticket.html"
    if target.exists() and not replace_it:
        raise taken(target)
    found = check(file, room=room, thumbnail=True, page=page, child=child)
    _refuse(found)
    route = room.route(found.layout.sheet, paper, printer)
    printed = as_printed(found, route, room)
    pixel = Length(1 / _ppi(found))
    cut = cut_to(printed.layout, border, below, room, marked=False, within=pixel)
    short = filter(None, [route.more_than_left(copies)])
    printed = replace(printed, layout=cut, warnings=(*printed.warnings, *short))
    number = number or job_number(file, day)
    order = Order(copies, paper, printer, course, day_text, number)
    told = ticket(printed, room, order, found.seen.thumbnail or None, shows_sheet=True)
    try:
        with parts_of(target) as [part]:
            part.write_text(told, encoding="utf-8", errors="backslashreplace")
            publish([(part, target)], replace=replace_it)
    except OSError as error:
        raise unwritable(target.parent, error) from None
    return Ticketed(target, printed, route, copies, number)


def as_printed(found: Findings, route: Route, room: Room) -> PrintFile:
    """The record of a file that was checked, as a ticket shows it."""
    facts, seen = found.facts, found.seen
    layout = replace(found.layout, unprintable=route.unprintable)
    named = read_file_name(found.file, room) or {}
    ppi = _ppi(found)
    box = seen.box
    source = box.left, box.top, box.right, box.bottom
    pages = (
        [f"This is page {facts.page} of {facts.pages}: print that one."] if facts.pages > 1 else []
    )
    asked = [item.sentence() for item in found.faults]
    doubts = route_doubts(found, route, room)
    return PrintFile(
        found.file,
        layout,
        Raster(ppi, ppi, facts.pixels, box, source, resampled=False),
        owner=named.get("owner", ""),
        title=named.get("title", "") or found.file.stem,
        profile=facts.profile_name or "no profile",
        depth=facts.depth,
        bytes=found.file.stat().st_size,
        converted=seen.toned,
        warnings=(*pages, *asked, *doubts),
        prints=seen.prints if seen.kind == PRINTS else 1,
    )


def route_doubts(found: Findings, route: Route, room: Room) -> list[str]:
    """What is to be asked of a finished sheet because of the way its print goes, in sentences."""
    layout = replace(found.layout, unprintable=route.unprintable)
    told = (
        out_of_reach(layout, _ppi(found), room),
        room.not_kept(route),
        drift(route, layout.picture, room),
    )
    return list(filter(None, told))


def _ppi(found: Findings) -> Fraction:
    facts = found.facts
    return facts.ppi[0] if facts.ppi else facts.pixels[0] / found.layout.sheet.width.inches


def measured_on(found: Findings, sheet: Sheet, ppi: Fraction, room: Room) -> Measured | None:
    """Where a finished sheet has its picture, by a check of it; None where that could not be seen."""
    if found.seen is None or found.seen.box is None:
        return None
    return layout_of(found.seen, sheet, ppi, room), found.seen.box


def _refuse(found: Findings) -> None:
    """LabError where a file is not to be printed as it is, or is no sheet."""
    stops = [item for item in found.items if item.grade == "stop"]
    if found.facts and found.facts.pages > 1 and not found.facts.page:
        parts = "frames" if found.facts.animated else "pages"
        raise LabError(
            f"has {found.facts.pages} {parts}, and a print is made of one: say which with --page N, from 1 "
            f"to {found.facts.pages}; or make a file of that one with `labkit prepare … --whole --page N`.",
            about=found.file.name,
        )
    if stops:
        told = " ".join(item.sentence() for item in stops)
        raise LabError(f"{found.file.name} cannot be printed as it is. {told}")
    if found.layout is None:
        told = " ".join(item.sentence() for item in found.faults)
        raise LabError(f"{found.file.name} is no finished sheet, so it has no ticket. {told}")
