"""A hand-in as SVG: its sheet with all that is on it, or the file alone where it is no sheet."""

import re
from html import escape

from labkit.drawing.canvas import open_canvas, photo, text
from labkit.drawing.sheet import draw_sheet
from labkit.drawing.style import WIDTH
from labkit.geometry.layout import Layout

_SIDE, _TOP, _BELOW, _MOST_HIGH = 120, 54, 46, 420


def draw_hand_in(layout: Layout, *, units: str, prefix: str, whole: str = "") -> str:
    """The sheet with its measured borders, on it the ``whole`` file (a ``data:`` address): what lies round
    the picture is seen as well."""
    drawing = draw_sheet(layout, units=units, prefix=prefix)
    if not whole:
        return drawing
    paper = re.compile(rf'<rect id="{prefix}-sheet" (x="\S+ y="\S+ width="\S+ height="\S+) [^>]*>')
    look = f'preserveAspectRatio="none" href="{escape(whole)}"'
    return paper.sub(
        lambda sheet: f'{sheet[0]}<image id="{prefix}-whole" {sheet[1]} {look}/>', drawing, count=1
    )


def draw_file(
    pixels: tuple[int, int],
    *,
    prefix: str,
    title: str,
    words: str,
    told: str = "and no sheet round them",
) -> str:
    """A file of so many pixels with nothing round it; ``words`` say what it is, ``told`` stands below."""
    scale = min((WIDTH - 2 * _SIDE) / pixels[0], _MOST_HIGH / pixels[1])
    wide, high = (side * scale for side in pixels)
    left = (WIDTH - wide) / 2
    count = f"{pixels[0]} × {pixels[1]} pixels, {told}"
    return "".join(
        (
            open_canvas(prefix, round(_TOP + high + _BELOW), title, words),
            photo(prefix, (left, _TOP, wide, high)),
            text(WIDTH / 2, _TOP + high + 26, count, big=True, anchor="middle"),
            "</svg>",
        )
    )


def draw_nothing(*, prefix: str, title: str, words: str) -> str:
    """A file that cannot be opened."""
    told = text(WIDTH / 2, 90, "nothing can be shown of it", big=True, anchor="middle")
    return f"{open_canvas(prefix, 140, title, words)}{told}</svg>"
