"""What is made of a picture once, in a guarded child, and kept in the reader's own folder."""

import os
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from labkit.files.child.guarded import resident_child
from labkit.files.header.picture import Picture
from labkit.files.writing.part import parts_of
from labkit.home import home, make_folder
from labkit.room.rules import Room


def cached_file(
    picture: Picture, room: Room, make: Callable[[Picture, Room, Path], None], ending: str
) -> Path:
    """The file that ``make`` makes of ``picture``, made if it is not there yet.

    ``make``, a function of a module, runs in a guarded child and writes the file it is given; ``ending``
    tells what it makes from other things made of the same picture. LabError if it cannot be made.
    """
    state = picture.path.stat()
    known = sha256(f"{picture.path.resolve()} {state.st_mtime_ns} {state.st_size}".encode())
    kept = make_folder(home().folder / "previews") / f"{known.hexdigest()[:24]}{ending}"
    if not kept.exists():
        make_in_child(picture, room, make, kept)
    return kept


def make_in_child(
    picture: Picture, room: Room, make: Callable[..., None], file: Path, *settings
) -> None:
    """Have ``make`` make ``file`` of ``picture`` in a guarded child; all of it or nothing.

    ``settings`` stand between the room and the file among what ``make`` is given.
    """
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    with parts_of(file) as (part,):
        resident_child().run(
            make, picture, room, *settings, part, **limits, about=picture.path.name
        )
        os.replace(part, file)
