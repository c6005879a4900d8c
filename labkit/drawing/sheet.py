"""A sheet drawn to scale as SVG, and the same told in words.

Borders and the picture's size are dimensioned below and to the right of the sheet; guides are read
off above it and to its left, as on a ruler. Every sheet gets a canvas of the same width and is drawn
as large as the labels round it allow.
"""

import re
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from labkit.errors import LabError
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import WHOLE, Crop

WIDTH, LEAST_WIDTH = 640, 440
"""Of the whole drawing, in its own units, which are CSS pixels at full size."""
LEFT, TOP, RIGHT = 120, 106, 132
"""What the labels take on three sides of the sheet, in those units."""
TALL = 0.54
"""The most that a sheet's height may take, as a part of the drawing's width."""
LEAST_HIGH = 112
"""The height kept for the flattest sheet: three labels above one another."""
BIG, SMALL, LABEL_HIGH, GAP = 14, 12, 32, 8
"""Type sizes of the unit named first and of the other, the height of both, and the gap to a neighbour."""

OKABE_ITO = {
    "black": "#000000",
    "orange": "#e69f00",
    "sky blue": "#56b4e9",
    "bluish green": "#009e73",
    "yellow": "#f0e442",
    "blue": "#0072b2",
    "vermilion": "#d55e00",
    "reddish purple": "#cc79a7",
}
"""Colours told apart by most eyes: Okabe and Ito, Color Universal Design (2002, revised 2008)."""
PANEL, PAPER, INK, MUTED = "#f6f7f8", "#ffffff", "#1a1a1a", "#4d4d4d"
TINT = "#e3f2fb"
"""Sky blue thinned with white."""


@dataclass(frozen=True, slots=True)
class Line:
    """How one kind of line looks, and what the legend calls it."""

    colour: str
    width: float
    dash: str
    words: str

    def svg(self) -> str:
        """Its look as attributes."""
        dash = f' stroke-dasharray="{self.dash}" stroke-linecap="round"' if self.dash else ""
        return f'fill="none" stroke="{self.colour}" stroke-width="{self.width}"{dash}'


LINES = {
    "paper": Line(MUTED, 1, "", "paper"),
    "picture": Line(OKABE_ITO["blue"], 1.75, "", "picture"),
    "guide": Line(OKABE_ITO["bluish green"], 1.5, "11 4.5 0.5 4.5", "guide"),
    "trim": Line(OKABE_ITO["vermilion"], 1.75, "5 5", "cut here"),
    "bleed": Line(OKABE_ITO["reddish purple"], 2, "0.01 4", "bleed"),
    "mark": Line(OKABE_ITO["black"], 1, "", "corner mark"),
}
"""One look for each kind of line, told apart by dash and by the legend's words as well as by colour."""

_STROKE = {kind: line.svg() for kind, line in LINES.items()}
_SWATCH = '<rect y="-10" width="22" height="12" {}/>'
_SAMPLE = {kind: f'<path d="M0 -4h22" {stroke}/>' for kind, stroke in _STROKE.items()} | {
    "picture": _SWATCH.format(_STROKE["picture"].replace('"none"', f'"{TINT}"')),
}
_CASING = f'fill="none" stroke="{PAPER}" stroke-opacity="0.7" stroke-width="3"'
_THIN = f'fill="none" stroke="{MUTED}" stroke-width="0.75"'
_SMALL = f'font-size="{SMALL}" font-weight="400" fill="{MUTED}"'
_UNLIKE = {0.35: " il", 0.38: "/.,:", 0.47: "()tfrj", 1.05: "m×"}
_EM = {letter: width for width, letters in _UNLIKE.items() for letter in letters}
"""Letters narrower or wider than the common 0.7 em, in the widest screen type in common use, bold."""
_ACROSS, _DOWN = "{0:.2f} {1:.2f}".format, "{1:.2f} {0:.2f}".format
"""A point of a chain that runs across the drawing, and of one that runs down it."""
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What no XML may hold: XML 1.0, production 2, Char."""
_PREFIX = re.compile(r"[A-Za-z][\w-]*", re.ASCII)


def draw_sheet(
    layout: Layout,
    *,
    units: str = "in",
    href: str | None = None,
    shows_sheet: bool = False,
    prefix: str = "sheet",
    scale_width: int | None = None,
    guides: bool = True,
    dimensions: bool = True,
) -> str:
    """Draw a layout to scale as one self-contained SVG.

    ``units`` ("in" or "mm") are the large figures; the other unit stands small beside them. ``href``
    addresses the whole picture (as data, to keep the drawing in one piece) and the layout's crop
    chooses the part shown; with ``shows_sheet`` it addresses the whole sheet, of which the picture's box is
    shown; without it the picture is a plain tinted box. ``scale_width`` is the width
    of the whole drawing in CSS pixels (None: 640): type keeps its size and the sheet takes what is
    left. ``guides`` and ``dimensions`` switch those lines and their figures.

    Every id begins with ``prefix``: ``-sheet`` is the paper, ``-picture`` the group to move when the
    picture is dragged, ``-photo`` the ``<image>`` in it, whose href a script may set. On the root,
    ``data-unit-scale`` (units to the inch) and ``data-origin-x`` and ``-y`` (the sheet's corner) turn
    a place on the drawing into inches. LabError for other units, a prefix that cannot begin an id, or
    a width too small for the labels.
    """
    width = scale_width or WIDTH
    _check(units, prefix, width)
    stage = _stage(layout.sheet, width)
    parts = [_header(layout, units), _paper(layout, stage, prefix)]
    if guides:
        parts.append(_guides(layout, stage, units, prefix))
    shown = _part_of_sheet(layout) if shows_sheet else layout.crop
    parts += [_picture(layout, stage, href, shown, prefix), _lost(layout, stage, prefix)]
    if layout.trim:
        parts.append(_trim(layout, stage, prefix))
    if dimensions:
        parts.append(_dimensions(layout, stage, units, prefix, guides))
    legend, height = _legend(layout, stage, prefix, guides, dimensions)
    words = describe_sheet(layout, units=units, guides=guides)
    root = _root(layout.sheet, stage, units, prefix, words, height)
    return "".join((root, *parts, legend, "</svg>"))


def describe_sheet(layout: Layout, *, units: str = "in", guides: bool = True) -> str:
    """The drawing in words: the layout's sentence, then guides, trim lines and unprintable edges."""
    told = [layout.sentence(units)]
    if guides:
        across, down = (
            " and ".join(place.both(units) for place in places) for places in layout.guides
        )
        told.append(f"Guides stand at {across} from the left and at {down} from the top.")
    if layout.trim and layout.trim.marked:
        bleed = "" if layout.keeps_white else "; the picture runs past the cut by the bleed"
        told.append(f"Corner marks show where to cut{bleed}.")
    edges = [f"{side} {edge.both(units)}" for side, edge in layout.unprintable.items() if edge]
    if edges:
        told.append(f"The printer does not reach the edges: {', '.join(edges)}.")
    return " ".join(told)


@dataclass(frozen=True, slots=True)
class _Stage:
    """Where the sheet stands on a canvas ``width`` wide: units to the inch, and its four edges.

    ``floor`` is the lower end of the room kept for the labels beside it, which begins at ``TOP`` and
    which a flat sheet does not fill.
    """

    width: int
    scale: float
    left: float
    top: float
    right: float
    bottom: float
    floor: float

    def x(self, place: Length) -> float:
        return self.left + float(place.inches) * self.scale

    def y(self, place: Length) -> float:
        return self.top + float(place.inches) * self.scale

    def sides(self, box: Box) -> tuple[float, float, float, float]:
        """Left, top, width and height of a box."""
        size = float(box.width.inches) * self.scale, float(box.height.inches) * self.scale
        return self.x(box.left), self.y(box.top), *size

    def rect(self, box: Box) -> str:
        """A box as a rectangle's attributes."""
        return 'x="{:.2f}" y="{:.2f}" width="{:.2f}" height="{:.2f}"'.format(*self.sides(box))

    def path(self, box: Box) -> str:
        """A box as part of a path."""
        left, top, wide, high = self.sides(box)
        return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"


def _stage(sheet: Sheet, width: int) -> _Stage:
    wide, high = float(sheet.width.inches), float(sheet.height.inches)
    room = width - LEFT - RIGHT
    scale = int(min(room / wide, TALL * width / high) * 1000) / 1000
    wide, high = wide * scale, high * scale
    floor = TOP + max(high, LEAST_HIGH)
    left = round(LEFT + (room - wide) / 2, 2)
    top = round((TOP + floor - high) / 2, 2)
    return _Stage(width, scale, left, top, left + wide, top + high, floor)


def _check(units: str, prefix: str, width: int) -> None:
    if units not in ("in", "mm"):
        raise LabError(f"a drawing cannot be dimensioned in “{units}”: choose in or mm.")
    if not _PREFIX.fullmatch(prefix):
        raise LabError(
            f"“{prefix}” cannot begin an id: start with a letter, then letters, digits, - or _."
        )
    if width < LEAST_WIDTH:
        raise LabError(
            f"a drawing {width} pixels wide has no room for its labels: make it {LEAST_WIDTH} or more."
        )


def _root(sheet: Sheet, stage: _Stage, units: str, prefix: str, words: str, height: int) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{prefix}" '
        f'viewBox="0 0 {stage.width} {height}" width="{stage.width}" height="{height}" '
        'style="max-width:100%;height:auto" '
        f'role="img" aria-labelledby="{prefix}-title {prefix}-desc" '
        f'data-sheet-width-in="{float(sheet.width.inches):.6f}" '
        f'data-sheet-height-in="{float(sheet.height.inches):.6f}" '
        f'data-unit-scale="{stage.scale:.3f}" '
        f'data-origin-x="{stage.left:.2f}" data-origin-y="{stage.top:.2f}" '
        f'font-family="system-ui, sans-serif" font-size="{SMALL}" fill="{INK}">'
        f'<title id="{prefix}-title">Sheet {_escaped(_called(sheet, units))}, drawn to scale</title>'
        f'<desc id="{prefix}-desc">{_escaped(words)}</desc>'
        f'<rect width="{stage.width}" height="{height}" fill="{PANEL}"/>'
    )


def _header(layout: Layout, units: str) -> str:
    sheet, trim = layout.sheet, layout.trim
    other = "in" if units == "mm" else "mm"
    lines = _headline(
        26, f"Sheet {_called(sheet, units)}", _by(sheet.width, sheet.height, other), BIG + 2
    )
    if trim:
        lines += _headline(
            45, f"Trimmed to {_by(*trim.box.size, units)}", _by(*trim.box.size, other)
        )
    elif layout.crop != WHOLE:
        lines += _headline(45, "Picture cropped", f"{float(layout.crop.lost):.0%} of it is cut off")
    return lines


def _headline(y: int, first: str, second: str, size: int = BIG) -> str:
    return (
        f'<text x="16" y="{y}" font-size="{size}" font-weight="600">{_escaped(first)}'
        f'<tspan dx="10" {_SMALL}>{_escaped(second)}</tspan></text>'
    )


def _paper(layout: Layout, stage: _Stage, prefix: str) -> str:
    """The sheet, hatched where the printer does not reach."""
    sheet = f'<rect id="{prefix}-sheet" {stage.rect(layout.sheet_box)} fill="{PAPER}" stroke="{MUTED}"/>'
    if not any(edge for _, edge in layout.unprintable.items()):
        return sheet
    return (
        f'<pattern id="{prefix}-hatch" width="5" height="5" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0v5" stroke="{OKABE_ITO["orange"]}" '
        f'stroke-width="4"/></pattern>{sheet}'
        f'<path d="{stage.path(layout.sheet_box)}{stage.path(layout.printable)}" '
        f'fill="url(#{prefix}-hatch)" fill-rule="evenodd" stroke="{MUTED}" stroke-width="0.75"/>'
        f'<rect id="{prefix}-printable" {stage.rect(layout.printable)} fill="none"/>'
    )


def _part_of_sheet(layout: Layout) -> Crop:
    box, sheet = layout.picture, layout.sheet
    left, width = box.left / sheet.width, box.width / sheet.width
    top, height = box.top / sheet.height, box.height / sheet.height
    return Crop(left, top, width, height)


def _picture(layout: Layout, stage: _Stage, href: str | None, part: Crop, prefix: str) -> str:
    """The picture's box, and over it the image through a window on the part that is used."""
    left, top, wide, high = stage.sides(layout.picture)
    rect = stage.rect(layout.picture)
    window = " ".join(
        f"{float(side) * 1000:.3f}" for side in (part.left, part.top, part.width, part.height)
    )
    cross = (
        f'<path d="M{left:.2f} {top:.2f}l{wide:.2f} {high:.2f}m0 {-high:.2f}l{-wide:.2f} {high:.2f}" '
        f'fill="none" stroke="{OKABE_ITO["sky blue"]}"/>'
    )
    outline = "" if _is_bled(layout) else f"<rect {rect} {_STROKE['picture']}/>"
    address = f' href="{_escaped(href)}"' if href else ""
    return (
        f'<g id="{prefix}-picture"><rect {rect} fill="{TINT}"/>{"" if href else cross}'
        f'<svg {rect} viewBox="{window}" preserveAspectRatio="none">'
        f'<image id="{prefix}-photo" width="1000" height="1000" preserveAspectRatio="none"{address}/>'
        f"</svg>{outline}</g>"
    )


def _lost(layout: Layout, stage: _Stage, prefix: str) -> str:
    """What of the picture lies where the printer does not reach, hatched as the paper is there."""
    kept = layout.picture.clipped(layout.printable)
    if kept == layout.picture:
        return ""
    kept_path = stage.path(kept) if min(kept.size) > ZERO else ""
    return (
        f'<path id="{prefix}-lost" d="{stage.path(layout.picture)}{kept_path}" '
        f'fill="url(#{prefix}-hatch)" fill-rule="evenodd"/>'
    )


def _is_bled(layout: Layout) -> bool:
    """Whether the picture ends where the bleed does, so that one line stands for both."""
    return layout.trim is not None and layout.picture == layout.trim.bleed_box


def _trim(layout: Layout, stage: _Stage, prefix: str) -> str:
    """What will be cut off paled, then bleed, trim and corner marks, on white to show on any picture."""
    trim, outer = layout.trim, layout.trim.bleed_box
    bleed, cut = stage.rect(outer), stage.rect(trim.box)
    marks = "".join(stage.path(mark) for mark in trim.marks())
    if layout.keeps_white:
        return (
            f'<path d="{stage.path(layout.sheet_box)}{stage.path(trim.box)}" fill="{MUTED}" '
            f'fill-opacity="0.16" fill-rule="evenodd"/><rect id="{prefix}-trim" {cut} {_STROKE["trim"]}/>'
            f'<path id="{prefix}-marks" d="{marks}" {_STROKE["mark"]}/>'
        )
    return (
        f'<path d="{stage.path(outer)}{stage.path(trim.box)}" fill="{PAPER}" '
        'fill-opacity="0.45" fill-rule="evenodd"/>'
        f'<rect {bleed} {_CASING}/><rect id="{prefix}-bleed" {bleed} {_STROKE["bleed"]}/>'
        f'<rect {cut} {_CASING}/><rect id="{prefix}-trim" {cut} {_STROKE["trim"]}/>'
        f'<path id="{prefix}-marks" d="{marks}" {_STROKE["mark"]}/>'
    )


def _guides(layout: Layout, stage: _Stage, units: str, prefix: str) -> str:
    """Guides across the whole sheet, each led out to its reading above or to the left."""
    across, down = layout.guides
    texts = [label_texts(place, units) for place in (*across, *down)]
    xs, ys = [stage.x(place) for place in across], [stage.y(place) for place in down]
    above = _spread(xs, [_label_width(pair) for pair in texts[:2]], GAP, stage.width - GAP)
    beside = _spread(ys, [LABEL_HIGH] * 2, TOP - 8, stage.floor + 8)
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
    return f'<path id="{ident}" d="{line}" {_STROKE["guide"]}/><path d="{lead}" {_THIN}/>{label}'


def _dimensions(layout: Layout, stage: _Stage, units: str, prefix: str, guides: bool) -> str:
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
    spots = _spread(_middles(xs), widths, GAP, stage.width - GAP)
    levels = _spread(_middles(ys), heights, TOP - 8, stage.floor + 8)
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


def _legend(
    layout: Layout, stage: _Stage, prefix: str, guides: bool, dimensions: bool
) -> tuple[str, int]:
    """The kinds of line present, in one row where the drawing is as wide as usual; and its whole height."""
    x, y, items = 16.0, stage.floor + (84 if dimensions else 28), []
    for sample, words in _kinds(layout, prefix, guides):
        wide = 28 + _width(words, SMALL)
        if x + wide > stage.width - 8:
            x, y = 16.0, y + 19
        items.append(
            f'<g transform="translate({x:.2f} {y:.2f})">{sample}<text x="28">{words}</text></g>'
        )
        x += wide + 10
    return f'<g id="{prefix}-legend">{"".join(items)}</g>', int(y + 14)


def _kinds(layout: Layout, prefix: str, guides: bool) -> list[tuple[str, str]]:
    """A sample and words for each kind of line present; the paper's own edge needs none."""
    kinds = ["picture"] * (not _is_bled(layout)) + ["guide"] * guides
    if layout.trim:
        kinds += ["trim"] + ["bleed"] * (not layout.keeps_white) + ["mark"] * layout.trim.marked
    items = [(_SAMPLE[kind], LINES[kind].words) for kind in kinds]
    if not any(edge for _, edge in layout.unprintable.items()):
        return items
    hatched = _SWATCH.format(f'fill="url(#{prefix}-hatch)" stroke="{MUTED}" stroke-width="0.75"')
    return [*items, (hatched, "not printable")]


def _spread(wanted, sizes, low: float, high: float) -> list[float]:
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
    return max(_width(texts[0], BIG), _width(texts[1], SMALL))


def _width(text: str, size: int) -> float:
    return size * sum([_EM.get(letter, 0.7) for letter in text])


def _label(ident: str, x: float, top: float, anchor: str, texts: tuple[str, str]) -> str:
    """The first unit large, the other small below it; no taller than ``LABEL_HIGH``."""
    return (
        f'<text id="{ident}" x="{x:.2f}" y="{top + 13:.2f}" text-anchor="{anchor}" font-size="{BIG}" '
        f'font-weight="600">{texts[0]}<tspan x="{x:.2f}" dy="15" {_SMALL}>{texts[1]}</tspan></text>'
    )


def _called(sheet: Sheet, units: str) -> str:
    """Its name, if that says more than the size, and its size in one unit."""
    named = "" if sheet.name in (sheet.size, sheet.turned().size) else f"{sheet.name}, "
    return named + _by(sheet.width, sheet.height, units)


def _by(width: Length, height: Length, unit: str) -> str:
    sides = (side.mm_text() if unit == "mm" else side.inch_text() for side in (width, height))
    return " × ".join(side.removesuffix(f" {unit}") for side in sides) + f" {unit}"


def _escaped(text: str) -> str:
    return escape(_NOT_XML.sub("", text))
