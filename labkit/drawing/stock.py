"""A print laid on every sheet in stock, and on every roll, to one scale, as SVG."""

from collections.abc import Sequence
from dataclasses import dataclass

from labkit.drawing.canvas import Rect, open_canvas, photo, rect
from labkit.drawing.row import (
    OFF,
    SHEET,
    Spot,
    clipped,
    hatch,
    largest_scale,
    legend,
    lines_below,
    rows,
    unreached,
)
from labkit.drawing.style import INK, LINES, MUTED, PANEL
from labkit.geometry.box import Edges
from labkit.geometry.holding import RollCut, area
from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet
from labkit.geometry.size import Size

_SHEETS_END, _ROLLS_END = 450, 500
"""Where the rows of sheets, and of rolls, must end."""
_BORDER = f'fill="none" stroke="{MUTED}" stroke-width="1" stroke-dasharray="2 3"'
_CUT = f'fill="none" stroke="{INK}" stroke-width="2"'


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet as it lies, the printer's edges of it, and how much too wide and too high the print is."""

    sheet: Sheet
    edges: Edges
    over: Size
    is_smallest: bool = False

    def fate(self, size: Size, units: str) -> tuple[str, ...]:
        """Whether it holds the print, in one or two lines."""
        if not any(self.over):
            share = 1 - area(*size) / area(self.sheet.width, self.sheet.height)
            holds = f"holds it, {float(share):.0%} left"
            return (holds, "the smallest that does") if self.is_smallest else (holds,)
        return tuple(
            f"{by.said(units)} too {word}"
            for by, word in zip(self.over, ("wide", "high"), strict=True)
            if by
        )


def draw_stock(
    size: Size, stock: Sequence[Laid], *, border: Length, units: str, prefix: str, words: str
) -> str:
    """Draw the print in the centre of every sheet, and below each what comes of it.

    The scale is the same for all, and stays when they are turned. Where a sheet does
    not hold the print, what it would cover of the paper is drawn in dashes. The photo's places are
    ``-0-photo`` and so on.
    """
    upright = [(float(each.sheet.width), float(each.sheet.height)) for each in stock]
    turns = [sorted(each) for each in upright]
    ways = [turns, [each[::-1] for each in turns], upright]
    scale = largest_scale(ways, 4, _SHEETS_END)
    spots, bottom = rows(upright, scale, 4)
    parts = [
        open_canvas(
            prefix, int(bottom + 14), "The sheets in stock, to one scale", words,
            data={"unit-scale": scale},
        ),
        hatch(prefix),
    ]  # fmt: skip
    for number, (each, spot) in enumerate(zip(stock, spots, strict=True)):
        ident = f"{prefix}-{number}"
        parts.append(_sheet(ident, each, spot, scale, prefix))
        held = not any(each.over)
        parts.append(clipped(ident, spot, _print(ident, size, spot, scale, border, held=held)))
        told = (called(each.sheet), each.sheet.in_unit(each.sheet.unit), *each.fate(size, units))
        parts.append(lines_below(spot, told if told[0] != told[1] else (told[0], *told[2:])))
    items = [(unreached(prefix), "not printable"), (OFF, "does not fit")]
    parts.append(legend(bottom + 2, [*items, (_BORDER, "least border")] if border else items))
    return "".join((*parts, "</svg>"))


def draw_rolls(
    cuts: Sequence[RollCut],
    longest: Length,
    *,
    is_turned: bool,
    units: str,
    prefix: str,
    words: str,
) -> str:
    """Draw the print on every roll, each hanging down as far as the longest print needs, with the line
    where the piece is cut off; below each what comes of it. ``is_turned``: the picture lies on its side,
    its height across the roll."""
    sizes = [(float(cut.width), float(longest)) for cut in cuts]
    scale = largest_scale([sizes], 4, _ROLLS_END)
    spots, bottom = rows(sizes, scale, 4)
    parts = [
        open_canvas(
            prefix, int(bottom + 14), "The rolls in stock, to one scale", words,
            data={"unit-scale": scale},
        ),
        hatch(prefix),
    ]  # fmt: skip
    for number, (cut, spot) in enumerate(zip(cuts, spots, strict=True)):
        ident = f"{prefix}-{number}"
        parts.append(_roll(ident, cut, spot, scale, prefix, is_turned=is_turned))
        parts.append(lines_below(spot, (f"{short(cut.width, units)} wide", *_cut_fate(cut, units))))
    items = [(unreached(prefix), "not printable"), (OFF, "does not fit"), (_CUT, "cut here")]
    parts.append(legend(bottom + 2, items, lines=("cut here",)))
    return "".join((*parts, "</svg>"))


def called(sheet: Sheet) -> str:
    """A sheet's name, or its upright size where it has no other."""
    upright = sheet.turned() if sheet.is_turned else sheet
    return upright.in_unit(upright.unit) if upright.name == upright.size else upright.name


def short(size: Length, units: str) -> str:
    """A length in the unit that comes first."""
    return size.mm_text() if units == "mm" else size.inch_text()


def _cut_fate(cut: RollCut, units: str) -> tuple[str, ...]:
    if not cut.fits:
        return (f"{(cut.size[0] - cut.usable).said(units)} too wide",)
    return f"cut off at {cut.length.said(units)}", f"{float(cut.share):.0%} of it wasted"


def _sheet(ident: str, each: Laid, spot: Spot, scale: float, prefix: str) -> str:
    """The sheet, hatched where the printer does not reach."""
    left, top, wide, high = spot.box
    edges = {side: float(edge) * scale for side, edge in each.edges.items()}
    inner = (
        left + edges["left"],
        top + edges["top"],
        wide - edges["left"] - edges["right"],
        high - edges["top"] - edges["bottom"],
    )
    return (
        f'<rect id="{ident}" {rect(spot.box)} {SHEET}/>'
        f'<path d="{_path(spot.box)}{_path(inner)}" {unreached(prefix)}/>'
        + (f"<rect {rect(spot.box)} {LINES['picture'].svg()}/>" if each.is_smallest else "")
    )


def _print(
    ident: str, size: Size, spot: Spot, scale: float, border: Length, *, held: bool
) -> str:  # fmt: skip
    """The print in the middle of its sheet: the photo where it is held, else its outline."""
    at = _middle(spot.box, size, scale)
    if not held:
        return f'<rect id="{ident}-off" {rect(_inside(at, spot.box))} {OFF}/>'
    grown = size[0] + border * 2, size[1] + border * 2
    around = f"<rect {rect(_middle(spot.box, grown, scale))} {_BORDER}/>" if border else ""
    return photo(ident, at) + around


def _roll(
    ident: str, cut: RollCut, spot: Spot, scale: float, prefix: str, *, is_turned: bool
) -> str:
    """The paper as it hangs from the roll, the print on it, and the line to cut along."""
    left, top, wide, high = spot.box
    edges = cut.edges
    inner = left + float(edges.left) * scale, top, float(cut.usable) * scale, high
    across, along = (float(side) * scale for side in cut.size)
    at = inner[0] + (inner[2] - across) / 2, top + float(edges.top) * scale, across, along
    end = top + float(cut.length) * scale
    drawn = f'<rect id="{ident}-off" {rect(_inside(at, spot.box))} {OFF}/>'
    if cut.fits:
        drawn = _turned(ident, at) if is_turned else photo(ident, at)
    torn = f"M{left:.2f} {top + high:.2f}" + f"l{wide / 8:.2f} -5l{wide / 8:.2f} 5" * 4
    line = f'<path id="{ident}-cut" d="M{left - 5:.2f} {end:.2f}h{wide + 10:.2f}" {_CUT}/>'
    return (
        f'<rect id="{ident}" {rect(spot.box)} {SHEET}/>'
        f'<path d="{_path(spot.box)}{_path(inner)}" {unreached(prefix)}/>'
        f'<path d="{torn}v9h{-wide:.2f}z" fill="{PANEL}"/>'
        f'<rect x="{left - 4:.2f}" y="{top - 9:.2f}" width="{wide + 8:.2f}" height="12" rx="6" '
        f'fill="#dfe3e8" stroke="{MUTED}"/>'
    ) + clipped(ident, spot, drawn + (line if cut.fits else ""))


def _turned(ident: str, at: Rect) -> str:
    """The photo on its side, filling that place."""
    left, top, wide, high = at
    turn = f"translate({left + wide:.2f} {top:.2f}) rotate(90)"
    return f'<g transform="{turn}">{photo(ident, (0, 0, high, wide))}</g>'


def _middle(box: Rect, size: Size, scale: float) -> Rect:
    left, top, wide, high = box
    across, down = (float(side) * scale for side in size)
    return left + (wide - across) / 2, top + (high - down) / 2, across, down


def _inside(at: Rect, box: Rect) -> Rect:
    """The part of ``at`` that lies in ``box``."""
    left, top = max(at[0], box[0]), max(at[1], box[1])
    right, bottom = min(at[0] + at[2], box[0] + box[2]), min(at[1] + at[3], box[1] + box[3])
    return left, top, right - left, bottom - top


def _path(at: Rect) -> str:
    left, top, wide, high = at
    return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"
