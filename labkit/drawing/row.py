"""Things of different sizes to one scale in rows, each in a column of its own, and what is said below."""

from collections.abc import Sequence
from dataclasses import dataclass

from labkit.drawing.canvas import Rect, rect, text
from labkit.drawing.style import LINES, MUTED, OKABE_ITO, PAPER, SMALL, WIDTH

SIDE, GAP, TOP, NARROWEST, LINE = 16, 12, 46, 106, 16
"""Margin, the gap between two columns, what the heading takes, the narrowest column, a line of type."""
OFF = f'fill="#fbe9dd" stroke="{OKABE_ITO["vermilion"]}" stroke-width="2" stroke-dasharray="7 4"'
"""What a print would cover that does not fit: vermilion, and vermilion thinned with white."""
SHEET = LINES["paper"].svg().replace('"none"', f'"{PAPER}"', 1)
"""A piece of paper."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a thing stands: left and top, its size, and the cell it must not be drawn out of."""

    box: Rect
    cell: Rect

    @property
    def foot(self) -> tuple[float, float]:
        """The middle of its lower edge."""
        left, top, wide, high = self.box
        return left + wide / 2, top + high


def rows(
    sizes: Sequence[tuple[float, float]], scale: float, below: int
) -> tuple[list[Spot], float]:
    """A place for each thing of ``sizes`` (inches) at ``scale``, standing on a line with ``below`` lines of
    type under it; and where the drawing then ends."""
    spots, bottom, begin = [], float(TOP), 0
    while begin < len(sizes):
        end = _row_end(sizes, scale, begin)
        columns = [max(wide * scale, NARROWEST) for wide, _ in sizes[begin:end]]
        tall = max(high for _, high in sizes[begin:end]) * scale
        left, foot = float(SIDE), bottom + tall
        for (wide, high), column in zip(sizes[begin:end], columns, strict=True):
            across, down = wide * scale, high * scale
            box = left + (column - across) / 2, foot - down, across, down
            cell = left - GAP / 2, bottom - 8, column + GAP, tall + 12
            spots.append(Spot(box, cell))
            left += column + GAP
        bottom, begin = foot + below * LINE + 24, end
    return spots, bottom


def largest_scale(
    layouts: Sequence[Sequence[tuple[float, float]]], below: int, most: float
) -> float:
    """Units to the inch at which each of ``layouts`` stays within the drawing and ends before ``most``."""
    widest = max(wide for sizes in layouts for wide, _ in sizes)
    scale = (WIDTH - 2 * SIDE) / widest
    while scale > 0.5 and any(rows(sizes, scale, below)[1] > most for sizes in layouts):
        scale *= 0.98
    return scale


def lines_below(spot: Spot, lines: Sequence[str]) -> str:
    """Lines of type below a thing, the first of them large."""
    across, foot = spot.foot
    return "".join(
        text(across, foot + 20 + LINE * number, line, big=number == 0, anchor="middle")
        for number, line in enumerate(lines)
    )


def clipped(ident: str, spot: Spot, drawn: str) -> str:
    """``drawn`` as far as it lies in the thing's own cell."""
    return (
        f'<clipPath id="{ident}-cell"><rect {rect(spot.cell)}/></clipPath>'
        f'<g clip-path="url(#{ident}-cell)">{drawn}</g>'
    )


def hatch(prefix: str) -> str:
    """The pattern of what a printer does not reach, as on every sheet; ``-hatch`` is its id."""
    return (
        f'<pattern id="{prefix}-hatch" width="5" height="5" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0v5" stroke="{OKABE_ITO["orange"]}" '
        'stroke-width="4"/></pattern>'
    )


def legend(top: float, items: Sequence[tuple[str, str]], lines: Sequence[str] = ()) -> str:
    """Samples (attributes of a small rectangle, or of a line for the words among ``lines``) and what each
    means, in a line."""
    drawn, left = [], float(SIDE)
    for look, words in items:
        if words in lines:
            drawn.append(f'<path d="M{left:.2f} {top - 4:.2f}h24" {look}/>')
        else:
            drawn.append(f'<rect x="{left:.2f}" y="{top - 11:.2f}" width="24" height="13" {look}/>')
        drawn.append(text(left + 31, top, words))
        left += 31 + len(words) * SMALL * 0.56 + 18
    return "".join(drawn)


def unreached(prefix: str) -> str:
    """The look of the band that a printer does not reach."""
    return f'fill="url(#{prefix}-hatch)" fill-rule="evenodd" stroke="{MUTED}" stroke-width="0.75"'


def _row_end(sizes: Sequence[tuple[float, float]], scale: float, begin: int) -> int:
    """How many of the things fit in the row that begins there: one at least."""
    left, end = float(SIDE), begin
    while end < len(sizes):
        left += max(sizes[end][0] * scale, NARROWEST)
        if left > WIDTH - SIDE + 0.01 and end > begin:
            break
        left, end = left + GAP, end + 1
    return end
