"""A roll seen from its end, core and paper, to scale, and the paper that is left, as SVG."""

from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.style import INK, LINES, MUTED, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.length import Length

_HIGH, _MIDDLE = 344, (190, 176)
_RADIUS = 130


def draw_roll_end(
    outside: Length,
    core: Length,
    new: Length,
    left: Length,
    on_new: Length,
    *,
    units: str,
    prefix: str,
    words: str,
) -> str:
    """Draw the roll's end: its ``core``, its paper out to ``outside``, and in dashes how thick a ``new``
    one is; beside it a strip that shows how much is ``left`` of the length ``on_new``."""
    scale = _RADIUS / (float(new) / 2)
    x, y = _MIDDLE
    radius = {name: float(each) / 2 * scale for name, each in
              (("core", core), ("outside", outside), ("new", new))}  # fmt: skip
    share = min(1.0, float(left / on_new)) if on_new else 0.0
    wide = WIDTH - 400 - 24
    below = f"{_one(outside, units)} across; a new roll {_one(new, units)}"
    parts = [
        open_canvas(prefix, _HIGH, "The roll from its end", words, data={"unit-scale": scale}),
        f'<circle id="{prefix}-new" cx="{x}" cy="{y}" r="{radius["new"]:.2f}" fill="none" stroke="{MUTED}" '
        'stroke-dasharray="5 4"/>',
        f'<circle id="{prefix}-outside" cx="{x}" cy="{y}" r="{radius["outside"]:.2f}" fill="{TINT}" '
        f'stroke="{OKABE_ITO["blue"]}" stroke-width="1.75"/>',
        *(
            f'<circle cx="{x}" cy="{y}" r="{radius["core"] + (radius["outside"] - radius["core"]) * at:.2f}" '
            f'fill="none" stroke="{OKABE_ITO["blue"]}" stroke-opacity="0.35"/>'
            for at in (0.25, 0.5, 0.75)
        ),
        f'<circle id="{prefix}-core" cx="{x}" cy="{y}" r="{radius["core"]:.2f}" fill="{PAPER}" '
        f'stroke="{INK}"/>',
        text(x, y + 5, _one(core, units), anchor="middle"),
        text(x, y + _RADIUS + 20, below, anchor="middle"),
        text(400, 120, "left on it", big=True),
        f'<rect x="400" y="134" width="{wide}" height="26" {LINES["paper"].svg()}/>',
        f'<rect id="{prefix}-left" x="400" y="134" width="{wide * share:.2f}" height="26" fill="{TINT}" '
        f'stroke="{OKABE_ITO["blue"]}" stroke-width="1.75"/>',
        text(400, 184, f"{_metres(left)} of {_metres(on_new)}"),
    ]  # fmt: skip
    return "".join((*parts, "</svg>"))


def _one(size: Length, units: str) -> str:
    return size.mm_text() if units == "mm" else f"{float(size):.2f} in"


def _metres(size: Length) -> str:
    return f"{float(size.mm) / 1000:.1f} m"
