"""Prints laid out on a roll or a sheet, to scale, as SVG."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from labkit.drawing.canvas import Rect, open_canvas, rect, text
from labkit.drawing.row import OFF, SHEET, hatch, legend, unreached
from labkit.drawing.sheet import LINES, MUTED, OKABE_ITO, TINT, WIDTH
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, Length

_SIDE, _TOP, _BELOW, _TALL = 16, 54, 40, 520
_CUT = LINES["trim"].svg()
_ENDS = f'fill="{MUTED}" fill-opacity="0.18"'


@dataclass(frozen=True, slots=True)
class Shown:
    """A piece on the drawing: its box, measured from the corner of the paper, and what is said in it.

    ``off``: it does not fit, and only its outline is drawn.
    """

    box: Box
    label: str
    more: str = ""
    off: bool = False


@dataclass(frozen=True, slots=True)
class Strip:
    """A length of paper: ``width`` and ``length`` with ``leader`` and ``tail`` in it, the printer's edges
    of what lies between; whether it hangs from a roll."""

    width: Length
    length: Length
    edges: Edges
    leader: Length = ZERO
    tail: Length = ZERO
    is_roll: bool = True


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
) -> str:
    """Draw the paper lying on its side, the roll at the left, pieces and cuts across on it.

    The paper runs to the right as it comes off the roll. ``cuts`` are measured from its end at the left.
    ``longest`` is the length that the scale is chosen for, so that it stays while the reader moves
    something; ids begin with ``prefix``.
    """
    long, wide = float(max(strip.length, longest or ZERO)), float(strip.width)
    scale = min((WIDTH - 2 * _SIDE - 8) / long, (_TALL - _TOP - _BELOW) / wide)
    left, top = _SIDE + 8, _TOP
    high = wide * scale
    at = _Scale(left, top, scale)
    paper = at.rect(Box(ZERO, ZERO, strip.width, strip.length))
    marks = [
        open_canvas(prefix, round(top + high + _BELOW), title, words, data={"unit-scale": scale}),
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
            f'<rect x="{left - 10:.2f}" y="{top - 5:.2f}" width="12" height="{high + 10:.2f}" rx="6" '
            f'fill="#dfe3e8" stroke="{MUTED}"/>'
        )
    marks.append(text(left, top - 10, _dimensions(strip, units)))
    items = [(unreached(prefix), "not printable")]
    if strip.leader or strip.tail:
        items.append((f'{_ENDS} stroke="{MUTED}"', "leader, tail"))
    if any(each.off for each in pieces):
        items.append((OFF, "does not fit"))
    items.append((_CUT, "cut across"))
    return "".join((*marks, legend(top + high + 18, items), "</svg>"))


@dataclass(frozen=True, slots=True)
class _Scale:
    """From a place on the paper to one on the drawing: along the roll is to the right."""

    left: float
    top: float
    scale: float

    def rect(self, box: Box) -> Rect:
        along, across = float(box.top), float(box.left)
        return (
            self.left + along * self.scale,
            self.top + across * self.scale,
            float(box.height) * self.scale,
            float(box.width) * self.scale,
        )


def _dimensions(strip: Strip, units: str) -> str:
    long, wide = strip.length.both(units), strip.width.both(units)
    return f"{long} long, {wide} wide" if strip.is_roll else f"{wide} wide, {long} high"


def _ends(strip: Strip, at: _Scale) -> list[str]:
    ends = [
        Box(ZERO, ZERO, strip.width, strip.leader),
        Box(ZERO, strip.length - strip.tail, strip.width, strip.tail),
    ]
    return [f"<rect {rect(at.rect(end))} {_ENDS}/>" for end in ends if end.height > ZERO]


def _edges(strip: Strip, at: _Scale, prefix: str) -> list[str]:
    edges = strip.edges
    long = strip.length - strip.leader - strip.tail
    inner = long - edges.top - edges.bottom
    boxes = [
        Box(ZERO, strip.leader, strip.width, edges.top),
        Box(ZERO, strip.length - strip.tail - edges.bottom, strip.width, edges.bottom),
        Box(ZERO, strip.leader + edges.top, edges.left, inner),
        Box(strip.width - edges.right, strip.leader + edges.top, edges.right, inner),
    ]
    return [f"<rect {rect(at.rect(box))} {unreached(prefix)}/>" for box in boxes]


def _piece(ident: str, each: Shown, place: Rect) -> str:
    left, top, wide, high = place
    look = OFF if each.off else f'fill="{TINT}" stroke="{OKABE_ITO["blue"]}" stroke-width="1.75"'
    drawn = f'<rect id="{ident}" {rect(place)} {look}/>'
    told = f"<title>{escape(each.label)} {escape(each.more)}</title>"
    lines = [line for line in (each.label, each.more) if line]
    room = [line for line in lines if len(line) * 6.6 < wide]
    fitting = room[: max(0, int(high // 17))]
    middle = top + high / 2 + 4 - 8 * (len(fitting) - 1)
    written = "".join(
        text(left + wide / 2, middle + 16 * row, line, anchor="middle")
        for row, line in enumerate(fitting)
    )
    return f"<g>{told}{drawn}{written}</g>"
