"""Sizes as bars, one under the other, to one scale from nothing, as SVG."""

from collections.abc import Sequence

from labkit.drawing.canvas import open_canvas, rect, text
from labkit.drawing.style import LINES, OKABE_ITO, TINT, WIDTH

_SIDE, _TOP, _ROW, _BAR = 16, 44, 60, 26


def draw_bars(
    bars: Sequence[tuple[str, float, str]], *, chosen: str, prefix: str, title: str, words: str
) -> str:
    """A bar for each name, size and what is told of it; the one that is ``chosen`` is filled dark.

    The longest takes the whole width.
    """
    most = max(size for _, size, _ in bars)
    full = WIDTH - 2 * _SIDE
    parts = [open_canvas(prefix, _TOP + _ROW * len(bars), title, words)]
    for place, (name, size, told) in enumerate(bars):
        top, fill = _TOP + place * _ROW, OKABE_ITO["blue"] if name == chosen else TINT
        look = LINES["picture"].svg().replace('"none"', f'"{fill}"', 1)
        bar = _SIDE, top + 20, full * size / most, _BAR
        parts.append(text(_SIDE, top + 14, name, big=True))
        parts.append(text(WIDTH - _SIDE, top + 14, told, big=True, anchor="end"))
        parts.append(f'<rect id="{prefix}-bar-{place}" {rect(bar)} {look}/>')
    return "".join((*parts, "</svg>"))
