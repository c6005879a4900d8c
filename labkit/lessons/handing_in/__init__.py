"""06-handing-in: from the working file to the one that is handed in."""

from labkit import check, open_picture, place, write
from labkit.lessons.handing_in.layers import layers
from labkit.lessons.handing_in.naming import name
from labkit.lessons.handing_in.packing import packings, which_smallest
from labkit.lessons.handing_in.road import your_picture
from labkit.lessons.handing_in.saving import again, how_it_grows
from labkit.lessons.handing_in.task import exercise
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings

__all__ = [
    "again", "answer", "check", "exercise", "how_it_grows", "layers", "lesson_settings", "name",
    "open_picture", "packings", "place", "which_smallest", "write", "your_picture",
]  # fmt: skip
