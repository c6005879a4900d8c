"""Whether a picture stands askew on its sheet, as when it was scanned crookedly, and by how much."""

import numpy as np

from labkit.files.look.ink import DIFFERENCE, SIDES, Ink
from labkit.geometry.pixelbox import PixelBox

_LINES = 49
"""So many lines across a side are followed inwards until they meet the picture."""
_CORNERS = 0.06
"""The share of a side at each of its ends that may belong to the sides beside it."""
_DEEP = 0.2
"""How far inwards, as a share of the box, an edge is looked for: up to some ten degrees."""
_ROUND = 0.03
"""How much more than the box is looked at on each side, as a share of its shorter side."""
_STRAIGHT = 1.5
"""Pixels off a straight line, in the middle, for an edge that counts as one."""
_AGREE, _AGREE_SHARE = 0.05, 0.1
"""Degrees, or a share, within which two sides tell the same turn."""
_LEAST = 0.04
"""A smaller turn, in degrees, is not told (our own judgement): 1 mm in a metre and a half."""
_SURELY = 3 * DIFFERENCE
"""Levels by which the picture stands off where there is noise: more than JPEG leaves round an edge."""
_CLOCKWISE = {"left": -1, "top": 1, "right": 1, "bottom": -1}
"""Whether the distance of an edge from its side of the box grows, to the right or downwards, if the picture
was turned clockwise."""


def find_askew(ink: Ink, box: PixelBox, *, is_exact: bool) -> float:
    """By how many degrees clockwise the picture in ``box`` is turned; 0 where that is not sure.

    Two sides at least have to be straight and to tell the same. ``is_exact``: whatever differs from the
    surround is the picture, there being no noise of a scan or of JPEG.
    """
    least = 0 if is_exact else max(_SURELY, 2 * ink.surround.tolerance)
    box = _wider(box, ink.sheet.shape)
    turns = [turn for side in SIDES if (turn := _turn(ink, box, side, least)) is not None]
    if len(turns) < 2:
        return 0.0
    middle = float(np.median(turns))
    within = max(_AGREE, _AGREE_SHARE * abs(middle))
    agreeing = sum(abs(turn - middle) <= within for turn in turns)
    return middle if agreeing >= 2 and abs(middle) >= _LEAST else 0.0


def _wider(box: PixelBox, sheet: tuple[int, int]) -> PixelBox:
    """The box with something round it, for a box in noise may begin inside the picture."""
    by = round(_ROUND * min(box.width, box.height))
    left, top = max(0, box.left - by), max(0, box.top - by)
    right, bottom = min(sheet[0], box.right + by), min(sheet[1], box.bottom + by)
    return PixelBox(left, top, right - left, bottom - top)


def _turn(ink: Ink, box: PixelBox, side: str, least: int) -> float | None:
    """The turn in degrees that one side tells, None where it is no straight line."""
    along, depths = _profile(ink, box, side, least)
    is_met = depths >= 0
    if len(along) < _LINES // 2 or is_met.mean() < 0.9:
        return None
    along, depths = along[is_met], depths[is_met]
    half = len(along) // 2
    slopes = (depths[half : 2 * half] - depths[:half]) / (along[half : 2 * half] - along[:half])
    slope = float(np.median(slopes))
    off = depths - slope * along
    if np.median(np.abs(off - np.median(off))) > _STRAIGHT:
        return None
    return _CLOCKWISE[side] * float(np.degrees(np.arctan(slope)))


def _profile(ink: Ink, box: PixelBox, side: str, least: int) -> tuple[np.ndarray, np.ndarray]:
    """Places along a side, and how far inwards of each the picture begins, -1 where it does not."""
    is_upright = side in ("left", "right")
    length, across = (box.height, box.width) if is_upright else (box.width, box.height)
    deep = max(1, round(across * _DEEP))
    along = np.unique(np.linspace(_CORNERS, 1 - _CORNERS, _LINES) * (length - 1)).astype(int)
    depths = []
    for at in along.tolist():
        line = (
            PixelBox(box.left, box.top + at, box.width, 1)
            if is_upright
            else PixelBox(box.left + at, box.top, 1, box.height)
        )
        inked = ink.inward(side, line, deep).reshape(-1) > least
        depths.append(int(inked.argmax()) if inked.any() else -1)
    return along.astype(float), np.array(depths, float)
