"""A ruler sheet drawn to scale, as it should be, and over it as it came out."""

from dataclasses import dataclass

from labkit.drawing.canvas import open_canvas, rect, text
from labkit.drawing.row import hatch, legend, unreached
from labkit.drawing.style import INK, LINES, MUTED, OKABE_ITO, PAPER, WIDTH
from labkit.geometry.box import Edges
from labkit.geometry.ruler import RulerSheet

_TOP, _SIDE, _HIGH, _FOOT = 46, 90, 340, 34
_MEANT = f'fill="none" stroke="{MUTED}" stroke-width="1" stroke-dasharray="5 4"'
_CAME = f'fill="none" stroke="{OKABE_ITO["vermilion"]}" stroke-width="2"'
_MEASURED = "#005b8f"
"""Blue, dark enough for small type on paper."""


@dataclass(frozen=True, slots=True)
class CameOut:
    """How a print came out: its scale across about the sheet's middle, and along from the edge that goes in
    first; how far right and down it lies (inches), and how far it leans to the right for each inch down.
    Errors are drawn ``larger`` so many times."""

    across: float = 1.0
    along: float = 1.0
    right: float = 0.0
    down: float = 0.0
    slope: float = 0.0
    larger: int = 1


def draw_ruler(
    ruler: RulerSheet,
    edges: Edges,
    *,
    prefix: str,
    title: str,
    words: str,
    printed: CameOut | None = None,
    high: int = _HIGH,
) -> str:
    """The ruler sheet with what is to be measured named on it; with ``printed`` as it came out, over thin
    dashed lines where it should be. ``high`` is how high the sheet is drawn at most."""
    sheet = float(ruler.width), float(ruler.height)
    scale = min((WIDTH - 2 * _SIDE) / sheet[0], high / sheet[1])
    wide, tall = sheet[0] * scale, sheet[1] * scale
    left = (WIDTH - wide) / 2
    height = round(_TOP + tall + _FOOT + 20)
    paper = f"M{left:.2f} {_TOP}h{wide:.2f}v{tall:.2f}h{-wide:.2f}z"
    inner = (
        left + float(edges.left) * scale,
        _TOP + float(edges.top) * scale,
        wide - float(edges.left + edges.right) * scale,
        tall - float(edges.top + edges.bottom) * scale,
    )
    reached = f"M{inner[0]:.2f} {inner[1]:.2f}h{inner[2]:.2f}v{inner[3]:.2f}h{-inner[2]:.2f}z"
    lines = _lines(ruler, scale)
    place = f"translate({left:.2f} {_TOP})"
    drawn = [
        open_canvas(prefix, height, title, words, data={"unit-scale": scale}),
        hatch(prefix),
        f'<rect {rect((left, _TOP, wide, tall))} fill="{PAPER}" stroke="{MUTED}"/>',
        f'<path d="{paper}{reached}" {unreached(prefix)}/>',
    ]
    items = [(f'fill="url(#{prefix}-hatch)" stroke="{MUTED}" stroke-width="0.75"', "not printable")]
    if printed:
        drawn.append(f'<path transform="{place}" d="{lines}" {_MEANT}/>')
        moved = _matrix(printed, sheet, scale)
        drawn.append(
            f'<clipPath id="{prefix}-paper"><path d="{paper}"/></clipPath>'
            f'<g clip-path="url(#{prefix}-paper)"><path id="{prefix}-came-out" '
            f'transform="{place} {moved}" d="{lines}" {_CAME}/></g>'
        )
        larger = f", errors {printed.larger} times as large" if printed.larger > 1 else ""
        items = [(_MEANT, "as it should be"), (_CAME, f"as it came out{larger}"), *items]
    else:
        drawn.append(f'<path transform="{place}" d="{lines}" fill="none" stroke="{INK}"/>')
    drawn.append(_names(ruler, scale, left))
    lined = (
        "as it should be",
        *(words for _, words in items if words.startswith("as it came out")),
    )
    drawn.append(legend(_TOP + tall + _FOOT, items, lines=lined))
    return "".join((*drawn, "</svg>"))


def _lines(ruler: RulerSheet, scale: float) -> str:
    """Crosses, bars, and the ticks of whole inches."""
    arm = 0.32 * scale
    path = [
        f"M{float(x) * scale - arm:.2f} {float(y) * scale:.2f}h{2 * arm:.2f}"
        f"m{-arm:.2f} {-arm:.2f}v{2 * arm:.2f}"
        for x, y in ruler.crosses()
    ]
    for bar, at, across in (
        (ruler.across, ruler.across_at, True),
        (ruler.along, ruler.along_at, False),
    ):
        start, line = float(bar.start) * scale, float(at) * scale
        long, tick = float(bar.in_inches) * scale, 5
        if across:
            path.append(f"M{start:.2f} {line:.2f}h{long:.2f}")
        else:
            path.append(f"M{line:.2f} {start:.2f}v{long:.2f}")
        for number in range(int(bar.in_inches.inches) + 1):
            on = start + number * scale
            path.append(
                f"M{on:.2f} {line:.2f}v{-tick}" if across else f"M{line:.2f} {on:.2f}h{-tick}"
            )
    return "".join(path)


def _names(ruler: RulerSheet, scale: float, left: float) -> str:
    """What each measure is called, beside the arrow that shows it."""

    def at(x, y) -> tuple[float, float]:
        return left + float(x) * scale, _TOP + float(y) * scale

    bar_x, bar_y = at(ruler.along_at, ruler.across_at)
    near, upper = at(ruler.inset, ruler.inset)
    far, lower = at(ruler.width - ruler.inset, ruler.height - ruler.inset)
    right, foot = at(ruler.width, ruler.height)
    middle = left + float(ruler.width) * scale / 2
    arrows = (
        f"M{left:.2f} {upper:.2f}H{near:.2f}M{left:.2f} {lower:.2f}H{near:.2f}"
        f"M{far:.2f} {upper:.2f}H{right:.2f}M{near:.2f} {_TOP}V{upper:.2f}M{near:.2f} {lower:.2f}V{foot:.2f}"
    )
    told = [
        text(left - 8, upper + 4, "left", anchor="end"),
        text(left - 8, lower + 4, "left below", anchor="end"),
        text(right + 8, upper + 4, "right"),
        text(near + 8, _TOP + 14, "top"),
        text(near + 8, foot - 5, "bottom"),
        text((near + bar_x) / 2, bar_y + 16, "across", anchor="middle"),
        text(bar_x + 8, (bar_y + lower) / 2, "along"),
        text(middle, _TOP - 6, "this edge goes in first", anchor="middle"),
    ]
    stroke = LINES["picture"].svg().replace(LINES["picture"].colour, _MEASURED)
    return f'<path d="{arrows}" {stroke}/>' + "".join(told)


def _matrix(printed: CameOut, sheet: tuple[float, float], scale: float) -> str:
    """The print as SVG moves it: scaled across about the middle of the sheet and along from its first edge,
    leaning about its middle, then moved."""
    by = printed.larger
    across, along = 1 + (printed.across - 1) * by, 1 + (printed.along - 1) * by
    slope = printed.slope * by
    middle = sheet[0] / 2 * scale, sheet[1] / 2 * scale
    right = middle[0] - across * middle[0] - slope * middle[1] + printed.right * by * scale
    down = slope * middle[0] + printed.down * by * scale
    return f"matrix({across:.6f} {-slope:.6f} {slope:.6f} {along:.6f} {right:.3f} {down:.3f})"
