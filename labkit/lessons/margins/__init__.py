"""04-margins: where the picture sits on its sheet, and what is left around it."""

from labkit import check, open_picture, place, write
from labkit.lessons.margins.margins import (
    borders,
    by_eye,
    exercise,
    how_wide,
    places,
    printer_edges,
    to_the_edge,
    which_first,
)
from labkit.lessons.parts.line import lesson_settings

__all__ = [
    "borders", "by_eye", "check", "exercise", "how_wide", "lesson_settings", "open_picture",
    "place", "places", "printer_edges", "to_the_edge", "which_first", "write",
]  # fmt: skip
