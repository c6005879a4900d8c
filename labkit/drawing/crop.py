"""A whole picture with the crop window on it, what is cropped away veiled, as SVG."""

from dataclasses import dataclass
from fractions import Fraction
from html import escape

from labkit.drawing.canvas import Rect, open_canvas, photo, rect, text
from labkit.drawing.style import BIG, LINES, MUTED, OKABE_ITO, PAPER, SMALL, WIDTH
from labkit.geometry.proportion import Crop, Part

_SIDE, _TOP, _WIDE, _HIGH, _BAR = 16, 44, 608, 380, 16
"""Margin, what the heading takes, the most a picture may take, the height of the bar below it."""
_KEEP = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="2.5" stroke-dasharray="8 4"'
_CASING = f'fill="none" stroke="{PAPER}" stroke-width="5" stroke-opacity="0.8"'
_VEIL = f'fill="{PAPER}" fill-opacity="0.78" fill-rule="evenodd"'


@dataclass(frozen=True, slots=True)
class Lip:
    """What a frame covers at the edge of the crop: so much of the picture's width and height."""

    wide: Fraction
    high: Fraction


def draw_crop(
    shape: tuple[int, int],
    crop: Crop,
    *,
    prefix: str,
    title: str,
    words: str,
    across: float,
    keep: Part | None = None,
    lip: Lip | None = None,
) -> str:
    """Draw a picture of ``shape`` pixels, the window of ``crop`` on it, and what is lost as a bar.

    The window can be dragged; its place is told with the picture ``across`` units wide. ``keep`` is
    outlined and named. ``lip`` hatches what a frame covers of the crop: what is seen lies inside.
    """
    scale = min(_WIDE / shape[0], _HIGH / shape[1])
    wide, high = shape[0] * scale, shape[1] * scale
    whole = (WIDTH - wide) / 2, float(_TOP), wide, high
    window = _part(whole, crop.left, crop.top, crop.width, crop.height)
    data = {"unit-scale": wide / across, "origin-x": whole[0], "origin-y": whole[1]}
    bottom = _TOP + high
    parts = [
        open_canvas(prefix, int(bottom + 62), title, words, data=data),
        photo(f"{prefix}-whole", whole),
        f'<path d="{_path(whole)}{_path(window)}" {_VEIL}/>',
        _lip(prefix, window, whole, lip) if lip else "",
        f'<g data-drag="window"><rect {rect(window)} fill="{PAPER}" fill-opacity="0"/>'
        f"<rect {rect(window)} {_CASING}/>"
        f'<rect id="{prefix}-window" {rect(window)} {_LINE}/></g>',
        _named(prefix, whole, keep) if keep else "",
        _bar(prefix, bottom + 14, 1 - crop.lost),
        "</svg>",
    ]
    return "".join(parts)


_LINE = LINES["picture"].svg().replace('stroke-width="1.75"', 'stroke-width="2.5"')


def _part(whole: Rect, left, top, wide, high) -> Rect:
    x, y, across, down = whole
    return x + float(left) * across, y + float(top) * down, float(wide) * across, float(high) * down


def _path(at: Rect) -> str:
    left, top, wide, high = at
    return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"


def _lip(prefix: str, window: Rect, whole: Rect, lip: Lip) -> str:
    """The covered band, hatched, and the line that is its inner edge."""
    x, y = float(lip.wide) * whole[2], float(lip.high) * whole[3]
    left, top, wide, high = window
    seen = left + x, top + y, wide - 2 * x, high - 2 * y
    return (
        f'<pattern id="{prefix}-hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><rect width="6" height="6" fill="{MUTED}" fill-opacity="0.55"/>'
        f'<path d="M0 0v6" stroke="{PAPER}" stroke-width="2.5"/></pattern>'
        f'<path d="{_path(window)}{_path(seen)}" fill="url(#{prefix}-hatch)" fill-rule="evenodd"/>'
        f'<rect id="{prefix}-seen" {rect(seen)} fill="none" stroke="{MUTED}"/>'
    )


def _named(prefix: str, whole: Rect, keep: Part) -> str:
    left, top, right, bottom = keep.box
    box = _part(whole, left, top, right - left, bottom - top)
    middle, base = box[0] + box[2] / 2, box[1] - 7
    return (
        f'<g pointer-events="none"><rect {rect(box)} {_CASING}/>'
        f'<rect id="{prefix}-keep" {rect(box)} {_KEEP}/>'
        f'<text x="{middle:.2f}" y="{base:.2f}" text-anchor="middle" font-size="{BIG}" font-weight="600" '
        f'stroke="{PAPER}" stroke-width="4" stroke-linejoin="round" paint-order="stroke">'
        f"{escape(keep.name)}</text></g>"
    )


def _bar(prefix: str, top: float, kept: Fraction) -> str:
    """The whole picture's area as a bar: what is kept, and what is not."""
    wide = float(kept) * _WIDE
    lost = round(float(1 - kept) * 100)
    told = f"{100 - lost}% kept"
    return (
        f'<rect {rect((_SIDE, top, _WIDE, _BAR))} fill="{PAPER}" stroke="{MUTED}"/>'
        f'<rect id="{prefix}-kept" {rect((_SIDE, top, wide, _BAR))} fill="{OKABE_ITO["blue"]}"/>'
        + text(_SIDE, top + _BAR + SMALL + 6, told, big=True)
        + f'<text x="{_SIDE + _WIDE}" y="{top + _BAR + SMALL + 6:.2f}" text-anchor="end" '
        f'font-size="{BIG}" font-weight="600">{lost}% cropped away</text>'
    )
