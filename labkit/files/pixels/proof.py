"""Soft proof: how a picture will look on a paper, and what of it the paper cannot show.

Two conversions, as a print is made and then looked at: from the picture's profile to the paper's, and
from there to the screen's.
"""

from dataclasses import dataclass, field

import numpy as np

from labkit.errors import LabError
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.lab import D50, lab_of_xyz, xyz_of_lab
from labkit.files.pixels.paperprofile import PaperProfile
from labkit.files.pixels.transform import lab_of, of_lab, transform

MOST_PIXELS = 1_000_000
"""A proof is made of a copy with no more pixels than these."""
LOST = 3.0
"""A colour is lost where the nearest that the paper shows is further off than this, in CIEDE2000. Our own
judgement: a profile's own tables, there and back, are 2 to 3 off at the edge of what they hold."""
FAR = 10.0
"""CIEDE2000 was fitted to small differences: above this a figure says no more than "far" (common practice,
no source)."""
_BAND = 64
"""Rows measured at a time."""


@dataclass(frozen=True, eq=False)
class Proof:
    """A picture as it will look on a paper.

    ``original`` and ``printed`` are for the screen: uint8, (rows, columns, 3). ``lost`` (bool, rows by
    columns) marks colours that the paper cannot show by any intent; ``too_dark`` those of them that are
    darker than its deepest black. ``moved`` (float32) is how far each pixel is from the original by the
    intent used, in CIEDE2000, white of the one being white of the other. ``reduced`` is how many pixels
    of the picture each way were averaged to one of these; 1 where none were.
    """

    paper: str
    intent: str
    black_point: bool
    paper_white: bool
    reduced: int
    original: np.ndarray = field(repr=False)
    printed: np.ndarray = field(repr=False)
    lost: np.ndarray = field(repr=False)
    too_dark: np.ndarray = field(repr=False)
    moved: np.ndarray = field(repr=False)

    @property
    def share(self) -> float:
        """The share of the picture, 0 to 1, that the paper cannot show."""
        return float(self.lost.mean())

    @property
    def share_too_dark(self) -> float:
        """The share that is darker than the paper's deepest black."""
        return float(self.too_dark.mean())

    def sentence(self) -> str:
        """What the paper does to the picture, in words."""
        compensated = ", black point compensation" if self.black_point else ""
        measured = (
            f" Measured on a copy reduced {self.reduced} times each way."
            if self.reduced > 1
            else ""
        )
        return (
            f"On {self.paper} ({self.intent} intent{compensated}) {_percent(self.share)} of the picture "
            f"cannot be shown, {_percent(self.share_too_dark)} because it is too dark. Its colours move by "
            f"{told(float(self.moved.mean()))} on average (ΔE2000).{measured}"
        )

    def __str__(self) -> str:
        return self.sentence()


def told(difference: float) -> str:
    """A difference in CIEDE2000 as it is told: one decimal, and "far" for what is above :data:`FAR`."""
    return "far" if difference > FAR else f"{difference:.1f}"


def proof(
    rgb: np.ndarray,
    source: bytes,
    paper: PaperProfile,
    *,
    intent: str = "relative",
    black_point: bool = True,
    paper_white: bool = False,
    screen: bytes | None = None,
) -> Proof:
    """The soft proof of a picture whose profile is ``source``.

    ``rgb``: (rows, columns, 3), uint8, uint16, or float from 0 to 1. ``intent`` and ``black_point`` are
    those of printing. ``paper_white`` shows the paper's own white in place of the screen's (ICC-absolute).
    ``screen`` is the profile of the screen it is looked at on, sRGB where none is given. LabError for a
    paper's profile that is no printer's for RGB.
    """
    if paper.unfit:
        raise LabError(paper.unfit)
    screen = screen or srgb_profile()
    full = 1 if rgb.dtype.kind == "f" else np.iinfo(rgb.dtype).max
    small, reduced = _reduced(rgb)
    small = small / np.float32(full)
    bands = [
        _band(small[top : top + _BAND], source, paper, screen, intent, black_point, paper_white)
        for top in range(0, len(small), _BAND)
    ]
    made = (np.concatenate(parts) for parts in zip(*bands, strict=True))
    return Proof(paper.description, intent, black_point, paper_white, reduced, *made)


def _reduced(rgb: np.ndarray) -> tuple[np.ndarray, int]:
    """At most :data:`MOST_PIXELS`: blocks averaged, and how many pixels they have to a side."""
    height, width, _ = rgb.shape
    side = 1
    while -(-height // side) * -(-width // side) > MOST_PIXELS:
        side += 1
    if side == 1:
        return rgb, 1
    rows, columns = np.arange(0, height, side), np.arange(0, width, side)
    sums = np.add.reduceat(np.add.reduceat(rgb, rows, 0, np.float32), columns, 1)
    counts = np.diff([*rows, height])[:, None] * np.diff([*columns, width])[None]
    return sums / counts[..., None].astype(np.float32), side


def _band(rgb, source, paper, screen, intent, black_point, paper_white):
    """Original, printed, lost, too dark and moved of some rows."""
    printing = {"intent": intent, "black_point": black_point}
    sent = transform(rgb, source, paper.data, **printing)
    # no black point compensation: it would hide how weak the paper's black is
    looked_at = "absolute" if paper_white else "relative"
    printed = transform(sent, paper.data, screen, intent=looked_at, dtype="u1")
    original = transform(rgb, source, screen, dtype="u1")

    lab = lab_of(rgb, source)
    nearest = lab_of(of_lab(lab, paper.data), paper.data)
    lost = delta_e(lab, nearest) > LOST
    too_dark = lost & (lab[..., 0] < _darkest(paper))
    moved = delta_e(lab, lab_of(sent, paper.data)).astype(np.float32)
    return original, printed, lost, too_dark, moved


def _darkest(paper: PaperProfile) -> float:
    """L of the deepest black where bare paper is 100."""
    black, white = (xyz_of_lab(lab) for lab in (paper.black, paper.white))
    return float(lab_of_xyz(black / white * D50)[0])


def _percent(share: float) -> str:
    return "less than 1%" if 0 < share < 0.005 else f"{share:.0%}"
