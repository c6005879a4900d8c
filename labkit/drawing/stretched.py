"""A picture as it is beside the same squeezed into another shape: the fault to recognise, as SVG."""

from fractions import Fraction

from labkit.drawing.canvas import Rect, open_canvas, photo, rect, text
from labkit.drawing.style import BIG, MUTED, OKABE_ITO, PAPER
from labkit.geometry.proportion import Crop, Part

_HALF, _GAP, _TOP, _HIGH, _CLOSE = 294, 20, 66, 250, 150
"""The width of a half and the gap between, where pictures begin, how high they are, a close look's side."""
_RED = OKABE_ITO["vermilion"]
_ROOM = Fraction(3, 10)
"""What a close look shows round the part, as a share of its size."""


def draw_stretched(
    shape: tuple[int, int],
    ratio: Fraction,
    part: Part,
    *,
    circle: bool,
    prefix: str,
    title: str,
    words: str,
) -> str:
    """A picture of ``shape`` pixels, and the same squeezed into ``ratio``, marked as wrong.

    Below each is a close look at ``part``, which is round; with ``circle`` a circle of its own width is
    laid on it, and how far off round it is is told.
    """
    own = Fraction(*shape)
    left, right = 16.0, 16.0 + _HALF + _GAP
    true, wrong = _standing(left, own), _standing(right, ratio)
    close = _TOP + _HIGH + 34
    parts = [
        open_canvas(prefix, close + _CLOSE + 50, title, words),
        text(left, _TOP - 10, "as it is", big=True),
        _cross(prefix, right, _TOP - 21),
        f'<text x="{right + 20}" y="{_TOP - 10}" font-size="{BIG}" font-weight="600" fill="#a63f00">'
        "wrong: stretched</text>",
        photo(f"{prefix}-true", true),
        photo(f"{prefix}-wrong", wrong),
        f'<rect {rect(wrong)} fill="none" stroke="{_RED}" stroke-width="4" stroke-dasharray="12 6"/>',
        _close_look(f"{prefix}-round", left, close, shape, own, own, part, circle),
        _close_look(f"{prefix}-oval", right, close, shape, own, ratio, part, circle),
        "</svg>",
    ]
    return "".join(parts)


def _standing(left: float, ratio: Fraction) -> Rect:
    """As large as it can be in its half, on the common base."""
    high = min(_HIGH, _HALF / float(ratio))
    wide = high * float(ratio)
    return left + (_HALF - wide) / 2, _TOP + _HIGH - high, wide, high


def _cross(prefix: str, left: float, top: float) -> str:
    """What must not be done is marked beside its name, where it covers nothing of the picture."""
    return (
        f'<path id="{prefix}-cross" d="M{left} {top}l12 12m0 -12l-12 12" fill="none" stroke="{_RED}" '
        'stroke-width="3.5"/>'
    )


def _close_look(ident, left, top, shape, own, ratio: Fraction, part: Part, circle: bool) -> str:
    """The round part large, in the shape it then has; with ``circle`` under one of the same width."""
    first, upper, last, lower = part.box
    wide, high = last - first, lower - upper
    crop = Crop(
        first - wide * _ROOM, upper - high * _ROOM, wide * (1 + 2 * _ROOM), high * (1 + 2 * _ROOM)
    )
    tall = float(own / ratio)  # times as high as wide
    scale = _CLOSE / max(1, tall)
    size = scale, scale * tall
    at = left + (_HALF - size[0]) / 2, top + (_CLOSE - size[1]) / 2, *size
    radius = size[0] / float(1 + 2 * _ROOM) / 2
    x, y = at[0] + size[0] / 2, at[1] + size[1] / 2
    at_middle = left + _HALF / 2, top + _CLOSE + 22
    look = photo(ident, at, crop)
    if not circle:
        return look + text(*at_middle, part.name, big=True, anchor="middle")
    ring = f'cx="{x:.2f}" cy="{y:.2f}" r="{radius:.2f}" fill="none"'
    return (
        look + f'<circle {ring} stroke="{PAPER}" stroke-width="4.5" stroke-opacity="0.8"/>'
        f'<circle id="{ident}-circle" {ring} stroke="{_RED}" stroke-width="2" stroke-dasharray="7 4"/>'
        f'<ellipse id="{ident}-outline" cx="{x:.2f}" cy="{y:.2f}" rx="{radius:.2f}" '
        f'ry="{radius * tall:.2f}" fill="none" stroke="{MUTED}"/>'
        + text(*at_middle, _as_told(part.name, tall), big=True, anchor="middle")
    )


def _as_told(name: str, tall: float) -> str:
    off = round((max(tall, 1 / tall) - 1) * 100)
    return f"{name}: round" if not off else f"{name}: {off}% too {'high' if tall > 1 else 'wide'}"
