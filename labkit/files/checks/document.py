"""A PDF handed in instead of a picture: what it is, and exactly what to export from it."""

from pathlib import Path

from labkit.errors import LabError
from labkit.files.document import read_document
from labkit.files.findings import Finding, tell
from labkit.files.guarded import Guarded
from labkit.room import Room


def document_finding(path: Path, child: Guarded, room: Room) -> Finding:
    """Its pages, size, trim and bleed, read in a guarded ``child``, and the pixels to export."""
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    try:
        found, remedy = child.run(
            _described, path, room.working_ppi, room.units, **limits, what=path.name
        )
    except LabError as refusal:
        found, remedy = str(refusal).removesuffix("."), "Export the picture from it as TIFF."
    return tell("document", found=found, remedy=remedy)


def _described(path: Path, ppi: int, units: str) -> tuple[str, str]:
    """In the child: what it is, and what to do, in words."""
    document = read_document(path)
    return document.sentence(units), document.advice(ppi, units)
