"""Sheets to one scale with a print on each, a sheet folded, a frame, a roll, an edge enlarged: as SVG."""

from collections.abc import Sequence

from labkit.drawing.canvas import open_canvas, text
from labkit.drawing.sheet import LINES, MUTED, OKABE_ITO, PAPER, TINT, WIDTH
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.stock import RollRun

_PAPER = LINES["paper"].svg().replace('"none"', f'"{PAPER}"', 1)
_PICTURE = LINES["picture"].svg().replace('"none"', f'"{TINT}"', 1)
_OFF = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="2" stroke-dasharray="6 4"'
_SIDE, _TOP = 16, 50

Size = tuple[Length, Length]


def draw_stock(size: Size, sheets: Sequence[tuple[Sheet, bool]], *, prefix: str, words: str) -> str:
    """Every sheet in a row with the print laid on it; ``sheets`` as they lie, and whether each holds it.

    A print that is too large is drawn in dashes over the sheet's edge. The scale is that of the
    sheets, each in a column as wide as its longer side, so that it does not change with the print.
    """
    gap = 14
    columns = [float(max(sheet.width, sheet.height)) for sheet, _ in sheets]
    scale = (WIDTH - 2 * _SIDE - gap * (len(sheets) - 1)) / sum(columns)
    base = _TOP + max(columns) * scale
    parts, left = [], float(_SIDE)
    for number, ((sheet, holds), column) in enumerate(zip(sheets, columns, strict=True)):
        wide, high = float(sheet.width) * scale, float(sheet.height) * scale
        x, y = left + (column * scale - wide) / 2, base - high
        parts.append(f'<rect id="{prefix}-{number}" {_rect(x, y, wide, high)} {_PAPER}/>')
        parts.append(_laid(size, x, y, wide, high, scale, holds, f"{prefix}-{number}"))
        middle = left + column * scale / 2
        parts.append(text(middle, base + 20, sheet.name, big=True, anchor="middle"))
        parts.append(text(middle, base + 38, _fate(sheet, holds), anchor="middle"))
        left += column * scale + gap
    start = open_canvas(prefix, int(base + 52), "The sheets in stock, to one scale", words)
    return "".join((start, *parts, "</svg>"))


def draw_fold(pieces: Sequence[Sheet], folds: int, *, prefix: str, words: str) -> str:
    """The largest of ``pieces`` with the lines of so many folds, and the piece that is left."""
    first = pieces[0]
    high = 400
    scale = high / float(first.height)
    parts = []
    for number in range(folds + 1):
        piece = pieces[number]
        sides = (piece.width, piece.height) if number % 2 == 0 else (piece.height, piece.width)
        wide, tall = (float(side) * scale for side in sides)
        look = _PICTURE if number == folds else _PAPER
        parts.append(f'<rect id="{prefix}-{number}" {_rect(_SIDE, _TOP, wide, tall)} {look}/>')
        if number:
            before = pieces[number - 1]
            beside = float(before.height) / 2 * scale if number % 2 == 0 else 0
            below = float(before.height) / 2 * scale if number % 2 else 0
            if min(wide, tall) > 26:
                at = _SIDE + beside + 6, _TOP + below + 17
                parts.append(text(*at, pieces[number].name))
    if min(float(pieces[folds].width), float(pieces[folds].height)) * scale > 26:
        parts.append(text(_SIDE + 6, _TOP + 17, pieces[folds].name, big=True))
    title = f"{first.name} folded {folds} times" if folds else f"{first.name}, not folded"
    start = open_canvas(prefix, _TOP + high + 16, title, words, width=WIDTH)
    return "".join((start, *parts, "</svg>"))


def draw_frame(opening: Size, lip: Length, *, prefix: str, words: str) -> str:
    """A frame from the front: moulding, the lip over the picture's edge, what is seen."""
    high = 360
    moulding = Length(max(opening).inches / 12)
    outer = opening[0] + (moulding - lip) * 2, opening[1] + (moulding - lip) * 2
    scale = min(high / float(outer[1]), (WIDTH - 2 * _SIDE) / float(outer[0]))
    wide, tall = (float(side) * scale for side in outer)
    left = (WIDTH - wide) / 2

    def inset(by: Length) -> str:
        off = float(by) * scale
        return _rect(left + off, _TOP + off, wide - 2 * off, tall - 2 * off)

    edge = moulding - lip
    seen = float(moulding) * scale
    parts = [
        f'<rect {inset(ZERO)} fill="#d8cdbd" stroke="{MUTED}"/>',
        f'<g><rect {inset(moulding)} fill="{TINT}"/>'
        f'<image id="{prefix}-photo" {inset(moulding)} preserveAspectRatio="xMidYMid slice"/></g>',
        f'<rect id="{prefix}-sight" {inset(moulding)} {LINES["picture"].svg()}/>',
        f'<rect id="{prefix}-opening" {inset(edge)} {_OFF}/>',
        text(left + seen, _TOP + tall + 20, "solid line: what is seen (sight size)"),
        text(left + seen, _TOP + tall + 38, "dashes: the picture, reaching under the lip"),
    ]
    start = open_canvas(prefix, int(_TOP + tall + 52), "A frame, from the front", words)
    return "".join((start, *parts, "</svg>"))


def draw_roll(size: Size, roll_width: Length, run: RollRun, *, prefix: str, words: str) -> str:
    """A print on a roll that runs off to the right: its width is fixed, its length is not."""
    most = 300
    scale = min(most / float(roll_width), (WIDTH - 2 * _SIDE - 40) / float(run.length))
    tall, long = float(roll_width) * scale, float(run.length) * scale
    print_long, print_tall = float(size[1]) * scale, float(size[0]) * scale
    blank_end = (long - print_long) / 2
    left = _SIDE + 24
    look = _PICTURE if run.fits else _OFF
    parts = [
        f"<rect {_rect(left, _TOP, WIDTH - left, tall)} {_PAPER}/>",
        f'<ellipse cx="{left}" cy="{_TOP + tall / 2:.2f}" rx="16" ry="{tall / 2:.2f}" '
        f'fill="#dfe3e8" stroke="{MUTED}"/>',
        f'<rect id="{prefix}-print" '
        f"{_rect(left + blank_end, _TOP + (tall - print_tall) / 2, print_long, print_tall)} {look}/>",
        f'<path id="{prefix}-cut" d="M{left + long:.2f} {_TOP - 6}v{tall + 12:.2f}" '
        f"{LINES['trim'].svg()}/>",
        text(left + long + 6, _TOP + tall + 20, "cut here"),
        text(_SIDE, _TOP + tall + 20, "the roll"),
    ]
    start = open_canvas(prefix, int(_TOP + tall + 34), "A print on the roll, to scale", words)
    return "".join((start, *parts, "</svg>"))


def draw_edge(tolerance: Length, pixel: Length, off: Length, *, prefix: str, words: str) -> str:
    """The edge of a sheet, enlarged: how far a cut may be off, and where the pixels end."""
    half = 250
    scale = half / float(tolerance)
    middle, high = WIDTH / 2, 120
    step = float(pixel) * scale
    first = middle + float(off) * scale
    count = min(60, int(half / step) + 1) if step >= 2 else 0
    grid = "".join(
        f"M{first - number * step:.2f} {_TOP + 20}v{high - 40}" for number in range(count)
    )
    parts = [
        f'<rect id="{prefix}-allowed" {_rect(middle - half, _TOP, 2 * half, high)} '
        f'fill="#fbeede" stroke="{OKABE_ITO["vermilion"]}" stroke-dasharray="6 4"/>',
        f'<path d="{grid}" stroke="{OKABE_ITO["blue"]}" stroke-width="0.8"/>' if grid else "",
        f'<path d="M{middle} {_TOP - 4}v{high + 8}" stroke="{MUTED}" stroke-width="2"/>',
        f'<path id="{prefix}-end" d="M{first:.2f} {_TOP + 8}v{high - 16}" '
        f'stroke="{OKABE_ITO["blue"]}" stroke-width="3"/>',
        text(middle, _TOP + high + 20, "the edge as the standard names it", anchor="middle"),
        text(middle - half, _TOP + high + 38, "dashes: where the cut may fall"),
        text(middle + half, _TOP + high + 38, "blue: pixels, and where they end", anchor="end"),
    ]
    start = open_canvas(prefix, _TOP + high + 52, "The right edge of the sheet, enlarged", words)
    return "".join((start, *parts, "</svg>"))


def _laid(size: Size, x, y, wide, high, scale, holds: bool, ident: str) -> str:
    print_wide, print_high = (float(side) * scale for side in size)
    rect = _rect(x + (wide - print_wide) / 2, y + (high - print_high) / 2, print_wide, print_high)
    if not holds:
        return f'<rect id="{ident}-print" {rect} {_OFF}/>'
    photo = f'<image id="{ident}-photo" {rect} preserveAspectRatio="none"/>'
    return f'<g><rect id="{ident}-print" {rect} {_PICTURE}/>{photo}</g>'


def _fate(sheet: Sheet, holds: bool) -> str:
    if not holds:
        return "too small"
    return "on its side" if sheet.is_turned else "upright"


def _rect(x: float, y: float, wide: float, high: float) -> str:
    return f'x="{x:.2f}" y="{y:.2f}" width="{wide:.2f}" height="{high:.2f}"'
