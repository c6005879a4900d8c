"""Who reads, and what they work on: the reader's own picture, or one of ours."""

from pathlib import Path

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.home import home
from labkit.job import words as job
from labkit.room.rules import Room
from labkit.teaching.pictures import DemoPicture, demo_pictures


def your_picture(room: Room, file: str | Path | None = None) -> Picture:
    """The picture to work on: ``file``, else the one chosen in 00-start-here, else our harbour."""
    chosen = file or home().reader().picture
    if chosen:
        try:
            return job.open_picture(chosen, room=room)
        except LabError:
            if file:
                raise
    return job.open_picture(demo_pictures()[0].file, room=room)


def our_pictures(room: Room) -> tuple[tuple[DemoPicture, tuple[int, int]], ...]:
    """Our own pictures, each with its size in pixels."""
    return tuple((demo, job.open_picture(demo.file, room=room).pixels) for demo in demo_pictures())
