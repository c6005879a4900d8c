"""Things beside one another, to one scale and standing on one line, as SVG."""

from collections.abc import Sequence
from dataclasses import dataclass

from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.style import BIG, LINES, MUTED, PAPER, TINT, WIDTH
from labkit.geometry.length import Length, length, size_text
from labkit.geometry.paper import find_sheet

_SIDE, _GAP, _TOP, _HIGHEST, _NARROWEST = 16, 20, 44, 400, 118
"""Margins, the gap between two things, what the heading takes, the tallest thing, the narrowest column."""
_LABEL = 60


@dataclass(frozen=True, slots=True)
class Thing:
    """Something of a known size; ``kind`` is "picture", "paper" or "card"."""

    name: str
    width: Length
    height: Length
    kind: str = "picture"

    def words(self, units: str) -> str:
        """Its name and its size."""
        return f"{self.name} {by_text(self, units)}"


CARD = Thing("bank card", length("85.60mm"), length("53.98mm"), "card")
"""ISO/IEC 7810, ID-1 (from memory)."""
LETTER = Thing("letter sheet", find_sheet("letter").width, find_sheet("letter").height, "paper")

_LOOKS = {
    "picture": LINES["picture"].svg().replace('"none"', f'"{TINT}"', 1),
    "paper": LINES["paper"].svg().replace('"none"', f'"{PAPER}"', 1),
    "card": f'rx="4" fill="#dfe3e8" stroke="{MUTED}"',
}


def draw_beside(
    things: Sequence[Thing],
    most: Sequence[Thing],
    *,
    units: str,
    prefix: str,
    title: str,
) -> str:
    """Draw ``things`` in a row, each with its name and size below it.

    The scale is the one at which ``most``, the same things as large as they can get, fit: so it does
    not change while one of them grows. A picture has an empty image, ``-photo`` with its number, for
    the photo.
    """
    scale, columns = _scale(most)
    base = _TOP + max(float(each.height) for each in most) * scale
    parts, left = [], float(_SIDE)
    for number, (thing, column) in enumerate(zip(things, columns, strict=True)):
        parts.append(_stand(thing, left, base, scale, f"{prefix}-{number}"))
        parts.append(_label(thing, left, base, units))
        left += column + _GAP
    words = "; ".join(each.words(units) for each in things)
    described = f"To one scale: {words}."
    height = int(base + _LABEL + 6)
    start = open_canvas(prefix, height, title, described, data={"unit-scale": scale})
    return "".join((start, *parts, "</svg>"))


def by_text(thing: Thing, units: str) -> str:
    """Width by height in both units."""
    return size_text((thing.width, thing.height), units)


def _scale(most: Sequence[Thing]) -> tuple[float, list[float]]:
    """Units to the inch, and the width of each column: that of the thing, or of its label."""
    wide = [float(each.width) for each in most]
    room = WIDTH - 2 * _SIDE - _GAP * (len(most) - 1)
    narrow: set[int] = set()
    while True:
        others = [size for at, size in enumerate(wide) if at not in narrow]
        scale = (room - _NARROWEST * len(narrow)) / sum(others)
        more = {at for at, size in enumerate(wide) if size * scale < _NARROWEST} - narrow
        if not more or len(narrow | more) == len(wide):
            break
        narrow |= more
    scale = min(scale, _HIGHEST / max(float(each.height) for each in most))
    return scale, [max(size * scale, _NARROWEST) for size in wide]


def _stand(thing: Thing, left: float, base: float, scale: float, ident: str) -> str:
    wide, high = float(thing.width) * scale, float(thing.height) * scale
    rect = f'x="{left:.2f}" y="{base - high:.2f}" width="{wide:.2f}" height="{high:.2f}"'
    photo = ""
    if thing.kind == "picture":
        photo = f'<image id="{ident}-photo" {rect} preserveAspectRatio="none"/>'
    return f'<g><rect id="{ident}" {rect} {_LOOKS[thing.kind]}/>{photo}</g>'


def _label(thing: Thing, left: float, base: float, units: str) -> str:
    first, other = by_text(thing, units).removesuffix(")").split(" (")
    return (
        text(left, base + 19, thing.name, big=True)
        + f'<text x="{left:.2f}" y="{base + 36:.2f}" font-size="{BIG}">{first}</text>'
        + text(left, base + 52, other)
    )
