"""A sheet folded in half again and again, and its pieces on one corner, as SVG."""

from collections.abc import Sequence

from labkit.drawing.canvas import open_canvas, rect, text
from labkit.drawing.style import LINES, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import ratio_text

_SIDE, _TOP, _BETWEEN, _HIGH = 16, 56, 40, 388
"""Margin, what the heading takes, the gap between the two drawings, the most their height may take."""
_PAPER = LINES["paper"].svg().replace('"none"', f'"{PAPER}"', 1)
_NOW = LINES["picture"].svg().replace('"none"', f'"{TINT}"', 1)
_RAYS = (
    f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="1.75"',
    f'fill="none" stroke="{OKABE_ITO["bluish green"]}" stroke-width="1.75" stroke-dasharray="9 4"',
)
"""The diagonal of the whole sheet, and that of its half."""
_ALIKE = 0.02
"""Ratios nearer than this part of each other are one: rounding to millimetres moves them so far."""
_LEAST = 30
"""The smallest piece that its name is written on."""


def draw_folding(
    pieces: Sequence[Sheet], most: Sequence[Sheet], *, prefix: str, title: str, words: str
) -> str:
    """Draw the first of ``pieces`` with its folds, each piece the half of the one before; beside it all
    of them upright on one corner, with their diagonals.

    Pieces of one ratio share a diagonal. The scale is the one at which each of ``most``, the largest
    sheets ever drawn, finds room.
    """
    wide = (WIDTH - 2 * _SIDE - _BETWEEN) / 2
    scale = min(
        min(wide / float(each.width), _HIGH / float(each.height))
        for each in most
    )  # fmt: skip
    high = max(float(each.height) for each in most) * scale
    parts = [open_canvas(prefix, int(_TOP + high + 30), title, words, data={"unit-scale": scale})]
    parts.append(_folded(pieces, scale, prefix))
    right = _SIDE + max(float(each.width) for each in most) * scale + _BETWEEN
    parts.append(_on_one_corner(pieces, right, _TOP + high, scale, prefix))
    foot = _TOP + high + 18
    parts.append(text(_SIDE, foot, "folded: each piece is half of the one before"))
    parts.append(text(right, foot, "the same pieces upright, on one corner"))
    return "".join((*parts, "</svg>"))


def _folded(pieces: Sequence[Sheet], scale: float, prefix: str) -> str:
    """Every piece in the upper left corner of the one before; the other half has its name."""
    drawn, names = [], []
    for number, piece in enumerate(pieces):
        sides = (piece.width, piece.height) if number % 2 == 0 else (piece.height, piece.width)
        wide, high = (float(side) * scale for side in sides)
        look = _NOW if number == len(pieces) - 1 else _PAPER
        drawn.append(f'<rect id="{prefix}-{number}" {rect((_SIDE, _TOP, wide, high))} {look}/>')
        if min(wide, high) < _LEAST:
            continue
        if number:
            at = (_SIDE, _TOP + high) if number % 2 else (_SIDE + wide, _TOP)
            names.append(_named(at[0] + wide / 2, at[1] + high / 2, piece.name, wide))
        if number == len(pieces) - 1:
            names.append(_named(_SIDE + wide / 2, _TOP + high / 2, piece.name, wide, big=True))
    return "".join(drawn + names)


def _named(x: float, y: float, name: str, wide: float, *, big: bool = False) -> str:
    """A piece's name in its middle, if there is room for it."""
    return text(x, y + 5, name, big=big, anchor="middle") if len(name) * 8 <= wide + 4 else ""


def _on_one_corner(
    pieces: Sequence[Sheet], left: float, base: float, scale: float, prefix: str
) -> str:
    """Every piece upright on the lower left corner, and the diagonals they share."""
    drawn = []
    for number, piece in enumerate(pieces):
        wide, high = float(piece.width) * scale, float(piece.height) * scale
        look = _NOW if number == len(pieces) - 1 else _PAPER
        at = left, base - high, wide, high
        drawn.append(f'<rect id="{prefix}-corner-{number}" {rect(at)} {look}/>')
    rays = _by_ratio(pieces)
    for number, piece in enumerate(rays):
        wide, high = float(piece.width) * scale, float(piece.height) * scale
        longer = min(float(pieces[0].width) * scale / wide, float(pieces[0].height) * scale / high)
        x, y = left + wide * longer, base - high * longer
        drawn.append(
            f'<path id="{prefix}-ray-{number}" d="M{left:.2f} {base:.2f}L{x:.2f} {y:.2f}" '
            f"{_RAYS[number]}/>"
        )
        anchor = "middle" if len(rays) == 1 else ("start", "end")[number]
        drawn.append(text(x, y - 6, ratio_text(piece.height / piece.width), anchor=anchor))
    return "".join(drawn)


def _by_ratio(pieces: Sequence[Sheet]) -> list[Sheet]:
    """The whole sheet, and its half where that has another ratio."""
    first = pieces[0].height / pieces[0].width
    others = [
        piece
        for piece in pieces[1:2]
        if abs(piece.height / piece.width - first) > first * _ALIKE
    ]  # fmt: skip
    return [pieces[0], *others]
