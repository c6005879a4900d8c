"""The report of a check: one page of HTML that a technician opens, works from, prints and files."""

import hashlib
from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from labkit.drawing.pages.template import template
from labkit.drawing.pages.ticket import SQUARE_FEET
from labkit.drawing.sheet import draw_sheet
from labkit.files.checks.catalogue import GRADES
from labkit.files.checks.findings import Finding, Findings
from labkit.files.checks.message import message
from labkit.files.folder.tally import Totals
from labkit.files.header.picture import Picture
from labkit.files.look.address import is_address
from labkit.files.writing.name import read_name
from labkit.geometry.layout import Layout
from labkit.geometry.length import size_text
from labkit.geometry.proportion import WHOLE
from labkit.geometry.resolution import ppi_text
from labkit.room.rules import Room

DRAWING_WIDTH = 440
"""Of each sheet's drawing, in units to which its type is 12 and 14 high."""
SMALL_PICTURE = 160, 120
"""The most that a small picture takes, across and down, in CSS pixels."""
_CHUNK = 64
"""Pieces of the template that are given out together."""


def report(checked: Sequence[Findings], room: Room, totals: Totals, date: str) -> str:
    """The report of a check, as one self-contained page of HTML, the gravest files first.

    ``date`` is the day of the check in words. See :func:`report_chunks` for many files.
    """
    return "".join(report_chunks(checked, room, totals, date))


def report_chunks(
    checked: Sequence[Findings], room: Room, totals: Totals, date: str
) -> Iterator[str]:
    """The same page in pieces, each file drawn when its turn comes, to write it without holding it."""
    gravest_first = sorted(checked, key=lambda found: -GRADES.index(found.verdict))
    tell_folders = len({found.file.parent for found in checked}) > 1
    stream = template("report").stream(
        room=room,
        date=date,
        counts={grade: sum(f.verdict == grade for f in checked) for grade in reversed(GRADES)},
        totals=totals,
        blocks=(
            _block(found, number, room, tell_folder=tell_folders)
            for number, found in enumerate(gravest_first, start=1)
        ),
        money=room.money,
        area=_area,
        time=time_text,
        source_hash=_source_hash,
    )
    stream.enable_buffering(_CHUNK)
    yield from stream


@dataclass(frozen=True, slots=True)
class _Block:
    """What the page shows of one file. ``rank`` is its place in order of gravity.

    ``picture`` is the address of its small picture, which is kept once: in the ``drawing``, where there
    is one; ``size`` is what it takes in CSS pixels. ``area`` is its sheet's in whole square millimetres.
    """

    ident: str
    found: Findings
    folder: str
    owner: str
    facts: list[tuple[str, str]]
    drawing: Markup
    picture: str
    size: tuple[int, int]
    rank: int
    area: str
    notes: list[Finding]
    commands: dict[str, list[str]]
    message: list[str]


def _block(found: Findings, number: int, room: Room, *, tell_folder: bool) -> _Block:
    ident = f"f{number}"
    picture = found.seen.thumbnail if found.seen else ""
    if not is_address(picture):
        picture = ""
    return _Block(
        ident=ident,
        found=found,
        folder=str(found.file.parent) if tell_folder else "",
        owner=(read_name(room.name_pattern, found.file.stem) or {"owner": ""})["owner"],
        facts=_facts(found.facts, found.layout, room),
        drawing=_drawing(found.layout, picture, ident, room) if found.layout else Markup(),
        picture=picture,
        size=_small(found.facts.pixels) if found.facts else SMALL_PICTURE,
        rank=number,
        area=_area_key(found.layout),
        notes=[item for item in found.items if item.grade == "fine"],
        commands=_commands(found),
        message=message(found, room),
    )


def _facts(picture: Picture | None, layout: Layout | None, room: Room) -> list[tuple[str, str]]:
    """What the file is: a word for each fact, and the fact."""
    if picture is None:
        return []
    packed = f", packed as {picture.packing}" if picture.packing else ""
    told = [
        ("Pixels", "{} × {}".format(*picture.pixels)),
        ("Resolution", _resolution(picture)),
        ("Sheet", str(layout.sheet) if layout else "not known"),
    ]
    if layout:
        told.append(("Picture", size_text(layout.picture.size, room.units)))
    told += [
        ("Profile", picture.profile_name or ("damaged" if picture.profile_fault else "none")),
        ("Colour", f"{picture.colours}, {picture.depth} bits a channel"),
        ("Form", f"{picture.kind}{packed}"),
    ]
    if layout:
        told.append(("Borders", layout.borders.text(room.units)))
    return told


def _resolution(picture: Picture) -> str:
    if picture.ppi is None:
        return "not stated"
    across, down = map(ppi_text, picture.ppi)
    return across if across == down else f"{across} across, {down} down"


def _drawing(layout: Layout, picture: str, ident: str, room: Room) -> Markup:
    """The sheet to scale, with the small picture of it."""
    drawing = draw_sheet(
        replace(layout, crop=WHOLE),  # what was cropped before is not in the file
        units=room.units,
        href=picture or None,
        shows_sheet=True,
        prefix=ident,
        scale_width=DRAWING_WIDTH,
        guides=False,
    )
    return Markup(drawing)  # escaped there


def _small(pixels: tuple[int, int]) -> tuple[int, int]:
    """The size at which a picture is shown small.

    >>> _small((3900, 5700)), _small((9000, 30))
    ((82, 120), (160, 1))
    """
    scale = min(most / side for most, side in zip(SMALL_PICTURE, pixels, strict=True))
    return tuple(max(1, round(side * scale)) for side in pixels)


def _area_key(layout: Layout | None) -> str:
    return f"{float(layout.sheet.width.mm * layout.sheet.height.mm):.0f}" if layout else ""


def _commands(found: Findings) -> dict[str, list[str]]:
    """Each command that mends something, and the codes of what it mends."""
    mends: dict[str, list[str]] = {}
    for item in found.faults:
        if item.command and item.code not in mends.setdefault(item.command, []):
            mends[item.command].append(item.code)
    return mends


def _area(square_metres: float) -> tuple[str, str]:
    return f"{square_metres:.2f} m²", f"{square_metres * float(SQUARE_FEET):.1f} sq ft"


def time_text(minutes: float) -> str:
    """Machine time to the minute.

    >>> time_text(0.4), time_text(59.6), time_text(125)
    ('under 1 min', '1 h 00 min', '2 h 05 min')
    """
    hours, rest = divmod(round(minutes), 60)
    if hours:
        return f"{hours} h {rest:02d} min"
    return f"{rest} min" if rest or not minutes else "under 1 min"


def _source_hash(script: Markup) -> str:
    """By which the page's own policy lets its one script run, and no other: CSP Level 3, §6.7.3."""
    return f"sha256-{b64encode(hashlib.sha256(script.encode()).digest()).decode()}"
