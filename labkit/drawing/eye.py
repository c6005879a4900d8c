"""What an eye tells apart: its distance and one arc-minute, and lines at their true size, as SVG."""

from labkit.drawing.beside import CARD
from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.dimensions import label_texts
from labkit.drawing.style import INK, LINES, MUTED, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.length import Length, inches, length

FARTHEST = length("300cm")
"""The greatest distance drawn."""
_EYE, _LONGEST, _LEVEL = 60, 540, 100
"""Where the eye stands, how long the greatest distance is drawn, and the height of its axis."""
_SHEET = length("11in")
_LEFT, _PATCH_TOP, _PATCH, _PAPER = 16, 258, 176, length("2mm")
"""Where the magnified patches begin, their side in the drawing, and on the paper."""
_TRUE_WIDTH, _LINES_TOP, _LINES_HIGH, _CARD_TOP, _TRUE_HIGH = 560, 64, 96, 180, 520
"""The drawing that is never scaled, and where the lines and the card lie on it."""


def draw_eye(distance: Length, ppi: float, *, units: str, prefix: str) -> str:
    """A letter sheet seen from ``distance``, to scale; below, magnified alike, 2 mm of it in pixels at
    ``ppi``, which the eye just tells apart there, beside pixels at 300 ppi."""
    scale = _LONGEST / float(FARTHEST)
    end = _EYE + float(distance) * scale
    half = float(_SHEET) * scale / 2
    first, other = label_texts(distance, units)
    words = (
        f"A letter sheet seen from {distance.both(units)}. The eye just tells pixels apart that are "
        f"{_thin(inches(1 / ppi), units)} wide: {ppi:.0f} ppi."
    )
    title = "Smaller pixels than these are not seen from here"
    parts = (
        open_canvas(prefix, _PATCH_TOP + _PATCH + 16, title, words, data={"unit-scale": scale}),
        f'<path d="M{_EYE} {_LEVEL}L{end:.2f} {_LEVEL - half:.2f}M{_EYE} {_LEVEL}L{end:.2f} '
        f'{_LEVEL + half:.2f}" fill="none" stroke="{MUTED}" stroke-dasharray="4 4"/>',
        f'<path d="M{_EYE - 26} {_LEVEL}q13 -17 26 0q-13 17 -26 0z" fill="{PAPER}" stroke="{INK}" '
        f'stroke-width="1.5"/><circle cx="{_EYE - 11}" cy="{_LEVEL}" r="6" fill="{INK}"/>',
        f'<rect id="{prefix}-sheet" x="{end:.2f}" y="{_LEVEL - half:.2f}" width="5" '
        f'height="{2 * half:.2f}" fill="{TINT}" stroke="{LINES["picture"].colour}" '
        'stroke-width="1.75"/>',
        f'<path id="{prefix}-distance" d="M{_EYE} {_LEVEL + 46}v12m0 -6H{end:.2f}m0 -6v12" '
        f'fill="none" stroke="{MUTED}"/>',
        text(_EYE, _LEVEL + 78, first, big=True),
        text(_EYE, _LEVEL + 94, other),
        text(
            _LEFT, _PATCH_TOP - 18, f"{_PAPER.both(units)} of paper, both magnified alike", big=True
        ),
        _patch(f"{prefix}-seen", _LEFT, ppi, "just told apart", units),
        _patch(f"{prefix}-usual", WIDTH // 2 + 8, 300, "for comparison", units),
        "</svg>",
    )
    return "".join(parts)


def draw_true_scale(dots_an_inch: int, thick: int, *, units: str, prefix: str) -> str:
    """A patch of lines, each ``thick`` CSS pixels wide, and a bank card as large as it is on a screen of
    ``dots_an_inch`` of them. It is never scaled to the page."""
    wide, high = (float(side) * dots_an_inch for side in (CARD.width, CARD.height))
    lines = "".join(
        f"M{at} {_LINES_TOP}h{thick}v{_LINES_HIGH}h{-thick}z"
        for at in range(_LEFT, _TRUE_WIDTH - _LEFT - thick, 2 * thick)
    )
    line = _thin(inches(thick / dots_an_inch), units)
    words = (
        f"A bank card, {CARD.width.both(units)} wide, if an inch of this screen has {dots_an_inch} "
        f"dots. Above it black and white lines, each {line} wide."
    )
    style = f"width:{_TRUE_WIDTH}px;max-width:none;height:{_TRUE_HIGH}px"
    return "".join(
        (
            open_canvas(
                prefix, _TRUE_HIGH, "True size, once the card fits", words,
                width=_TRUE_WIDTH, style=style,
            ),
            text(_LEFT, _LINES_TOP - 12, f"lines, each {line} wide"),
            f'<rect x="{_LEFT}" y="{_LINES_TOP}" width="{_TRUE_WIDTH - 2 * _LEFT}" '
            f'height="{_LINES_HIGH}" fill="{PAPER}"/>'
            f'<path id="{prefix}-lines" d="{lines}" shape-rendering="crispEdges"/>',
            f'<rect id="{prefix}-card" x="{_LEFT}" y="{_CARD_TOP}" width="{wide:.2f}" '
            f'height="{high:.2f}" rx="{dots_an_inch / 8:.2f}" fill="#dfe3e8" stroke="{INK}"/>',
            text(_LEFT + 10, _CARD_TOP + 22, "your card"),
            "</svg>",
        )
    )  # fmt: skip


def _patch(ident: str, left: int, ppi: float, note: str, units: str) -> str:
    """A square of paper in pixels, dark and light by turns, magnified."""
    side = inches(1 / ppi)
    size = _PATCH * float(side / _PAPER)
    square = f'x="{left}" y="{_PATCH_TOP}" width="{_PATCH}" height="{_PATCH}"'
    beside = left + _PATCH + 10
    return (
        f'<pattern id="{ident}-two" x="{left}" y="{_PATCH_TOP}" width="{2 * size:.3f}" '
        f'height="{2 * size:.3f}" patternUnits="userSpaceOnUse">'
        f'<path id="{ident}" d="M0 0h{size:.3f}v{2 * size:.3f}h{size:.3f}v{-size:.3f}h{-2 * size:.3f}z" '
        f'fill="{OKABE_ITO["blue"]}"/></pattern>'
        f'<rect {square} fill="{PAPER}"/>'
        f'<rect {square} fill="url(#{ident}-two)" stroke="{MUTED}"/>'
        + text(beside, _PATCH_TOP + 14, f"{ppi:.0f} ppi", big=True)
        + "".join(
            text(beside, _PATCH_TOP + 34 + 17 * at, words)
            for at, words in enumerate((*_thin_both(side, units), note))
        )
    )


def _thin_both(side: Length, units: str) -> tuple[str, str]:
    """A width too small for a ruler, in the unit that comes first and in the other."""
    metric, inch = f"{float(side.mm):.3f} mm", f"{float(side):.4f} in"
    return (metric, inch) if units == "mm" else (inch, metric)


def _thin(side: Length, units: str) -> str:
    return "{} ({})".format(*_thin_both(side, units))
