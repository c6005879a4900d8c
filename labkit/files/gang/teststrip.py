"""A test strip: one part of a picture, as large as it will be printed, in several tone steps with labels."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from labkit.errors import LabError
from labkit.files.gang.slug import LINE, type_line
from labkit.files.pixels.conversion import Conversion
from labkit.files.pixels.decode import Pixels
from labkit.files.pixels.tone import tone
from labkit.files.writing.strips import CHANNELS, SheetStrips
from labkit.geometry.layout import Layout
from labkit.geometry.length import length
from labkit.geometry.light import ToneStep
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import Raster

LEAST_STEP = length("1/2in")
"""Of less than this of a picture no tone can be judged (our own judgement)."""

Part = tuple[float, float, float, float]
"""Left, top, right and bottom in pixels of a picture: whole ones where none is resampled."""


@dataclass(frozen=True)
class Bands:
    """Where the steps of a strip lie, in pixels: ``size`` of the strip, of each step's ``picture``, and the
    upper left ``corners`` of the pictures. A label of ``line`` rows stands below each, a head above all."""

    size: tuple[int, int]
    picture: tuple[int, int]
    corners: tuple[tuple[int, int], ...]
    line: int


def bands(size: tuple[int, int], count: int, ppi: Fraction) -> Bands:
    """Divide a strip of that many pixels along its longer side. LabError where too little is left of each."""
    line = LINE.pixels(ppi)
    gap, (wide, high) = max(1, line // 4), size
    if high >= wide:
        pitch = (high - line - gap) // count
        picture = wide, pitch - line - gap
        corners = [(0, line + gap + pitch * each) for each in range(count)]
    else:
        pitch = (wide + gap) // count
        picture = pitch - gap, high - 2 * line - gap
        corners = [(pitch * each, line + gap) for each in range(count)]
    if min(picture) < LEAST_STEP.pixels(ppi):
        raise LabError(
            f"a strip of that size leaves less than {LEAST_STEP} of the picture for each of {count} steps: "
            "ask for fewer steps, or for a larger strip."
        )
    return Bands(size, picture, tuple(corners), line)


def part_shown(
    pixels: tuple[int, int],
    at: tuple[Fraction, Fraction],
    picture: tuple[int, int],
    scale: Fraction,
) -> Part:
    """The part of a picture of so many ``pixels`` that a step shows: left, top, right, bottom.

    Its centre is ``at``, in fractions across and down, or as near to it as the picture allows; ``scale`` is
    how many of its pixels go to one of the print. LabError where the picture has less than that.
    """
    sides = [side * scale for side in picture]
    if any(side > most for side, most in zip(sides, pixels, strict=True)):
        raise LabError(
            "the whole print is smaller than one step of the strip: ask for a smaller strip, for more steps, "
            "or say how wide the print will be (width=…, --width)."
        )
    starts = [
        min(max(most * where - side / 2, 0), most - side)
        for most, where, side in zip(pixels, at, sides, strict=True)
    ]
    if scale == 1:  # not one pixel is resampled
        starts = [int(start) for start in starts]
    number = int if scale == 1 else float
    left, top = starts
    return tuple(map(number, (left, top, left + sides[0], top + sides[1])))


class ToneStrip:
    """The rows of a strip: each step of the picture, its label, and a head that says whose it is.

    ``part`` of the picture is shown in all ``steps``; ``own_ppi`` is what the picture has in
    print, ``ppi`` what is printed. ``heads`` are wordings of the head, the longest first.
    """

    def __init__(
        self,
        pixels: Pixels,
        to_rgb: Conversion,
        laid: Bands,
        part: Part,
        steps: Sequence[ToneStep],
        *,
        own_ppi: Fraction,
        ppi: Fraction,
        layout: Layout,
        depth: int,
        heads: Sequence[str],
    ):
        self.depth, self._laid, self._ppi = depth, laid, ppi
        wide, high = laid.picture
        whole = PixelBox(0, 0, wide, high)
        raster = Raster(ppi, own_ppi, laid.picture, whole, part, resampled=own_ppi != ppi)
        self._sheet = self.blank(laid.size[1])
        self._type(heads, 0, 0, laid.size[0])
        for step, (left, top) in zip(steps, laid.corners, strict=True):
            toned = tone(step.amount, step.by, profile=to_rgb.profile) if step else None
            made = SheetStrips(pixels, to_rgb, layout, raster, depth, toned).rows(0, high)
            self._sheet[top : top + high, left : left + wide] = made
            self._type(step_labels(step), left, top + high, wide)

    def blank(self, count: int) -> np.ndarray:
        """So many rows of bare paper."""
        dtype = np.uint8 if self.depth == 8 else np.uint16
        return np.full((count, self._laid.size[0], CHANNELS), np.iinfo(dtype).max, dtype)

    def is_blank(self, top: int, bottom: int) -> bool:
        """Whether nothing is printed on rows ``top`` to ``bottom``: never told."""
        return False

    def rows(self, top: int, bottom: int) -> np.ndarray:
        """Rows ``top`` to ``bottom``: (rows, width, 3), uint8 or uint16."""
        return self._sheet[top:bottom]

    def _type(self, wordings: Sequence[str], left: int, top: int, wide: int) -> None:
        ink = type_line(wordings, self._ppi, wide)
        most = np.iinfo(self._sheet.dtype).max
        rows, columns = ink.shape
        white = most - ink.astype(self._sheet.dtype) * (most // 255)
        self._sheet[top : top + rows, left : left + columns] = white[..., None]


def step_labels(step: ToneStep) -> tuple[str, ...]:
    """What stands below a step: what was done, and what to give to ``prepare`` for it; then shorter."""
    if not step:
        return "as it is: nothing to give", "as it is", "0"
    option, amount = step.option, f"{step.amount:g}"
    if step.by != "stops":
        amount += " L*"
    return f"{step}: {option}", option, option.removeprefix("--lighter "), amount
