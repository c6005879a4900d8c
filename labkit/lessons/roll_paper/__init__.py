"""07-roll-paper: what a roll gives, prints laid out on it, and how much is left."""

from labkit import length
from labkit.geometry.packing import Piece, Roll, pack
from labkit.geometry.rolled import length_left
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings
from labkit.lessons.roll_paper.by_hand import by_hand
from labkit.lessons.roll_paper.class_work import class_work
from labkit.lessons.roll_paper.on_the_roll import lightest_first, on_the_roll
from labkit.lessons.roll_paper.one_print import how_long, one_print, side_by_side
from labkit.lessons.roll_paper.rows import exercise

__all__ = [
    "Piece",
    "Roll",
    "answer",
    "by_hand",
    "class_work",
    "exercise",
    "how_long",
    "length",
    "length_left",
    "lesson_settings",
    "lightest_first",
    "on_the_roll",
    "one_print",
    "pack",
    "side_by_side",
]
