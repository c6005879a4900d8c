"""What is measured on a sheet: guides read off above it and to its left, as on a ruler; chains of dimensions
below it and to its right; and labels that find room beside each other."""

from itertools import pairwise

from labkit.drawing.stage import TOP, Stage
from labkit.drawing.style import BIG, LINES, MUTED, SMALL
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length

LABEL_HIGH, GAP = 32, 8
"""The height of a length in both units, and the gap to a neighbour."""

_THIN = f'fill="none" stroke="{MUTED}" stroke-width="0.75"'
SMALL_TYPE = f'font-size="{SMALL}" font-weight="400" fill="{MUTED}"'
_UNLIKE = {0.35: " il", 0.38: "/.,:", 0.47: "()tfrj", 1.05: "m×"}
_EM = {letter: width for width, letters in _UNLIKE.items() for letter in letters}
"""Letters narrower or wider than the common 0.7 em, in the widest screen type in common use, bold."""
_ACROSS, _DOWN = "{0:.2f} {1:.2f}".format, "{1:.2f} {0:.2f}".format
"""A point of a chain that runs across the drawing, and of one that runs down it."""


def draw_guides(layout: Layout, stage: Stage, units: str, prefix: str) -> str:
    """Guides across the whole sheet, each led out to its reading above or to the left."""
    across, down = layout.guides
    texts = [label_texts(place, units) for place in (*across, *down)]
    xs, ys = [stage.x(place) for place in across], [stage.y(place) for place in down]
    above = spread_apart(xs, [_label_width(pair) for pair in texts[:2]], GAP, stage.width - GAP)
    beside = spread_apart(ys, [LABEL_HIGH] * 2, TOP - 8, stage.floor + 8)
    out, edge = TOP - 17, stage.left - 17
    drawn = []
    for side, x, spot, text in zip(("left", "right"), xs, above, texts[:2], strict=True):
        line = f"M{x:.2f} {stage.bottom:.2f}V{stage.top - 9:.2f}"
        lead = f"M{x:.2f} {stage.top - 9:.2f}L{spot:.2f} {out:.2f}"
        drawn.append(_guide(f"{prefix}-guide-{side}", line, lead, spot, out - 31, "middle", text))
    for side, y, spot, text in zip(("top", "bottom"), ys, beside, texts[2:], strict=True):
        line = f"M{stage.right:.2f} {y:.2f}H{stage.left - 9:.2f}"
        lead = f"M{stage.left - 9:.2f} {y:.2f}L{edge:.2f} {spot:.2f}"
        high = spot - LABEL_HIGH / 2
        drawn.append(_guide(f"{prefix}-guide-{side}", line, lead, edge - 4, high, "end", text))
    return "".join(drawn)


def _guide(ident: str, line: str, lead: str, x: float, top: float, anchor: str, texts) -> str:
    label = _label(f"{ident}-at", x, top, anchor, texts)
    return (
        f'<path id="{ident}" d="{line}" {LINES["guide"].svg()}/><path d="{lead}" {_THIN}/>{label}'
    )


def draw_dimensions(layout: Layout, stage: Stage, units: str, prefix: str, guides: bool) -> str:
    """Two chains of dimensions: border, picture, border, below the sheet and to the right of it."""
    picture, borders = layout.picture, layout.borders
    xs = stage.left, stage.x(picture.left), stage.x(picture.right), stage.right
    ys = stage.top, stage.y(picture.top), stage.y(picture.bottom), stage.bottom
    row, column = stage.floor + 16, stage.right + 16
    down, across = stage.bottom, stage.right
    if not guides or layout.trim:  # then no guide leads from the picture's edge to the sheet's
        down, across = min(ys[2], down), min(xs[2], across)
    below = [label_texts(size, units) for size in (borders.left, picture.width, borders.right)]
    beside = [label_texts(size, units) for size in (borders.top, picture.height, borders.bottom)]
    widths, heights = [_label_width(texts) for texts in below], [LABEL_HIGH] * 3
    spots = spread_apart(_middles(xs), widths, GAP, stage.width - GAP)
    levels = spread_apart(_middles(ys), heights, TOP - 8, stage.floor + 8)
    drawn = [
        _chain(f"{prefix}-across", xs, stage.bottom, down, row, spots, widths, _ACROSS),
        _chain(f"{prefix}-down", ys, stage.right, across, column, levels, heights, _DOWN),
    ]
    for name, spot, texts in zip(("left", "width", "right"), spots, below, strict=True):
        drawn.append(_label(f"{prefix}-{name}", spot, row + 15, "middle", texts))
    for name, level, texts in zip(("top", "height", "bottom"), levels, beside, strict=True):
        top = level - LABEL_HIGH / 2
        drawn.append(_label(f"{prefix}-{name}", column + 17, top, "start", texts))
    return "".join(drawn)


def _chain(ident, stops, sheet, picture, line, spots, sizes, at) -> str:
    """One chain along ``line``: extension lines from the sheet's and the picture's edges, heads where
    there is room, and a leader to each label that does not fit its place."""
    paths = [
        f"M{at(stop, start + 2)}L{at(stop, line + 5)}"
        for stop, start in zip(stops, (sheet, picture, picture, sheet), strict=True)
    ]
    paths.append(f"M{at(stops[0], line)}L{at(stops[3], line)}")
    heads = []
    for (low, high), spot, size in zip(pairwise(stops), spots, sizes, strict=True):
        middle = (low + high) / 2
        if high - low < size or abs(spot - middle) > 1:
            paths.append(f"M{at(middle, line)}L{at(spot, line + 14)}")
        if high - low > 18:
            heads.append(f"M{at(low, line)}L{at(low + 7, line - 3)}L{at(low + 7, line + 3)}z")
            heads.append(f"M{at(high, line)}L{at(high - 7, line - 3)}L{at(high - 7, line + 3)}z")
    return f'<path id="{ident}" d="{"".join(paths)}" {_THIN}/><path d="{"".join(heads)}" fill="{MUTED}"/>'


def _middles(stops) -> list[float]:
    return [(low + high) / 2 for low, high in pairwise(stops)]


def spread_apart(wanted, sizes, low: float, high: float) -> list[float]:
    """Centres as near to those wanted as can be, in the same order, apart, between ``low`` and ``high``.

    Least squares: each size and gap is taken off, neighbours out of order share their mean, and the
    sizes are put back.
    """
    offsets, end = [], 0.0
    for size in sizes:
        offsets.append(end + size / 2)
        end += size + GAP
    groups: list[list[float]] = []
    for want, offset in zip(wanted, offsets, strict=True):
        groups.append([want - offset, 1])
        while len(groups) > 1 and groups[-2][0] > groups[-1][0]:
            (mean, count), (other, more) = groups[-2], groups.pop()
            groups[-1] = [(mean * count + other * more) / (count + more), count + more]
    last = high - end + GAP
    places = [min(max(mean, low), last) for mean, count in groups for _ in range(int(count))]
    return [place + offset for place, offset in zip(places, offsets, strict=True)]


def label_texts(size: Length, units: str) -> tuple[str, str]:
    """A length in the unit that comes first, and in the other."""
    one, other = size.inch_text(), size.mm_text()
    return (other, one) if units == "mm" else (one, other)


def _label_width(texts: tuple[str, str]) -> float:
    return max(text_width(texts[0], BIG), text_width(texts[1], SMALL))


def text_width(text: str, size: int) -> float:
    """About how wide a line of type is, in the drawing's units; rather too wide than too narrow."""
    return size * sum([_EM.get(letter, 0.7) for letter in text])


def _label(ident: str, x: float, top: float, anchor: str, texts: tuple[str, str]) -> str:
    """The first unit large, the other small below it; no taller than ``LABEL_HIGH``."""
    return (
        f'<text id="{ident}" x="{x:.2f}" y="{top + 13:.2f}" text-anchor="{anchor}" font-size="{BIG}" '
        f'font-weight="600">{texts[0]}<tspan x="{x:.2f}" dy="15" {SMALL_TYPE}>{texts[1]}</tspan></text>'
    )
