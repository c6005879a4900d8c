"""A ruler sheet as a scanner would see its print: warped by known errors, and its marks read back.

The scanner is true: a pixel is 1/254 in, and the picture's edges are the paper's.
"""

from dataclasses import dataclass

import numpy as np
from PIL import Image

from labkit.files.writing.ruled import RuledStrips
from labkit.geometry.length import millimetres
from labkit.geometry.ruler import PPI, RulerSheet


@dataclass(frozen=True)
class Warp:
    """Scale across about the sheet's middle, along from the edge that goes in first; millimetres to the right
    and down, and how far right for each mm down."""

    across: float = 1.0
    along: float = 1.0
    right: float = 0.0
    down: float = 0.0
    slope: float = 0.0


def scan(ruler: RulerSheet, warp: Warp) -> np.ndarray:
    """The print: darkness (rows, columns) from 0 to 1."""
    strips = RuledStrips(ruler, [], "")
    flat = Image.fromarray(strips.rows(0, strips.size[1])[..., 0])
    kept = np.array([strips.size[0] / 2, 0])
    forward = np.array([[warp.across, warp.slope], [-warp.slope, warp.along]])
    moved = np.array([warp.right, warp.down]) / 25.4 * PPI
    back = np.linalg.inv(forward)  # what Pillow wants: where each pixel of the print comes from
    shift = kept - back @ (kept + moved)
    matrix = (*back[0], shift[0], *back[1], shift[1])
    print_ = flat.transform(
        flat.size, Image.Transform.AFFINE, matrix, Image.Resampling.BICUBIC, fillcolor=255
    )
    return 1 - np.asarray(print_, float) / 255


def read_marks(dark: np.ndarray, ruler: RulerSheet) -> dict[str, str]:
    """What a patient eye reads off that print, by the names it is entered under, in inches."""
    wide, high = ruler.width.pixels(PPI), ruler.height.pixels(PPI)
    inset, arm = ruler.inset.pixels(PPI), 50
    far_x, far_y = wide - inset, high - inset
    below, above = slice(inset + 25, inset + arm), slice(far_y - arm, far_y - 25)
    beside = slice(inset + 25, inset + arm)
    near = slice(inset - 60, inset + 60)
    end_x, end_y = slice(far_x - 60, far_x + 60), slice(far_y - 60, far_y + 60)
    ticks = millimetres("3.3").pixels(PPI)
    row = _darkest(dark.mean(axis=1), ruler.across_at.pixels(PPI)) - ticks
    column = _darkest(dark.mean(axis=0), ruler.along_at.pixels(PPI)) - ticks
    found = {
        "across": _long(dark[row - 2 : row + 3].mean(axis=0)),
        "along": _long(dark[:, column - 2 : column + 3].mean(axis=1)),
        "left": inset - 60 + _middle(dark[below, near].mean(axis=0)),
        "left-below": inset - 60 + _middle(dark[above, near].mean(axis=0)),
        "right": wide - (far_x - 60 + _middle(dark[below, end_x].mean(axis=0))),
        "top": inset - 60 + _middle(dark[near, beside].mean(axis=1)),
        "bottom": high - (far_y - 60 + _middle(dark[end_y, beside].mean(axis=1))),
    }
    return {name: f"{size / PPI:.5f}in" for name, size in found.items()}


def _darkest(profile: np.ndarray, about: int) -> int:
    """The line of a bar, within 5 mm of its place."""
    return about - 50 + int(profile[about - 50 : about + 50].argmax())


def _middle(profile: np.ndarray) -> float:
    """The middle of the ink of one line, counted from the start of the first pixel."""
    ink = np.where(profile > profile.max() / 4, profile, 0)
    return float((ink * (np.arange(ink.size) + 0.5)).sum() / ink.sum())


def _long(profile: np.ndarray) -> float:
    """From the first tick to the last, middle to middle; a tick is a short run of ink."""
    inked = np.flatnonzero(profile > 0.3)
    runs = np.split(inked, np.flatnonzero(np.diff(inked) > 1) + 1)
    ends = [slice(run[0] - 3, run[-1] + 4) for run in (runs[0], runs[-1])]
    first, last = (end.start + _middle(profile[end]) for end in ends)
    return last - first
