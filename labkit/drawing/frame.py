"""A frame from the front, and a cut through its edge: what the lip hides of a print, as SVG."""

from labkit.drawing.canvas import Rect, open_canvas, rect, text
from labkit.drawing.dimensions import label_texts
from labkit.drawing.style import INK, LINES, MUTED, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.holding import sight_size
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.size import Size

MOULDING = length("1in")
"""How wide the moulding is that is drawn, seen from the front."""
_SIDE, _TOP, _WIDE, _HIGH = 16, 46, 372, 400
"""Margin, what the heading takes, and the most that the frame from the front may take."""
_CUT, _CUT_SCALE = 410, 110
"""Where the cut through the edge begins, and its units to the inch."""
_WOOD, _BACK = "#d8cdbd", "#b9b2a7"
_SIGHT = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="2"'
_PRINT = f'fill="none" stroke="{INK}" stroke-width="1.25" stroke-dasharray="6 4"'


def draw_frame(
    size: Size, lip: Length, border: Length, *, units: str, prefix: str, words: str
) -> str:
    """Draw a frame that takes a print of ``size``, the print's ``border`` and the picture in it.

    From the front the print's edge is dashed where it lies behind the lip; what is seen is outlined.
    Beside it a cut through the edge, at a larger scale. ``-photo`` is the photo's place.
    """
    outer = tuple(side + (MOULDING - lip) * 2 for side in size)
    most = tuple(side + MOULDING * 2 for side in size)
    scale = min(_WIDE / float(most[0]), _HIGH / float(most[1]))
    middle, centre = _SIDE + _WIDE / 2, _TOP + _HIGH / 2

    def box(sides: Size) -> Rect:
        wide, high = (float(side) * scale for side in sides)
        return middle - wide / 2, centre - high / 2, wide, high

    seen = box(sight_size(size, lip))
    inside = box(tuple(side - border * 2 for side in size))
    frame, whole = box(outer), box(size)
    parts = [
        open_canvas(
            prefix, _TOP + _HIGH + 40, "A frame, and what its lip hides", words,
            data={"unit-scale": scale},
        ),
        f'<clipPath id="{prefix}-window"><rect {rect(seen)}/></clipPath>',
        f'<rect {rect(seen)} fill="{PAPER}"/><g clip-path="url(#{prefix}-window)">'
        f'<rect {rect(inside)} fill="{TINT}"/><image id="{prefix}-photo" {rect(inside)} '
        'preserveAspectRatio="xMidYMid slice"/></g>',
        f'<path id="{prefix}-moulding" d="{_path(frame)}{_path(seen)}" fill="{_WOOD}" '
        f'fill-rule="evenodd" stroke="{MUTED}"/>',
        f'<rect id="{prefix}-print" {rect(whole)} {_PRINT}/>',
        f'<rect id="{prefix}-inside" {rect(inside)} {LINES["picture"].svg()}/>' if border else "",
        f'<rect id="{prefix}-sight" {rect(seen)} {_SIGHT}/>',
        _legend(_TOP + _HIGH + 24, border),
        _section(lip, border, units, prefix),
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def _section(lip: Length, border: Length, units: str, prefix: str) -> str:
    """A cut through the frame's left edge: moulding and lip, glass, print and backing."""
    scale, top = _CUT_SCALE, _TOP + 96
    lip_wide = float(lip) * scale
    outer, inner, end = _CUT, _CUT + 64, WIDTH - _SIDE
    reach = inner + lip_wide
    wood = f"M{outer} {top}H{reach:.2f}v16H{inner}v52H{outer}z"
    first, other = label_texts(lip, units)
    spare = inner + float(border) * scale
    white = (
        f'<path id="{prefix}-white" d="M{inner} {top + 27}H{min(spare, end):.2f}" stroke="{PAPER}" '
        'stroke-width="5"/>'
        if border
        else ""
    )
    return "".join(
        (
            text(_CUT, _TOP + 16, "Cut through its edge", big=True),
            text(_CUT, _TOP + 33, f"{_CUT_SCALE / 96:.2g} times its size at 96 dots an inch"),
            f'<rect x="{inner}" y="{top + 17}" width="{end - inner}" height="6" fill="#cfe3ee" '
            f'stroke="{MUTED}" stroke-width="0.75"/>',
            f'<path id="{prefix}-paper" d="M{inner} {top + 27}H{end}" '
            f'stroke="{OKABE_ITO["blue"]}" stroke-width="5"/>{white}',
            f'<rect x="{inner}" y="{top + 31}" width="{end - inner}" height="20" fill="{_BACK}"/>',
            f'<path id="{prefix}-profile" d="{wood}" fill="{_WOOD}" stroke="{MUTED}"/>',
            f'<path id="{prefix}-lip" d="M{inner} {top - 6}v-10m0 5H{reach:.2f}m0 -5v10" fill="none" '
            f'stroke="{MUTED}"/>',
            text(inner, top - 38, f"lip {first}", big=True),
            text(inner, top - 22, other),
            f'<path d="M{reach:.2f} {top - 4}v{82}" {_SIGHT}/>',
            text(reach, top + 92, "seen from here on", anchor="middle"),
            text(_CUT, top + 118, "from above: glass,"),
            text(_CUT, top + 134, "print (its border white),"),
            text(_CUT, top + 150, "backing board"),
        )
    )


def _legend(top: float, border: Length) -> str:
    items = [(_SIGHT, "what is seen", 124), (_PRINT, "edge of the print", 152)]
    if border > ZERO:
        items.append((LINES["picture"].svg(), "picture", 0))
    drawn, left = [], float(_SIDE)
    for look, words, wide in items:
        drawn.append(f'<rect x="{left}" y="{top - 11}" width="24" height="13" {look}/>')
        drawn.append(text(left + 31, top, words))
        left += wide
    return "".join(drawn)


def _path(at: Rect) -> str:
    left, top, wide, high = at
    return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"
