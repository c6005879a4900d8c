"""One checker: of a hand-in at the counter, of an exercise against its brief, of the writer's own file."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError
from labkit.files.checks.against import (
    border_findings,
    cut_findings,
    named_findings,
    picture_findings,
)
from labkit.files.checks.colour import colour_findings
from labkit.files.checks.findings import Finding, Findings, tell
from labkit.files.checks.form import packing_findings
from labkit.files.checks.hand_in import look_for, look_over, refusal_finding
from labkit.files.checks.naming import name_findings
from labkit.files.checks.offer import with_commands, without_sheet
from labkit.files.checks.place import layout_of, place_findings, shared_findings
from labkit.files.checks.sharpness import sharpness_findings
from labkit.files.checks.size import compare_size, find_size
from labkit.files.child.guarded import Child, resident_child
from labkit.files.header.picture import Picture
from labkit.files.look.look import Seen
from labkit.files.writing.printfile import SOFTWARE
from labkit.geometry.layout import Layout
from labkit.geometry.proportion import Part
from labkit.room.rules import Room

if TYPE_CHECKING:
    from labkit.files.writing.tiff import Written


def check(
    file: Path | str,
    *,
    room: Room,
    thumbnail: bool = False,
    closer: bool = False,
    page: int | None = None,
    child: Child | None = None,
) -> Findings:
    """Look a hand-in over: can it be opened, will it change on the way, size, place, sharpness, colour,
    packing, name.

    ``thumbnail`` keeps a small picture of it, ``closer`` a part of it as it is; ``page`` is the one that
    is meant of several. ``child`` is a guarded
    child to do the looking in, the one that stays if None. What is wrong is told, never raised.
    """
    path = Path(file)
    child = child or resident_child()
    got = look_over(path, room, child, thumbnail=thumbnail, closer=closer, page=page)
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
    steps: tuple[float, ...] = (),
) -> Findings:
    """Check a file ``against`` the layout it should have, within the room's tolerance: size and place,
    each border that is off by how much and which way.

    ``named`` is the name it should have, without its ending; ``picture`` the file that should be on it,
    cropped as in ``against``, or with ``keep`` anywhere that leaves this part of it whole, and lighter or
    darker by none or any of ``steps``, in stops. What is wrong is told, never raised.
    """
    path = Path(file)
    crop = None if keep else against.crop
    child = resident_child()
    got = look_for(path, room, child, against=against, picture=picture, crop=crop, steps=steps)
    if got.refusal:
        return Findings(path, (got.refusal,))
    facts, seen, layout = got.facts, got.seen, None
    sized = compare_size(facts, against.sheet, room)
    items = [*packing_findings(facts, None, room), *colour_findings(facts, None, room)]
    items += sized.items
    if sized.sheet is not None and seen.box is None:
        items.append(tell("no-picture"))
    elif sized.sheet is not None:
        layout = layout_of(seen, sized.sheet, sized.ppi, room)
        items += picture_findings(layout, seen, keep, room)
        items += border_findings(layout, against, room, 1 / sized.ppi, seen.light_edges)
        items += cut_findings(layout, against, room, 1 / sized.ppi)
    if named is not None:
        items += named_findings(path, named, room)
    return Findings(path, tuple(items), layout, facts)


def read_back(file: Path, layout: Layout, written: "Written", room: Room) -> Findings:
    """Check the writer's own file: that it says what it should, and that the strips on the disk are the
    ones that were written.

    What a person must decide of a hand-in is here a fault like any other, but for what there is to say
    of a profile, which came with the picture. It has not got its own name yet.
    """
    from labkit.files.checks.read_back import disk_findings
    from labkit.files.header.reading import read_picture

    try:
        facts = read_picture(file)
        sized = compare_size(facts, layout.sheet, room)
        form = *packing_findings(facts, None, room), *colour_findings(facts, None, room)
        form = (_as_fault(item) for item in form if item.code != "wrong-ending")
        items = [*form, *sized.items, *disk_findings(file, written)]
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
    items += [tell("damage-signs", **doubt) for doubt in seen.doubts]
    is_ours = facts.software == SOFTWARE
    sized = find_size(facts, room)
    sheet, ppi, layout = sized.sheet, sized.ppi, None
    items += _as_ordered(sized.items) if is_ours else sized.items
    if seen.box is None:
        items.append(tell("no-picture"))
    elif seen.kind and sheet is not None:
        layout = layout_of(seen, sheet, ppi, room)
        items += shared_findings(layout, seen, ppi, room)
    elif not sized.is_known and _fills(seen, facts):
        sheet = None
        items = [item for item in items if item.code not in _OF_A_SHEET]
        items.append(without_sheet(facts, room))
    elif sheet is not None:
        layout = layout_of(seen, sheet, ppi, room)
        white = 255 if facts.colours in ("RGB", "grey") else _CONVERTED_WHITE
        items += place_findings(layout, seen, ppi, room, is_ours=is_ours, white=white)
        items += sharpness_findings(layout, seen, ppi, room, is_ours=is_ours)
    items += name_findings(facts.path, sheet, room)
    if layout is not None and not seen.doubts:
        items = with_commands(items, facts, sheet, room)
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


def _lost(facts: Picture, seen: Seen) -> Finding:
    if seen.lost_rows:
        share = seen.lost_rows / facts.stored[1]
        return tell("damaged", variant="end-lost", share=f"{share:.0%}")
    first, count = seen.hole
    return tell("damaged", variant="rows-lost", first=first + 1, count=count)
