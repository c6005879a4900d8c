"""01-resolution: how large a picture of so many pixels can be, and how much is enough."""

from labkit import open_picture, place, write
from labkit.lessons.parts.line import lesson_settings
from labkit.lessons.resolution.devices import dots, scan, screen
from labkit.lessons.resolution.enlarging import crops, which_filter
from labkit.lessons.resolution.label_bytes import label_bytes
from labkit.lessons.resolution.sizes import chart, exercise, how_wide, label, size, wrong_label
from labkit.lessons.resolution.viewing import blind_sheet, eye, true_scale

__all__ = [
    "blind_sheet",
    "chart",
    "crops",
    "dots",
    "exercise",
    "eye",
    "how_wide",
    "label",
    "label_bytes",
    "lesson_settings",
    "open_picture",
    "place",
    "scan",
    "screen",
    "size",
    "true_scale",
    "which_filter",
    "write",
    "wrong_label",
]
