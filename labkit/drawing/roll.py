"""Prints laid out on a roll or a sheet, to scale, as SVG."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from labkit.drawing.canvas import Rect, open_canvas, photo, rect, text
from labkit.drawing.dimensions import text_width
from labkit.drawing.row import OFF, SHEET, hatch, legend, unreached
from labkit.drawing.style import INK, LINES, MUTED, OKABE_ITO, SMALL, TINT, WIDTH
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, Length

_SIDE, _TOP, _BELOW, _TALL = 16, 54, 40, 520
_CUT = LINES["trim"].svg()
_CUTS = "cut across"
_ENDS = f'fill="{MUTED}" fill-opacity="0.18"'
_PIECE = f'fill="{TINT}" stroke="{OKABE_ITO["blue"]}" stroke-width="1.75"'
_CHOSEN = f'fill="none" stroke="{INK}" stroke-width="4"'


@dataclass(frozen=True, slots=True)
class Shown:
    """A piece on the drawing: its box, measured from the corner of the paper, and what is said in it.

    ``off``: it does not fit, and only its outline is drawn. ``photo``: the reader's picture is shown in
    it, ``turned`` a quarter clockwise on the paper. A ``thing`` is what a script calls a piece that can be
    moved, and the ``chosen`` one is that which the keys move.
    """

    box: Box
    label: str
    more: str = ""
    off: bool = False
    photo: bool = False
    turned: bool = False
    thing: str = ""
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Strip:
    """A length of paper: its ``width``, and one after another the lengths printed in one go, each with
    ``leader`` and ``tail`` in it and the printer's ``edges`` round what lies between; whether it comes off
    a roll."""

    width: Length
    runs: tuple[Length, ...]
    edges: Edges
    leader: Length = ZERO
    tail: Length = ZERO
    is_roll: bool = True

    @property
    def length(self) -> Length:
        """Of all of it."""
        return sum(self.runs, ZERO)

    def each(self) -> Iterator[tuple[Length, Length]]:
        """Where each run begins, and how long it is."""
        begins = ZERO
        for run in self.runs:
            yield begins, run
            begins += run


def draw_strip(
    strip: Strip,
    pieces: Sequence[Shown],
    cuts: Sequence[Length],
    *,
    units: str,
    prefix: str,
    title: str,
    words: str,
    longest: Length | None = None,
    off: str = "does not fit",
) -> str:
    """Draw the paper lying on its side, pieces and cuts across on it, the roll at the right.

    It is a print file turned a quarter anticlockwise: its top is at the left, furthest from the roll, and
    its left edge below. ``cuts`` are measured from there.
    ``longest`` is the length that the scale is chosen for, so that it stays while the reader moves
    something; ``off`` says what is wrong with the pieces that are off; ids begin with ``prefix``.
    """
    long, wide = float(max(strip.length, longest or ZERO)), float(strip.width)
    scale = min((WIDTH - 2 * _SIDE - 12) / long, (_TALL - _TOP - _BELOW) / wide)
    left, top = _SIDE, _TOP
    high = wide * scale
    at = _Scale(left, top, scale, wide)
    paper = at.rect(Box(ZERO, ZERO, strip.width, strip.length))
    data = {"unit-scale": scale}
    if any(each.thing for each in pieces):
        data |= {"origin-x": left, "origin-y": top}
        data |= {"sheet-width-in": float(strip.length), "sheet-height-in": wide}
    marks = [
        open_canvas(prefix, round(top + high + _BELOW), title, words, data=data),
        hatch(prefix),
        f'<rect id="{prefix}-paper" {rect(paper)} {SHEET}/>',
        *_ends(strip, at),
        *_edges(strip, at, prefix),
    ]
    for number, each in enumerate(pieces):
        marks.append(_piece(f"{prefix}-{number}", each, at.rect(each.box)))
    for number, cut in enumerate(cuts):
        x = left + float(cut) * scale
        marks.append(
            f'<path id="{prefix}-cut-{number}" d="M{x:.2f} {top - 6:.2f}v{high + 12:.2f}" {_CUT}/>'
        )
    if strip.is_roll:
        marks.append(
            f'<rect {rect((paper[0] + paper[2] - 2, top - 5, 12, high + 10))} rx="6" fill="#dfe3e8" '
            f'stroke="{MUTED}"/>'
        )
    marks.append(text(left, top - 10, _dimensions(strip, units)))
    items = [(unreached(prefix), "not printable")]
    if strip.leader or strip.tail:
        items.append((f'{_ENDS} stroke="{MUTED}"', "leader, tail"))
    if any(each.off for each in pieces):
        items.append((OFF, off))
    if any(each.chosen for each in pieces):
        items.append((_CHOSEN, "chosen"))
    if cuts:
        items.append((_CUT, _CUTS))
    return "".join((*marks, legend(top + high + 18, items, (_CUTS,)), "</svg>"))


@dataclass(frozen=True, slots=True)
class _Scale:
    """From a place on the paper to one on the drawing: along the roll is to the right."""

    left: float
    top: float
    scale: float
    wide: float

    def rect(self, box: Box) -> Rect:
        along, across = float(box.top), self.wide - float(box.right)
        return (
            self.left + along * self.scale,
            self.top + across * self.scale,
            float(box.height) * self.scale,
            float(box.width) * self.scale,
        )


def _dimensions(strip: Strip, units: str) -> str:
    long, wide = strip.length.both(units), strip.width.both(units)
    return f"{long} long, {wide} wide" if strip.is_roll else f"{wide} wide, {long} high"


def _ends(strip: Strip, at: _Scale) -> Iterator[str]:
    for begins, long in strip.each():
        ends = (begins, strip.leader), (begins + long - strip.tail, strip.tail)
        for top, high in ends:
            if high > ZERO:
                yield f"<rect {rect(at.rect(Box(ZERO, top, strip.width, high)))} {_ENDS}/>"


def _edges(strip: Strip, at: _Scale, prefix: str) -> Iterator[str]:
    edges = strip.edges
    for begins, run in strip.each():
        top, end = begins + strip.leader, begins + run - strip.tail
        high = end - top - edges.top - edges.bottom
        for box in (
            Box(ZERO, top, strip.width, edges.top),
            Box(ZERO, end - edges.bottom, strip.width, edges.bottom),
            Box(ZERO, top + edges.top, edges.left, high),
            Box(strip.width - edges.right, top + edges.top, edges.right, high),
        ):
            yield f"<rect {rect(at.rect(box))} {unreached(prefix)}/>"


def _photo(ident: str, each: Shown, place: Rect) -> str:
    """The picture, its top where the drawing has it: at the left, or upright if it is turned."""
    left, top, wide, high = place
    if each.turned:
        return photo(ident, place)
    turn = f"translate({left:.2f} {top + high:.2f}) rotate(-90)"
    return f'<g transform="{turn}">{photo(ident, (0, 0, high, wide))}</g>'


def _shortened(line: str, wide: float) -> str:
    """A line as it fits into so much; its end is left off first, and all of it where nothing fits."""
    if text_width(line, SMALL) <= wide:
        return line
    shorter = (f"{line[:end].rstrip()}…" for end in range(len(line) - 1, 0, -1))
    return next((each for each in shorter if text_width(each, SMALL) <= wide), "")


def _piece(ident: str, each: Shown, place: Rect) -> str:
    left, top, wide, high = place
    if each.photo and not each.off:
        return _photo(ident, each, place)
    drawn = f'<rect id="{ident}" {rect(place)} {OFF if each.off else _PIECE}/>'
    if each.chosen:
        inner = (left + 4, top + 4, max(0, wide - 8), max(0, high - 8))
        drawn += f"<rect {rect(inner)} {_CHOSEN}/>"
    told = f"<title>{escape(each.label)} {escape(each.more)}</title>"
    lines = [_shortened(line, wide - 4) for line in (each.label, each.more)]
    fitting = [line for line in lines if line][: max(0, int(high // 17))]
    middle = top + high / 2 + 4 - 8 * (len(fitting) - 1)
    written = "".join(
        text(left + wide / 2, middle + 16 * row, line, anchor="middle")
        for row, line in enumerate(fitting)
    )
    thing = f' data-thing="{escape(each.thing)}"' if each.thing else ""
    return f"<g{thing}>{told}{drawn}{written}</g>"
