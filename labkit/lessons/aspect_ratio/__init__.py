"""03-aspect-ratio: a picture's shape against the paper's."""

from labkit import open_picture, place, write
from labkit.lessons.aspect_ratio.comparing import equal_borders, series, which_largest
from labkit.lessons.aspect_ratio.framing import crop, exercise, where_to_crop
from labkit.lessons.aspect_ratio.shapes import fit_or_fill, how_much_lost, ratios, stretched
from labkit.lessons.parts.line import lesson_settings

__all__ = [
    "crop",
    "equal_borders",
    "exercise",
    "fit_or_fill",
    "how_much_lost",
    "lesson_settings",
    "open_picture",
    "place",
    "ratios",
    "series",
    "stretched",
    "where_to_crop",
    "which_largest",
    "write",
]
