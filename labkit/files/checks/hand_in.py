"""One trip for a hand-in: its path into a guarded child; its facts, and what was seen of it, back."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from labkit.errors import LabError
from labkit.files.checks.document import advice
from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.size import compare_size
from labkit.files.child.guarded import Child
from labkit.files.header.picture import Picture, from_json, to_json
from labkit.files.look.look import Seen, Wanted, look, look_by_rows, seen_from
from labkit.geometry.layout import Layout
from labkit.geometry.proportion import Crop
from labkit.geometry.raster import mark_boxes
from labkit.room.rules import Room


@dataclass(frozen=True, slots=True)
class HandIn:
    """What came back: ``facts`` and what was ``seen``, each None where it could not be had; and, where
    there is one, the ``refusal``, a finding of its own."""

    facts: Picture | None = None
    seen: Seen | None = None
    refusal: Finding | None = None


def look_over(
    path: Path,
    room: Room,
    child: Child,
    *,
    thumbnail: bool = False,
    closer: bool = False,
    page: int | None = None,
) -> HandIn:
    """Have the file opened and all of it looked at in ``child``; what is wrong with it is told, never raised.

    ``thumbnail`` and ``closer`` ask for small pictures of it, ``page`` for one of several.
    """
    return _trip(child, _all_of_it, path, room, thumbnail, closer, page)


def look_for(
    path: Path,
    room: Room,
    child: Child,
    *,
    against: Layout,
    picture: Path | None,
    crop: Crop | None,
    steps: tuple[float, ...] = (),
) -> HandIn:
    """The same for a file that should be as in a layout, with that ``picture``, cropped so or, with None,
    anywhere, and none or any of the tone ``steps`` lighter: only where it sits, and whether it is that
    picture."""
    return _trip(child, _place_of_it, path, room, against, picture, crop, steps)


def _trip(child: Child, in_child: Callable, path: Path, room: Room, *more) -> HandIn:
    heard, told, refused = [], {}, None
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    try:
        told = child.run(in_child, path, room, *more, **limits, about=path.name, hear=heard.append)
    except LabError as refusal:
        refused = refusal_finding(refusal, path)
    if document := told.get("document"):
        refused = tell("document", **document)
    facts = from_json(path, heard[-1]) if heard else None
    seen = seen_from(told["seen"]) if told.get("seen") else None
    return HandIn(facts, seen, refused)


# In the child: first the facts, as soon as they are read, then what the pixels show


def _all_of_it(
    path: Path, room: Room, thumbnail: bool, closer: bool, page: int | None
) -> Iterator[dict]:
    from labkit.files.header.reading import read_picture

    try:
        picture = _read(path, room, page)
    except _IsDocument:
        return {"document": _document(path, room)}
    except LabError as refusal:
        if refusal.code != "too-large":
            raise
        picture = read_picture(path)
        if seen := look_by_rows(picture, thumbnail):
            yield to_json(picture)
            return {"seen": seen}
        raise
    yield to_json(picture)
    return {"seen": look(picture, None, thumbnail, closer)}


def _place_of_it(
    path: Path,
    room: Room,
    against: Layout,
    picture: Path | None,
    crop: Crop | None,
    steps: tuple[float, ...],
) -> Iterator[dict]:
    try:
        handed_in = _read(path, room)
    except _IsDocument:
        return {"document": _document(path, room)}
    yield to_json(handed_in)
    sized = compare_size(handed_in, against.sheet, room)
    if sized.sheet is None:
        return {}
    marks = () if against.keeps_white else tuple(mark_boxes(against, sized.ppi))
    wanted = Wanted(marks, _read(picture, room) if picture else None, crop, steps)
    return {"seen": look(handed_in, wanted)}


class _IsDocument(Exception):
    """It is no picture but a document, of which more can be told."""


def _read(path: Path, room: Room, page: int | None = None) -> Picture:
    from labkit.files.header.reading import read_picture

    try:
        return read_picture(path, max_pixels=room.limits.pixels, page=page)
    except LabError as refusal:
        raise _IsDocument if refusal.code == "document" else refusal from None


def _document(path: Path, room: Room) -> dict[str, str]:
    """Pages, size, trim and bleed of a document, and the pixels to export."""
    from labkit.files.header.pdf import read_document

    try:
        document = read_document(path)
    except LabError as refusal:
        found = str(refusal).removesuffix(".")
        return {"found": found, "remedy": "Export the picture from it as TIFF."}
    return {"found": document.sentence(room.units), "remedy": advice(document, room)}


_NOTES = {".txt", ".md", ".csv"}
"""How the names of texts end that somebody put beside a print, and did not take for one."""


def refusal_finding(refusal: LabError, path: Path) -> Finding:
    """A refusal as a finding, which has the file's name beside it already."""
    if refusal.code == "note" and path.suffix.lower() in _NOTES:
        return tell("text-note")
    sentence = f"the file {refusal.rest}" if refusal.about == path.name else str(refusal)
    sentence = sentence.removesuffix(".")
    if refusal.code == "note":
        return tell("not-a-picture", refusal=sentence)
    return tell(refusal.code, refusal=sentence)
