"""A picture in parts as they hang on the wall, one of them marked, as SVG."""

from labkit.drawing.canvas import Rect, open_canvas, rect, text
from labkit.drawing.style import INK, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.box import Box
from labkit.geometry.parts import Part, Split

_SIDE, _TOP, _HIGH = 16, 44, 150
"""Margins, what the heading takes, the most the picture's height may take."""


def draw_parts(split: Split, marked: Part, *, units: str, prefix: str) -> str:
    """All parts to scale with their numbers; ``marked`` has a heavy line, overlaps are shaded."""
    wide, high = map(float, split.size)
    scale = min((WIDTH - 2 * _SIDE) / wide, _HIGH / high)

    def at(box: Box) -> Rect:
        left, top, width, height = (
            float(side) * scale for side in (box.left, box.top, box.width, box.height)
        )
        return _SIDE + left, _TOP + top, width, height

    words = " ".join(marked.seams(units))
    foot = round(_TOP + high * scale + 14)
    drawn = [open_canvas(prefix, foot, f"{marked.name.capitalize()}, as it hangs", words)]
    for part in split.parts:
        drawn.append(f'<rect {rect(at(part.box))} fill="{PAPER}" stroke="{INK}"/>')
    for one in split.parts if split.overlap else ():
        for other in (split.parts[number - 1] for _, number in one.neighbours()):
            if other.number > one.number:
                both = one.box.clipped(other.box)
                drawn.append(
                    f'<rect {rect(at(both))} fill="{TINT}" stroke="{OKABE_ITO["blue"]}" '
                    'stroke-dasharray="3 2"/>'
                )
    drawn.append(f'<rect {rect(at(marked.box))} fill="none" stroke="{INK}" stroke-width="4"/>')
    for part in split.parts:
        left, top, width, height = at(part.box)
        x, y = left + width / 2, top + height / 2 + 5
        drawn.append(text(x, y, str(part.number), big=part == marked, anchor="middle"))
    return "".join((*drawn, "</svg>"))
