"""One checker: of a hand-in at the counter, of an exercise against its brief, of the writer's own file."""

import os
import shlex
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError
from labkit.files.checks.against import border_findings, named_findings, picture_findings
from labkit.files.checks.colour import colour_findings
from labkit.files.checks.findings import Finding, Findings, tell
from labkit.files.checks.form import packing_findings
from labkit.files.checks.hand_in import look_for, look_over, refusal_finding
from labkit.files.checks.naming import name_findings
from labkit.files.checks.place import layout_of, place_findings
from labkit.files.checks.sharpness import sharpness_findings
from labkit.files.checks.size import compare_size, find_size
from labkit.files.child.guarded import Child, resident_child
from labkit.files.header.picture import Picture
from labkit.files.look.look import Seen
from labkit.files.writing.name import read_name
from labkit.files.writing.printfile import SOFTWARE
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length, size_text
from labkit.geometry.paper import Sheet, sheet_of
from labkit.geometry.proportion import Part
from labkit.geometry.raster import ppi_that_fits
from labkit.geometry.resolution import floor_for, ppi_text
from labkit.room.rules import Room

if TYPE_CHECKING:
    from labkit.files.writing.tiff import Written


def check(
    file: Path | str,
    *,
    room: Room,
    thumbnail: bool = False,
    closer: bool = False,
    child: Child | None = None,
) -> Findings:
    """Look a hand-in over: can it be opened, will it change on the way, size, place, sharpness, colour,
    packing, name.

    ``thumbnail`` keeps a small picture of it, ``closer`` a part of it as it is; ``child`` is a guarded
    child to do the looking in, the one that stays if None. What is wrong is told, never raised.
    """
    path = Path(file)
    child = child or resident_child()
    got = look_over(path, room, child, thumbnail=thumbnail, closer=closer)
    if got.refusal:
        return Findings(path, (got.refusal,), facts=got.facts)
    return _hand_in(got.facts, got.seen, room)


def compare(
    file: Path | str,
    against: Layout,
    *,
    room: Room,
    named: str | None = None,
    picture: Path | None = None,
    keep: Part | None = None,
) -> Findings:
    """Check a file ``against`` the layout it should have, within the room's tolerance: size and place,
    each border that is off by how much and which way.

    ``named`` is the name it should have, without its ending; ``picture`` the file that should be on it,
    cropped as in ``against``, or with ``keep`` anywhere that leaves this part of it whole. What is wrong
    is told, never raised.
    """
    path = Path(file)
    crop = None if keep else against.crop
    child = resident_child()
    got = look_for(path, room, child, against=against, picture=picture, crop=crop)
    if got.refusal:
        return Findings(path, (got.refusal,))
    facts, seen, layout = got.facts, got.seen, None
    sized = compare_size(facts, against.sheet, room)
    items = [*packing_findings(facts, None, room), *colour_findings(facts, None, room)]
    items += sized.items
    if sized.sheet is not None and seen.box is None:
        items.append(tell("picture"))
    elif sized.sheet is not None:
        layout = layout_of(seen, sized.sheet, sized.ppi, room)
        items += picture_findings(layout, seen, keep, room)
        unsure = bool(seen.light_edges)
        items += border_findings(layout, against, room, 1 / sized.ppi, unsure)
    if named is not None:
        items += named_findings(path, named, room)
    return Findings(path, tuple(items), layout, facts)


def prove(file: Path, layout: Layout, written: "Written", room: Room) -> Findings:
    """Check the writer's own file: that it says what it should, and that the strips on the disk are the
    ones that were written.

    What a person must decide of a hand-in is here a fault like any other, but for what there is to say
    of a profile, which came with the picture. It has not got its own name yet.
    """
    from labkit.files.checks.read_back import proof_findings
    from labkit.files.header.reading import read_picture

    try:
        facts = read_picture(file)
        sized = compare_size(facts, layout.sheet, room)
        form = *packing_findings(facts, None, room), *colour_findings(facts, None, room)
        form = (_as_fault(item) for item in form if item.code != "ending")
        items = [*form, *sized.items, *proof_findings(file, written)]
        return Findings(file, tuple(items), layout, facts)
    except LabError as refusal:
        return Findings(file, (refusal_finding(refusal, file),))


def _as_fault(item: Finding) -> Finding:
    is_settled = item.grade == "look" and not item.code.startswith("profile")
    return replace(item, grade="stop") if is_settled else item


def _hand_in(facts: Picture, seen: Seen, room: Room) -> Findings:
    """All that is told of a hand-in that could be opened."""
    items = [*packing_findings(facts, seen, room), *colour_findings(facts, seen, room)]
    if seen.lost_rows or seen.hole:
        return Findings(facts.path, (_lost(facts, seen), *items), None, facts, seen)
    items += [tell("damage-signs", sign=doubt) for doubt in seen.doubts]
    is_ours = facts.software == SOFTWARE
    sized = find_size(facts, room)
    sheet, ppi, layout = sized.sheet, sized.ppi, None
    items += _as_ordered(sized.items) if is_ours else sized.items
    if seen.box is None:
        items.append(tell("picture"))
    elif not sized.is_known and _fills(seen, facts):
        sheet = None
        items = [item for item in items if item.code not in _OF_A_SHEET]
        items.append(_alone(facts, room))
    elif sheet is not None:
        layout = layout_of(seen, sheet, ppi, room)
        white = 255 if facts.colours in ("RGB", "grey") else _CONVERTED_WHITE
        items += place_findings(layout, seen, ppi, room, is_ours=is_ours, white=white)
        items += sharpness_findings(layout, seen, ppi, room, is_ours=is_ours)
    is_sound = not seen.doubts and all(item.code in _FORM or item.grade != "stop" for item in items)
    if layout is not None and is_sound and ppi_that_fits(facts.pixels, sheet, room.working_ppi):
        items = [_mended(item, facts, sheet, room) for item in items]
    items += name_findings(facts.path, sheet, room)
    return Findings(facts.path, tuple(items), layout, facts, seen)


_OF_A_SHEET = ("sheet-rounded", "sheet-unstocked", "sheet-too-large")
"""What is not told of a picture alone, which is no sheet yet."""
_CONVERTED_WHITE = 252
"""White in other colours than RGB may come out so much darker, by rounding alone (our own judgement)."""


def _as_ordered(items: tuple[Finding, ...]) -> Iterator[Finding]:
    """What is told of a sheet that ``prepare`` was asked for by its size: none in stock is no question."""
    for item in items:
        yield replace(item, grade="fine") if item.code == "sheet-unstocked" else item


def _fills(seen: Seen, facts: Picture) -> bool:
    return (seen.box.width, seen.box.height) == facts.pixels


_DEFAULTS = (72, 96, 180)
"""What cameras and programs state that know no resolution: 72 by Exif 2.3, the others from memory."""


def _alone(facts: Picture, room: Room) -> Finding:
    """The picture with no sheet round it, how large it would print, and on what.

    A resolution that programs state when they know none says nothing where it is below the floor, so then
    the room's own is told first.
    """
    size = facts.size
    is_default = size and facts.ppi[0] in _DEFAULTS
    is_meant = size and not (is_default and facts.ppi[0] < floor_for(max(size), room.floor).ppi)
    if not is_meant:
        size = tuple(Length(Fraction(side, room.working_ppi)) for side in facts.pixels)
    told = size_text(size, room.units)
    if not is_meant:
        told += f" at {ppi_text(room.working_ppi)}"
        if facts.size:
            stated = size_text(facts.size, room.units)
            told += f" ({stated} by the {ppi_text(facts.ppi[0])} it states, which is too low)"
    printed = sheet_of(*size, unit=room.units)
    sheet, roll = room.sheet_for(printed), room.roll_for(printed)
    width = () if is_meant else ("--width", size[0].inch_text())
    command = _prepare(facts, sheet, room, *width) if sheet else ""
    holds = f"off the {roll.width.both(room.units)} roll" if roll else "none here is as large"
    return tell("alone", size=told, sheet=f"{sheet} or larger" if sheet else holds, command=command)


_FORM = {
    "format", "compression", "bigtiff", "alpha", "turned-flag", "grey",
    "resolution-label", "resolution-missing", "resolution-shape", "resolution-two",
}  # fmt: skip
"""Findings about the form of a finished sheet, mended without moving a pixel."""


def _mended(item: Finding, facts: Picture, sheet: Sheet, room: Room) -> Finding:
    """A finding about the form alone, with the command that mends it."""
    if item.code not in _FORM or item.grade == "fine":
        return item
    return replace(item, command=_prepare(facts, sheet, room, "--whole"))


def _prepare(facts: Picture, sheet: Sheet, room: Room, *more: str) -> str:
    """The command that makes the print file of that sheet; whose it is and what, if its name tells."""
    named = read_name(room.name_pattern, facts.path.stem)
    told = [] if named else ["--owner", "WHOSE", "--title", "WHAT"]
    words = ["labkit", "prepare", str(facts.path), "--sheet", sheet.size, *more]
    return _as_typed([*words, *told])


def _as_typed(words: list[str]) -> str:
    """A command line with such quotes as this system's terminal takes."""
    if os.name == "nt":
        from subprocess import list2cmdline

        return list2cmdline(words)
    return shlex.join(words)


def _lost(facts: Picture, seen: Seen) -> Finding:
    if seen.lost_rows:
        share = seen.lost_rows / facts.stored[1]
        return tell("damaged", refusal=f"the last {share:.0%} of the picture did not arrive")
    first, count = seen.hole
    lost = f"{count} rows of pixels from row {first + 1} on are nothing but black and were lost"
    return tell("damaged", refusal=lost)
