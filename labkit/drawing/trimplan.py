"""A print with its cuts in order, drawn to scale; and a window mat with what it shows of a picture."""

from collections.abc import Mapping, Sequence

from labkit.drawing.canvas import Rect, open_canvas, photo, rect, text
from labkit.drawing.row import legend
from labkit.drawing.style import BIG, INK, LINES, MUTED, OKABE_ITO, PAPER, WIDTH
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import Length
from labkit.geometry.size import Size
from labkit.geometry.trimplan import Cut, TrimPlan
from labkit.geometry.weight import Mat

_TOP, _SIDE, _HIGH, _FOOT, _BADGE = 64, 150, 330, 46, 11
_MEANT = f'fill="none" stroke="{MUTED}" stroke-width="1.25" stroke-dasharray="2 4"'
_CUT = LINES["trim"].svg()
_FALLS_OFF = f'fill="{MUTED}" fill-opacity="0.18"'
_BOARD = f'fill="#efe6d2" stroke="{INK}"'
"""A pale board."""
_COVERED = f'fill="none" stroke="{OKABE_ITO["blue"]}" stroke-width="1.5" stroke-dasharray="5 3"'


def draw_plan(
    plan: TrimPlan,
    *,
    off: Mapping[str, Length],
    borders: Edges,
    units: str,
    prefix: str,
    title: str,
    words: str,
    larger: int = 1,
) -> str:
    """The sheet, its picture and the cuts, each with its number where it begins; what falls off is grey.

    ``borders`` are those of the piece as it is cut, with its cuts ``off``; by how much they are wrong is
    drawn ``larger`` so many times, over dotted lines where the cuts should be.
    """
    stage = _Stage(plan.size, _HIGH)
    piece = _drawn_piece(plan, borders, larger)
    paper = stage.rect(_at_corner(plan.size))
    drawn = [
        open_canvas(
            prefix, round(stage.bottom + _FOOT + 18), title, words, data={"unit-scale": stage.scale}
        ),
        f'<rect id="{prefix}-sheet" {rect(paper)} fill="{PAPER}" stroke="{MUTED}"/>',
        f'<path d="{_path(paper)}{_path(stage.rect(piece))}" {_FALLS_OFF} fill-rule="evenodd"/>',
        photo(prefix, stage.rect(plan.picture)),
    ]
    if any(off.values()):
        drawn.append(f"<rect {rect(stage.rect(plan.piece))} {_MEANT}/>")
    drawn.append(f'<rect id="{prefix}-piece" {rect(stage.rect(piece))} {_CUT}/>')
    drawn += _numbered(plan.cuts, piece, plan.size, stage, prefix)
    drawn.append(_labels(borders, paper, units))
    items = [(_CUT, "cut, with its number"), (_FALLS_OFF, "falls off")]
    lines = ["cut, with its number"]
    if any(off.values()):
        told = f"as meant (errors drawn {larger} times as large)" if larger > 1 else "as meant"
        items.append((_MEANT, told))
        lines.append(told)
    drawn.append(legend(stage.bottom + _FOOT, items, lines=lines))
    return "".join((*drawn, "</svg>"))


def draw_mat(mat: Mat, picture: Size, *, units: str, prefix: str, title: str, words: str) -> str:
    """The board with its opening, the picture seen through it, and what of that is covered."""
    stage = _Stage(mat.board, _HIGH)
    opening, board = stage.rect(mat.opening), stage.rect(_at_corner(mat.board))
    covered = Box(
        mat.opening.left - mat.overlap, mat.opening.top - mat.overlap, picture[0], picture[1]
    )
    drawn = [
        open_canvas(
            prefix, round(stage.bottom + _FOOT + 18), title, words, data={"unit-scale": stage.scale}
        ),
        f'<rect id="{prefix}-board" {rect(board)} fill="{PAPER}"/>',
        photo(prefix, stage.rect(covered)),
        f'<path d="{_path(board)}{_path(opening)}" {_BOARD} fill-rule="evenodd"/>',
        f'<rect id="{prefix}-opening" {rect(opening)} fill="none" stroke="{INK}" stroke-width="1.5"/>',
        f"<rect {rect(stage.rect(covered))} {_COVERED}/>",
        _labels(mat.borders, board, units),
        legend(
            stage.bottom + _FOOT,
            [(_BOARD, "board"), (_COVERED, "picture's edge, under the board")],
            lines=["picture's edge, under the board"],
        ),
    ]
    return "".join((*drawn, "</svg>"))


class _Stage:
    """Where a piece of paper or board stands on the drawing, in its middle, and to what scale."""

    def __init__(self, size: Size, high: int):
        wide, tall = (float(side.inches) for side in size)
        self.scale = min((WIDTH - 2 * _SIDE) / wide, high / tall)
        self._left = (WIDTH - wide * self.scale) / 2
        self.bottom = _TOP + tall * self.scale

    def rect(self, box: Box) -> Rect:
        """A box in the drawing's own units."""
        left, top, wide, high = (
            float(side.inches) * self.scale for side in (box.left, box.top, box.width, box.height)
        )
        return self._left + left, _TOP + top, wide, high


def _at_corner(size: Size) -> Box:
    return Box(size[0] * 0, size[1] * 0, *size)


def _path(at: Rect) -> str:
    left, top, wide, high = at
    return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"


def _drawn_piece(plan: TrimPlan, borders: Edges, larger: int) -> Box:
    """The piece as it is cut, by how much it is wrong made larger."""
    meant = dict(plan.borders.items())
    shown = {side: meant[side] + (size - meant[side]) * larger for side, size in borders.items()}
    left, top = plan.picture.left - shown["left"], plan.picture.top - shown["top"]
    right, bottom = plan.picture.right + shown["right"], plan.picture.bottom + shown["bottom"]
    return Box(left, top, right - left, bottom - top)


def _numbered(cuts: Sequence[Cut], piece: Box, size: Size, stage: _Stage, prefix: str) -> list[str]:
    """Each cut through all of the paper that is in hand then, and its number at its end."""
    left, top, wide, high = stage.rect(_at_corner(size))
    hand = {"left": left, "top": top, "right": left + wide, "bottom": top + high}
    x, y, across, down = stage.rect(piece)
    lies = {"left": x, "top": y, "right": x + across, "bottom": y + down}
    drawn = []
    for number, cut in enumerate(cuts, 1):
        at = lies[cut.side]
        if cut.side in ("left", "right"):
            line = f"M{at:.2f} {hand['top']:.2f}V{hand['bottom']:.2f}"
            badge = at, hand["top"] - _BADGE - 3
        else:
            line = f"M{hand['left']:.2f} {at:.2f}H{hand['right']:.2f}"
            badge = hand["left"] - _BADGE - 3, at
        drawn.append(
            f'<path id="{prefix}-cut-{number}" d="{line}" {_CUT}/>{_badge(*badge, number)}'
        )
        hand[cut.side] = at
    return drawn


def _badge(x: float, y: float, number: int) -> str:
    return (
        f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{_BADGE}" fill="{INK}"/>'
        f'<text x="{x:.2f}" y="{y + 5:.2f}" text-anchor="middle" font-size="{BIG}" font-weight="600" '
        f'fill="{PAPER}">{number}</text>'
    )


def _labels(borders: Edges, around: Rect, units: str) -> str:
    """The four borders outside the sheet, each at its side."""
    left, top, wide, high = around
    middle, level = left + wide / 2, top + high / 2
    ends = {
        "left": (left - 32, level, "end"),
        "right": (left + wide + 14, level, "start"),
        "top": (middle, top - 18, "middle"),
        "bottom": (middle, top + high + 19, "middle"),
    }
    drawn = []
    for side, size in borders.items():
        x, y, anchor = ends[side]
        drawn.append(text(x, y, f"{side} {size.said(units)}", big=True, anchor=anchor))
    return "".join(drawn)
