"""A series: one picture on each of several sheets of a size, side by side to one scale, as SVG."""

from collections.abc import Sequence
from dataclasses import dataclass

from labkit.drawing.canvas import open_canvas, photo, rect, text
from labkit.drawing.style import BIG, LINES, PAPER, WIDTH
from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import Crop

_SIDE, _GAP, _TOP, _HIGH = 16, 20, 44, 330
"""Margins, the gap between two sheets, what the heading takes, the most a sheet's height may take."""


@dataclass(frozen=True, slots=True)
class Hung:
    """One picture of a series: its name, its size on paper, and the part of the photo it shows."""

    name: str
    size: tuple[Length, Length]
    crop: Crop


def draw_series(
    sheet: Sheet, pictures: Sequence[Hung], *, units: str, prefix: str, title: str, words: str
) -> str:
    """Draw each picture in the centre of a sheet of its own, its name and size below."""
    count = len(pictures)
    column = (WIDTH - 2 * _SIDE - _GAP * (count - 1)) / count
    scale = min(column / float(sheet.width), _HIGH / float(sheet.height))
    wide, high = float(sheet.width) * scale, float(sheet.height) * scale
    data = {"unit-scale": scale}
    parts = [open_canvas(prefix, int(_TOP + high + 68), title, words, data=data)]
    for number, each in enumerate(pictures):
        middle = _SIDE + column * (number + 0.5) + _GAP * number
        size = float(each.size[0]) * scale, float(each.size[1]) * scale
        at = middle - size[0] / 2, _TOP + (high - size[1]) / 2, *size
        paper = rect((middle - wide / 2, _TOP, wide, high))
        parts += [
            f"<rect {paper} {LINES['paper'].svg().replace('none', PAPER, 1)}/>",
            photo(f"{prefix}-{number}", at, each.crop),
            text(middle, _TOP + high + 20, each.name, big=True, anchor="middle"),
            *_sizes(middle, _TOP + high + 38, each.size, units),
        ]
    return "".join((*parts, "</svg>"))


def _sizes(x: float, y: float, size: tuple[Length, Length], units: str) -> list[str]:
    first, other = ("mm", "in") if units == "mm" else ("in", "mm")
    return [
        f'<text x="{x:.2f}" y="{y:.2f}" text-anchor="middle" font-size="{BIG}">{_by(size, first)}</text>',
        text(x, y + 17, _by(size, other), anchor="middle"),
    ]


def _by(size: tuple[Length, Length], unit: str) -> str:
    sides = (side.mm_text() if unit == "mm" else side.inch_text() for side in size)
    return " × ".join(side.removesuffix(f" {unit}") for side in sides) + f" {unit}"
