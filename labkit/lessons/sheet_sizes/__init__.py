"""02-sheet-sizes: what paper there is, and which sheet a print needs."""

from labkit import open_picture, place, write
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings
from labkit.lessons.sheet_sizes.finished_size import frame, rounding
from labkit.lessons.sheet_sizes.in_stock import rolls, stock
from labkit.lessons.sheet_sizes.sheets import (
    exercise,
    fold,
    half_a_letter,
    how_long,
    names,
    which_smaller,
)

__all__ = [
    "answer",
    "exercise",
    "fold",
    "frame",
    "half_a_letter",
    "how_long",
    "lesson_settings",
    "names",
    "open_picture",
    "place",
    "rolls",
    "rounding",
    "stock",
    "which_smaller",
    "write",
]
