"""Pictures side by side, each in its own light, as SVG."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from labkit.drawing.canvas import open_canvas, photo, rect, text
from labkit.drawing.style import OKABE_ITO, WIDTH
from labkit.geometry.proportion import Crop

_SIDE, _TOP, _GAP, _BELOW = 10, 44, 10, 44
_CHOSEN = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="4"'


@dataclass(frozen=True, slots=True)
class Lit:
    """A picture in its light: the place it has in the strip, a label and a line below it, how bright its
    white is beside the brightest of the drawing (0 to 1), and whether it is the one chosen."""

    at: int
    label: str
    line: str
    light: float = 1.0
    chosen: bool = False


def draw_lit(
    tiles: Sequence[Lit],
    count: int,
    shape: tuple[int, int],
    *,
    across: int,
    prefix: str,
    title: str,
    words: str,
) -> str:
    """Pictures of ``shape`` (pixels), ``across`` of them in a row.

    The strip of ``count`` is the photo of the drawing. Light is dimmed as light, not as numbers: a filter
    multiplies it in linear RGB.
    """
    wide = (WIDTH - 2 * _SIDE - _GAP * (across - 1)) / across
    high = wide * shape[1] / shape[0]
    rows = ceil(len(tiles) / across)
    parts = [open_canvas(prefix, round(_TOP + rows * (high + _BELOW)), title, words)]
    for number, tile in enumerate(tiles):
        row, column = divmod(number, across)
        left, top = _SIDE + column * (wide + _GAP), _TOP + row * (high + _BELOW)
        place, ident = (left, top, wide, high), f"{prefix}-{number}"
        part = Crop(Fraction(tile.at, count), Fraction(0), Fraction(1, count), Fraction(1))
        parts += [
            _dimmed(ident, tile.light),
            f'<g filter="url(#{ident}-light)">{photo(ident, place, part)}</g>',
            text(left, top + high + 18, tile.label, big=True),
            text(left, top + high + 35, tile.line),
        ]
        if tile.chosen:
            parts.append(f'<rect id="{prefix}-chosen" {rect(place)} {_CHOSEN}/>')
    return "".join((*parts, "</svg>"))


def _dimmed(ident: str, light: float) -> str:
    """A filter that lets so much of the light through."""
    channels = "".join(f'<feFunc{each} type="linear" slope="{light:.4f}"/>' for each in "RGB")
    return (
        f'<filter id="{ident}-light" color-interpolation-filters="linearRGB" x="0" y="0" width="1" '
        f'height="1"><feComponentTransfer>{channels}</feComponentTransfer></filter>'
    )
