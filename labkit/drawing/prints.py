"""Prints of one picture side by side, each a window on one strip of them, as SVG."""

from collections.abc import Sequence
from fractions import Fraction

from labkit.drawing.canvas import open_canvas, photo, text
from labkit.drawing.style import WIDTH
from labkit.geometry.proportion import Crop

_SIDE, _TOP, _GAP, _BELOW = 10, 44, 10, 34


def draw_prints(
    tiles: Sequence[tuple[int, str]],
    count: int,
    shape: tuple[int, int],
    *,
    prefix: str,
    title: str,
    words: str,
) -> str:
    """Prints of ``shape`` (pixels) in a row, each the place it has in a strip of ``count``, and its label.

    The strip is the photo of the drawing; without it each is a plain tinted box.
    """
    wide = (WIDTH - 2 * _SIDE - _GAP * (len(tiles) - 1)) / len(tiles)
    high = wide * shape[1] / shape[0]
    parts = [open_canvas(prefix, round(_TOP + high + _BELOW), title, words)]
    for place, (at, label) in enumerate(tiles):
        left = _SIDE + place * (wide + _GAP)
        part = Crop(Fraction(at, count), Fraction(0), Fraction(1, count), Fraction(1))
        parts.append(photo(f"{prefix}-{place}", (left, _TOP, wide, high), part))
        parts.append(text(left, _TOP + high + 20, label, big=True))
    return "".join((*parts, "</svg>"))
