"""What the reader works on: their own picture, or one of ours."""

from pathlib import Path

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.job import words as job
from labkit.lessons.parts.settings import settings
from labkit.room.rules import Room
from labkit.teaching.pictures import DemoPicture, demo_pictures


def your_picture(room: Room, file: str | Path | None = None) -> Picture:
    """The picture to work on: ``file``, else the one the reader chose, else our harbour.

    Where the chosen one cannot be shown, the settings' ``trouble`` says why, and ours takes its place.
    """
    if file:
        return job.open_picture(file, room=room)
    chosen = settings()
    if chosen.picture and not chosen.trouble:
        try:
            return shown_picture(chosen.picture, room)
        except LabError as refusal:
            chosen.trouble = (
                f"{refusal} Our harbour is shown instead. Choose another picture in the line at the "
                "top of the lesson."
            )
    return job.open_picture(demo_pictures()[0].file, room=room)


def shown_picture(file: str | Path, room: Room) -> Picture:
    """A picture, decoded once to be sure that it can be; LabError where it is damaged."""
    picture = job.open_picture(file, room=room)
    job.preview(picture, room=room)
    return picture


def our_pictures(room: Room) -> tuple[tuple[DemoPicture, tuple[int, int]], ...]:
    """Our own pictures, each with its size in pixels."""
    return tuple((demo, job.open_picture(demo.file, room=room).pixels) for demo in demo_pictures())


def known_pictures(uploads: Path) -> list[tuple[str, str]]:
    """Ours and the reader's own, each with the name it has in a menu and its file."""
    ours = [(f"{each.title}, by {each.by}", str(each.file)) for each in demo_pictures()]
    theirs = sorted(each for each in uploads.glob("*") if each.is_file())
    return [*ours, *((f"yours: {each.name}", str(each)) for each in theirs)]
