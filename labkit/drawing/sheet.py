"""A sheet drawn to scale as SVG, and the same told in words.

Borders and the picture's size are dimensioned below and to the right of the sheet; guides are read
off above it and to its left, as on a ruler. Every sheet gets a canvas of the same width and is drawn
as large as the labels round it allow.
"""

import re
from html import escape

from labkit.drawing.dimensions import SMALL_TYPE, draw_dimensions, draw_guides, text_width
from labkit.drawing.stage import Stage, stage_for
from labkit.drawing.style import (
    BIG,
    INK,
    LINES,
    MUTED,
    OKABE_ITO,
    PANEL,
    PAPER,
    SMALL,
    TINT,
    WIDTH,
)
from labkit.errors import LabError
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import WHOLE, Crop

LEAST_WIDTH = 440
"""Of the whole drawing: narrower there is no room for the labels."""

_STROKE = {kind: line.svg() for kind, line in LINES.items()}
_SWATCH = '<rect y="-10" width="22" height="12" {}/>'
_SAMPLE = {kind: f'<path d="M0 -4h22" {stroke}/>' for kind, stroke in _STROKE.items()} | {
    "picture": _SWATCH.format(_STROKE["picture"].replace('"none"', f'"{TINT}"')),
}
_CASING = f'fill="none" stroke="{PAPER}" stroke-opacity="0.7" stroke-width="3"'
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
    stage = stage_for(layout.sheet, width)
    parts = [_header(layout, units), _paper(layout, stage, prefix)]
    if guides:
        parts.append(draw_guides(layout, stage, units, prefix))
    shown = _part_of_sheet(layout) if shows_sheet else layout.crop
    parts += [_picture(layout, stage, href, shown, prefix), _lost(layout, stage, prefix)]
    if layout.trim:
        parts.append(_trim(layout, stage, prefix))
    if dimensions:
        parts.append(draw_dimensions(layout, stage, units, prefix, guides))
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


def _root(sheet: Sheet, stage: Stage, units: str, prefix: str, words: str, height: int) -> str:
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
        f'<tspan dx="10" {SMALL_TYPE}>{_escaped(second)}</tspan></text>'
    )


def _paper(layout: Layout, stage: Stage, prefix: str) -> str:
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


def _picture(layout: Layout, stage: Stage, href: str | None, part: Crop, prefix: str) -> str:
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


def _lost(layout: Layout, stage: Stage, prefix: str) -> str:
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


def _trim(layout: Layout, stage: Stage, prefix: str) -> str:
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


def _legend(
    layout: Layout, stage: Stage, prefix: str, guides: bool, dimensions: bool
) -> tuple[str, int]:
    """The kinds of line present, in one row where the drawing is as wide as usual; and its whole height."""
    x, y, items = 16.0, stage.floor + (84 if dimensions else 28), []
    for sample, words in _kinds(layout, prefix, guides):
        wide = 28 + text_width(words, SMALL)
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


def _called(sheet: Sheet, units: str) -> str:
    """Its name, if that says more than the size, and its size in one unit."""
    named = "" if sheet.name in (sheet.size, sheet.turned().size) else f"{sheet.name}, "
    return named + _by(sheet.width, sheet.height, units)


def _by(width: Length, height: Length, unit: str) -> str:
    sides = (side.mm_text() if unit == "mm" else side.inch_text() for side in (width, height))
    return " × ".join(side.removesuffix(f" {unit}") for side in sides) + f" {unit}"


def _escaped(text: str) -> str:
    return escape(_NOT_XML.sub("", text))
