"""05-colour: what becomes of colour on its way to paper."""

from labkit import check, open_picture, place, write
from labkit.lessons.colour.lamp import hall, how_bright, strip
from labkit.lessons.colour.onpaper import proofs, two_papers, which_moves
from labkit.lessons.colour.profiles import labels, numbers, what_changes
from labkit.lessons.colour.task import exercise
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings

__all__ = [
    "answer", "check", "exercise", "hall", "how_bright", "labels", "lesson_settings", "numbers",
    "open_picture", "place", "proofs", "strip", "two_papers", "what_changes", "which_moves", "write",
]  # fmt: skip
