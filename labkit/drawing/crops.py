"""Small crops of a picture side by side, each a window on one strip of them, as SVG."""

from collections.abc import Sequence

from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.style import LINES, OKABE_ITO, TINT

_LEFT, _TOP, _GAP = 10, 44, 10
TILE = 200
"""The side of a crop, in pixels of the picture and in units of the drawing."""


def draw_crops(
    tiles: Sequence[tuple[int, str]],
    count: int,
    *,
    prefix: str,
    title: str,
    words: str,
    closer: int = 1,
) -> str:
    """Up to three crops in a row, each the place it has in a strip of ``count``, and its label.

    The strip is the photo of the drawing. ``closer`` shows the middle so many times as large. Without
    the photo each is a plain tinted box.
    """
    parts = [open_canvas(prefix, _TOP + TILE + 34, title, words)]
    shown = TILE / closer
    inset = (TILE - shown) / 2
    for place, (at, label) in enumerate(tiles):
        left = _LEFT + place * (TILE + _GAP)
        rect = f'x="{left}" y="{_TOP}" width="{TILE}" height="{TILE}"'
        parts.append(
            f'<g><rect {rect} fill="{TINT}"/>'
            f'<path d="M{left} {_TOP}l{TILE} {TILE}m0 {-TILE}l{-TILE} {TILE}" fill="none" '
            f'stroke="{OKABE_ITO["sky blue"]}"/>'
            f'<svg {rect} viewBox="{at * TILE + inset:g} {inset:g} {shown:g} {shown:g}">'
            f'<image id="{prefix}-{place}-photo" width="{count * TILE}" height="{TILE}" '
            'style="image-rendering:pixelated"/></svg>'
            f"<rect {rect} {LINES['picture'].svg()}/></g>"
            + text(left, _TOP + TILE + 20, label, big=True)
        )
    return "".join((*parts, "</svg>"))
