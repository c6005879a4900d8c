"""A stranger's picture opened: its header is read in a guarded child."""

from pathlib import Path

from labkit.files.child.guarded import Guarded, resident_child
from labkit.files.header.picture import Picture, from_json, to_json
from labkit.room.rules import Room


def open_picture(
    path: str | Path, room: Room, *, page: int | None = None, child: Guarded | None = None
) -> Picture:
    """The facts of a picture file, read in ``child`` (one that stays, if None) within the room's limits.

    ``page`` asks for one of several, counted from 1. LabError, always in one sentence, for what is no
    picture that can be used.
    """
    path, limits = Path(path), room.limits
    told = (child or resident_child()).run(
        header,
        path,
        limits.pixels,
        page,
        seconds=limits.seconds,
        memory_mb=limits.memory_mb,
        about=path.name,
    )
    return from_json(path, told)


def header(path: Path, max_pixels: int, page: int | None) -> dict:
    """In the child: all facts as plain values."""
    from labkit.files.header.reading import read_picture

    return to_json(read_picture(path, max_pixels=max_pixels, page=page))
