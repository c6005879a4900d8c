"""09-trim-and-measure: a ruler print read, a print cut to its borders, a window mat."""

from labkit import check, length, open_picture, place, write
from labkit.geometry.measured import Reading, percent, scale_error
from labkit.geometry.trimplan import plan_of, to_be_cut
from labkit.geometry.weight import WEIGHTS
from labkit.lessons.parts.answer import answer
from labkit.lessons.parts.line import lesson_settings
from labkit.lessons.trim_and_measure.cutting import cuts, how_uneven, which_cut
from labkit.lessons.trim_and_measure.matting import window
from labkit.lessons.trim_and_measure.measuring import printed, read_prints, what_to_set
from labkit.lessons.trim_and_measure.task import exercise

__all__ = [
    "WEIGHTS", "Reading", "answer", "check", "cuts", "exercise", "how_uneven", "length", "lesson_settings",
    "open_picture", "percent", "place", "plan_of", "printed", "read_prints", "scale_error",
    "to_be_cut", "what_to_set", "which_cut", "window", "write",
]  # fmt: skip
