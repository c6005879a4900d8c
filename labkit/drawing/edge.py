"""The edge of a sheet, enlarged: the last pixels, and how far the cut may be off, as SVG."""

from math import ceil

from labkit.drawing.canvas import open_canvas, rect, text
from labkit.drawing.style import LINES, MUTED, OKABE_ITO, PAPER, WIDTH
from labkit.geometry.length import Length

_TOP, _HIGH, _HALF = 96, 150, 250
"""What stands above, the height of the strip, and half its width."""
_ALLOWED = f'fill="{OKABE_ITO["orange"]}" fill-opacity="0.22" stroke="{OKABE_ITO["vermilion"]}"'
_PIXELS = f'fill="{OKABE_ITO["blue"]}" fill-opacity="0.55"'
_END = f'fill="none" stroke="{OKABE_ITO["blue"]}" stroke-width="3"'


def draw_edge(
    tolerance: Length, pixel: Length, off: Length, *, prefix: str, title: str, words: str
) -> str:
    """Draw the right edge of a sheet with ``tolerance`` to its left and right, pixels of that size dark
    and light by turns, and the end of the last one, ``off`` beyond the edge (short of it if negative)."""
    middle = WIDTH / 2
    scale = _HALF / float(tolerance)
    step, end = float(pixel) * scale, middle + float(off) * scale
    count = ceil((end - middle + _HALF) / step)
    left, foot = middle - _HALF, _TOP + _HIGH
    dark = "".join(
        f"M{end - number * step:.2f} {_TOP + 34}h{-step:.2f}v{_HIGH - 68}h{step:.2f}z"
        for number in range(0, count, 2)
    )
    strip = rect((left, _TOP, 2 * _HALF, _HIGH))
    span = rect((left, _TOP, middle - left, _HIGH))
    parts = [
        open_canvas(prefix, foot + 76, title, words, data={"unit-scale": scale}),
        f'<clipPath id="{prefix}-strip"><rect {strip}/></clipPath>',
        f'<rect {span} fill="{PAPER}"/>',
        f'<rect id="{prefix}-allowed" {strip} {_ALLOWED}/>',
        f'<g clip-path="url(#{prefix}-strip)"><path id="{prefix}-pixels" d="{dark}" {_PIXELS}/></g>',
        f'<path id="{prefix}-edge" d="M{middle} {_TOP - 12}V{foot + 12}" {LINES["trim"].svg()}/>',
        f'<path id="{prefix}-end" d="M{end:.2f} {_TOP + 22}V{foot - 22}" {_END}/>',
        text(middle, _TOP - 40, "where the edge should be", big=True, anchor="middle"),
        text(middle, _TOP - 22, "(dashed)", anchor="middle"),
        *_spans(left, middle, foot, tolerance),
        "</svg>",
    ]
    return "".join(parts)


def _spans(left: float, middle: float, foot: int, tolerance: Length) -> list[str]:
    """Below the strip: how far the cut may be off, either way; and what is what."""
    far, line = 2 * middle - left, foot + 22
    arrows = (
        f'<path d="M{left} {line - 6}v12m0 -6H{far}m0 -6v12M{middle} {line - 6}v12" fill="none" '
        f'stroke="{MUTED}"/>'
    )
    told = tolerance.mm_text()
    return [
        arrows,
        text((left + middle) / 2, line + 18, f"{told} short", big=True, anchor="middle"),
        text((middle + far) / 2, line + 18, f"{told} over", big=True, anchor="middle"),
        text(middle, line + 40, "tinted: where the cut may fall. Blue and gaps: the file's last pixels; "
             "the thick line is their end.", anchor="middle"),
    ]  # fmt: skip
