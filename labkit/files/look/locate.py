"""Find the picture on a sheet: where it lies, what else is there, and whether it is the right one."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from PIL import Image

from labkit.files.look.askew import find_askew
from labkit.files.look.ink import CELL, DIFFERENCE, SIDES, Block, Ink, Surround, find_surround
from labkit.files.look.marks import find_marks
from labkit.files.pixels.decode import Pixels, Region
from labkit.files.pixels.tone import tone
from labkit.geometry.pixelbox import PixelBox, area, around, cut_off, grown, is_inside, overlap
from labkit.geometry.proportion import Crop

MOST_STRAYS = 50
_PART = 0.03
"""What is smaller than this share of the largest block, and apart from it, is no part of the picture."""
_RIM_SHARE = 0.1
"""A line round all else at the edge of a sheet fills no more of the box round it than this."""
_MOST_BLOCKS = 500
"""More blocks and specks of ink than this are taken for the noise of a scan, if more tolerance clears
them away; else they are a drawing."""
_MOST_NOISE = 64
"""Levels of noise above which there is no such scan."""
_WHITISH = 215
"""A surround this light in every channel may be paper that was scanned."""
_BLOCK = 16
"""Pixels across the blocks in which a JPEG with halved colour is packed (ITU-T T.81, A.2.3)."""
_FAINT = 8
"""Mean levels by which the ringing of JPEG is off, at most; no more than 6.1 was measured at quality 85."""
_AT_ONCE = 2
"""How many times as far off the paper a picture's edge is as the ringing just outside it, at least."""
_SOFT = 3
"""Pixels across the edge of a picture that was scanned."""
_FAINTLY, _ALL_ALONG = 4, 0.95
"""Levels that a faint edge differs by on paper of exactly one colour, and the share of it that must."""
_PATCHES = 12
ALIKE = 16
"""Mean difference of patches, in levels, below which two pictures count as the same."""


@dataclass(frozen=True, slots=True)
class Located:
    """Where the picture sits on a sheet, in pixels (None for an empty sheet).

    ``surround`` is the colour of the paper round it, and ``is_flat`` whether it is exactly one colour,
    without the noise of a scan or of JPEG (False too where the picture leaves no paper). ``light_edges``
    names the sides on which the picture's own edge is nearly as light as the surround, so that its place
    there is a guess. ``askew`` is by how many degrees it is turned clockwise. ``strays`` is other ink
    that is no corner mark, largest first. ``cut`` are the trim lines told by corner marks: left, top,
    right, bottom, in the middle of the strokes.
    """

    box: PixelBox | None
    surround: tuple[int, int, int]
    is_flat: bool = True
    light_edges: tuple[str, ...] = ()
    strays: tuple[PixelBox, ...] = ()
    cut: tuple[float, float, float, float] | None = None
    askew: float = 0


def locate(sheet: Pixels, marks: Iterable[PixelBox] = (), *, is_lossy: bool = False) -> Located:
    """Find the picture on a decoded sheet: all pictures together, if there are several.

    ``marks`` are boxes to leave out, such as corner marks known to stand there. On a surround of exactly
    one colour any difference is ink, and the box is exact to the pixel; not so where the file
    ``is_lossy``, for packing smears edges, or looks as if it had been.
    """
    surround = find_surround(sheet)
    if not surround.is_seen:
        return Located(PixelBox(0, 0, *sheet.shape), surround.levels, is_flat=False)
    ink = _looked_over(sheet, surround, [grown(mark, 1) for mark in marks])
    blocks = ink.blocks()
    picture = _picture(blocks, sheet.shape)
    box = _box(ink, picture)
    found = find_marks(ink, box, picture, _others(blocks, picture)) if box else None
    if found:
        ink = ink.without([grown(stroke, _BLOCK) for stroke in found.strokes])
        blocks = ink.blocks()
        picture = _picture(blocks, sheet.shape)
        box = _box(ink, picture)
    if box is None:
        return Located(None, surround.levels, ink.surround.is_flat)
    box, is_flat = _settled(ink, box, is_lossy)
    box = _to_the_edges(ink, box)
    cut = found.cut if found else None
    apart = [block.box for block in _others(blocks, picture) if not is_inside(block.box, box)]
    strays = [ink.tight(each) for each in apart[:MOST_STRAYS]]
    if found and cut is None:
        strays += found.strokes
    strays = sorted(filter(None, strays), key=area, reverse=True)[:MOST_STRAYS]
    light = _light_edges(ink, box, is_flat)
    askew = find_askew(ink, box, is_exact=is_flat) if light or not is_flat else 0
    return Located(box, surround.levels, is_flat, light, tuple(strays), cut, askew)


def _looked_over(sheet: Pixels, surround: Surround, left_out: list[PixelBox]) -> Ink:
    """The ink, with as much tolerance as it takes to be rid of noise, if any takes it away."""
    ink = first = Ink(sheet, surround, left_out)
    while ink.patches > _MOST_BLOCKS:
        if ink.surround.tolerance > _MOST_NOISE:
            return first
        ink = Ink(sheet, ink.surround.noisier(), left_out)
    return ink


# Picture and strays


def _picture(blocks: list[Block], sheet: tuple[int, int]) -> list[Block]:
    """The largest block, those that are not small beside it, and those that reach between them."""
    blocks = [block for block in blocks if not _is_rim(block, blocks[0], sheet)]
    if not blocks:
        return []
    least = _PART * area(blocks[0].box)
    part = [blocks[0], *(block for block in blocks[1:] if area(block.box) >= least)]
    while True:
        box = _around(part)
        between = [block for block in _others(blocks, part) if overlap(block.box, box)]
        if not between:
            return part
        part += between


def _is_rim(block: Block, main: Block, sheet: tuple[int, int]) -> bool:
    """Whether it is a thin line round all else at the sheet's edge, such as scanners leave."""
    box = block.box
    is_at_edge = 0 in (box.left, box.top) or box.right == sheet[0] or box.bottom == sheet[1]
    is_thin = block.count * CELL * CELL <= _RIM_SHARE * area(box)
    return block != main and is_at_edge and is_thin and is_inside(main.box, box)


def _others(blocks: list[Block], part: list[Block]) -> list[Block]:
    numbers = {block.number for block in part}
    return [block for block in blocks if block.number not in numbers]


def _around(blocks: list[Block]) -> PixelBox:
    return around(block.box for block in blocks)


def _box(ink: Ink, picture: list[Block]) -> PixelBox | None:
    """The exact box round all of the picture."""
    return ink.tight(_around(picture)) if picture else None


# The picture's edges


def _settled(ink: Ink, box: PixelBox, is_lossy: bool) -> tuple[PixelBox, bool]:
    """The box without the noise round it, and whether there was none."""
    tolerance = max(DIFFERENCE, ink.surround.tolerance)
    free = [side for side, gap in _gaps(ink, box).items() if gap]
    lines = {side: ink.inward(side, box, _BLOCK + CELL) for side in free}
    steps = {side: _step((off > tolerance).mean(axis=1)) for side, off in lines.items()}
    is_exact = ink.surround.is_flat and not is_lossy
    if is_exact and not _is_ringing(box, lines, steps):
        return box, True
    for side, step in steps.items():
        box = cut_off(box, side, step) or box
    return box, False


def _step(shares: np.ndarray) -> int:
    """The line at which the share of ink steps up, within a JPEG's block of the first."""
    for at in range(min(len(shares), _BLOCK + 2)):
        if shares[at] >= max(shares[at : at + CELL].max() / 2, shares.max() / 4):
            return at
    return 0


def _is_ringing(box: PixelBox, lines: dict[str, np.ndarray], steps: dict[str, int]) -> bool:
    """Whether what lies outside the steps is what JPEG leaves round an edge.

    It is faint, uneven, reaches no farther than the blocks that the edge runs through, and on some side
    is wider than the pixel or two of a soft edge. Where it ends the picture begins at once, and not little
    by little as one does that fades into the paper.
    """
    for side, step in steps.items():
        outer = getattr(box, side)
        inner = outer + step if side in ("left", "top") else outer - step
        low, high = inner // _BLOCK * _BLOCK - 1, -(-inner // _BLOCK) * _BLOCK + 1
        if not low <= outer <= high:
            return False
    return any(
        step >= 4
        and lines[side][:step].mean() <= _FAINT
        and np.ptp(lines[side][:step]) > 0
        and lines[side][step].mean() >= _AT_ONCE * lines[side][step - 1].mean()
        for side, step in steps.items()
    )


def _to_the_edges(ink: Ink, box: PixelBox) -> PixelBox:
    """The box drawn out to the edges of the sheet where nothing shows that the picture ends before.

    So with a picture that reaches at least two edges: what looks like paper along the others may be its
    own sky. It ends there only at a straight edge, and only if the surround can be paper.
    """
    gaps = _gaps(ink, box)
    if list(gaps.values()).count(0) < 2:
        return box
    surround = ink.surround
    is_paper = surround.is_flat or min(surround.levels) >= _WHITISH
    for side, gap in gaps.items():
        shares = (ink.inward(side, box, _BLOCK + CELL) > surround.tolerance).mean(axis=1)
        if gap and not (is_paper and shares[_step(shares)] >= max(0.1, shares.max() / 2)):
            box = cut_off(box, side, -gap)
    return box


def _gaps(ink: Ink, box: PixelBox) -> dict[str, int]:
    """How far each side of the box is from that edge of the sheet."""
    width, height = ink.sheet.shape
    return dict(
        zip(SIDES, (box.left, box.top, width - box.right, height - box.bottom), strict=True)
    )


def _light_edges(ink: Ink, box: PixelBox, is_flat: bool) -> tuple[str, ...]:
    """The sides on which less than half of the picture's edge surely differs from the surround.

    On a surround of exactly one colour an edge is sure as well that differs a little, but nearly all
    along. A scan or JPEG makes an edge soft, so there the lines just inside it are looked at too.
    """
    surely = max(DIFFERENCE, 2 * ink.surround.tolerance)
    depth = 1 if is_flat else _SOFT
    most = {side: ink.inward(side, box, depth).max(axis=0) for side in SIDES}
    return tuple(
        side
        for side, off in most.items()
        if (off > surely).mean() < 0.5 and not (is_flat and (off > _FAINTLY).mean() >= _ALL_ALONG)
    )


# Whether it is the right picture


def unlike(
    sheet: Pixels, box: PixelBox, picture: Pixels, crop: Crop, steps: tuple[float, ...] = ()
) -> str:
    """How what lies in ``box`` differs from the picture that should be there: "" when it is that one.

    Both are averaged down to a few patches, so that resampling, a profile or packing do not matter; nor
    does one of the tone ``steps``, in stops.
    """
    width, height = picture.shape
    left, top = round(width * crop.left), round(height * crop.top)
    right = round(width * (crop.left + crop.width))
    bottom = round(height * (crop.top + crop.height))
    wanted = patches(picture, (left, top, right, bottom))
    ways = ways_round(patches(sheet, (box.left, box.top, box.right, box.bottom)))
    levels = wanted.round().astype(np.uint8)
    toned = [wanted, *(tone(step)(levels).astype(np.float32) for step in steps)]
    off = {
        way: min(float(np.abs(each - got).mean()) for each in toned) for way, got in ways.items()
    }
    nearest = min(off, key=off.get)
    return nearest if off[nearest] < ALIKE else "other"


def ways_round(got: np.ndarray) -> dict[str, np.ndarray]:
    """What was found (rows × columns × 3) as it is, and turned back from each way it may be turned."""
    return {
        "": got,
        "mirrored": got[:, ::-1],
        "upside-down": got[::-1, ::-1],
        "flipped": got[::-1],
    }


def patches(
    pixels: Pixels, region: Region, count: tuple[int, int] = (_PATCHES, _PATCHES)
) -> np.ndarray:
    """The region averaged down to so many patches across and down, a row of them at a time: rows × columns ×
    3 levels, float32."""
    left, top, right, bottom = region
    cuts = np.linspace(top, bottom, count[1] + 1).round().astype(int).tolist()
    rows = []
    for start, end in pairwise(cuts):
        start = min(start, bottom - 1)
        band = Image.fromarray(pixels.levels((left, start, right, max(end, start + 1))))
        rows.append(np.asarray(band.resize((count[0], 1), Image.Resampling.BOX)))
    return np.concatenate(rows).astype(np.float32)
