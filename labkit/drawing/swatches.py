"""A few colours side by side, each with its name and its numbers, as SVG."""

from collections.abc import Sequence

from labkit.drawing.canvas import open_canvas, rect, text
from labkit.drawing.style import MUTED, WIDTH

_SIDE, _TOP, _HIGH, _GAP, _BELOW = 10, 44, 150, 10, 50


def draw_swatches(
    colours: Sequence[tuple[str, tuple[int, int, int]]], *, prefix: str, title: str, words: str
) -> str:
    """Draw each of ``colours``, a name and its red, green and blue from 0 to 255, in a row."""
    wide = (WIDTH - 2 * _SIDE - _GAP * (len(colours) - 1)) / len(colours)
    parts = [open_canvas(prefix, _TOP + _HIGH + _BELOW, title, words)]
    for number, (name, numbers) in enumerate(colours):
        left = _SIDE + number * (wide + _GAP)
        fill = "#{:02x}{:02x}{:02x}".format(*numbers)
        parts += [
            f'<rect {rect((left, _TOP, wide, _HIGH))} fill="{fill}" stroke="{MUTED}"/>',
            text(left, _TOP + _HIGH + 20, name, big=True),
            text(left, _TOP + _HIGH + 38, " ".join(map(str, numbers))),
        ]
    return "".join((*parts, "</svg>"))
