"""08-at-the-counter: hand-ins read, judged and answered as the technician would."""

from labkit import check, open_picture, place, write
from labkit.lessons.at_the_counter.at_printer import how_large, printing
from labkit.lessons.at_the_counter.counter import exercise, how_to_say, practice, who_decides
from labkit.lessons.at_the_counter.managed import prints, which_print
from labkit.lessons.at_the_counter.reading import hand_ins
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings

__all__ = [
    "answer",
    "check",
    "exercise",
    "hand_ins",
    "how_large",
    "how_to_say",
    "lesson_settings",
    "open_picture",
    "place",
    "practice",
    "printing",
    "prints",
    "which_print",
    "who_decides",
    "write",
]
