"""A layout in whole pixels: which pixels of the picture go where on the sheet, at what resolution."""

from dataclasses import dataclass, replace
from fractions import Fraction

from labkit.errors import LabError
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import nearest
from labkit.geometry.paper import Sheet
from labkit.geometry.pixelbox import PixelBox


@dataclass(frozen=True, slots=True)
class Raster:
    """What the writer writes: the sheet in pixels, the picture's place on it and its source.

    ``source`` is the part of the picture used, in its own pixels: left, top, right, bottom. They are
    whole numbers when nothing is resampled, and then ``picture`` has exactly as many pixels.
    ``own_ppi`` is the picture's ppi at its printed size, ``ppi`` the file's. Where the picture is one part
    of a resampled whole, ``made`` are the pixels of that, wide and high, and ``window`` is the part of them.
    """

    ppi: Fraction
    own_ppi: Fraction
    sheet: tuple[int, int]
    picture: PixelBox
    source: tuple[float, float, float, float]
    resampled: bool
    made: tuple[int, int] | None = None
    window: PixelBox | None = None


def rasterize(
    layout: Layout,
    pixels: tuple[int, int],
    *,
    working_ppi: int,
    resample: int | Fraction | None = None,
    keep_pixels: bool = False,
) -> Raster:
    """Choose the resolution and round a layout to pixels.

    More pixels than ``working_ppi`` asks for are reduced to it; fewer are left alone, and the sheet
    takes the picture's own ppi. ``resample`` asks for new pixels at that ppi, ``keep_pixels`` for
    every pixel as it is. Where the picture comes out in as many pixels as it has, none is resampled.
    LabError if both are asked for, or the picture comes out without a pixel.
    """
    if resample is not None and keep_pixels:
        raise LabError(
            "resample makes new pixels and keep-pixels keeps the old ones: choose one of the two."
        )
    if resample is not None and resample <= 0:
        raise LabError(f"no picture can be resampled to {resample} ppi: give one above zero.")
    crop = layout.crop
    left, top = pixels[0] * crop.left, pixels[1] * crop.top
    wide, high = pixels[0] * crop.width, pixels[1] * crop.height
    own = wide / layout.picture.width.inches
    ppi = resample or (own if keep_pixels else min(own, working_ppi))
    sheet = layout.sheet.width.pixels(ppi), layout.sheet.height.pixels(ppi)
    picture = _inside(pixel_box(layout.picture, ppi), sheet)
    if min(picture.width, picture.height) < 1:
        raise LabError("at this size not one pixel of the picture is left: make the print larger.")
    resampled = (picture.width, picture.height) != (nearest(wide), nearest(high))
    if resampled:
        source = tuple(float(side) for side in (left, top, left + wide, top + high))
    else:
        first = min(nearest(left), pixels[0] - picture.width)
        upper = min(nearest(top), pixels[1] - picture.height)
        source = (first, upper, first + picture.width, upper + picture.height)
    return Raster(Fraction(ppi), own, sheet, picture, source, resampled)


def part_of(whole: Raster, box: Box, place: Box, sheet: Sheet) -> Raster:
    """One part of a picture that is a raster by itself: the same pixels, on a sheet of its own.

    ``box`` is the part's place on the picture, ``place`` the one on ``sheet``.
    """
    ppi, (wide, high) = whole.ppi, whole.sheet
    left, top = box.left.pixels(ppi), box.top.pixels(ppi)
    right, bottom = min(wide, box.right.pixels(ppi)), min(high, box.bottom.pixels(ppi))
    own = sheet.width.pixels(ppi), sheet.height.pixels(ppi)
    corner = place.left.pixels(ppi), place.top.pixels(ppi)
    part = PixelBox(left, top, right - left, bottom - top)
    shown = _inside(PixelBox(*corner, part.width, part.height), own)
    if whole.resampled:
        return replace(whole, sheet=own, picture=shown, made=(wide, high), window=part)
    x, y = whole.source[0] + left, whole.source[1] + top
    return replace(whole, sheet=own, picture=shown, source=(x, y, x + part.width, y + part.height))


USUAL_PPI = (300, 360, 240, 200, 180, 150, 600, 400, 720)
"""The resolutions at which pictures for printers are made: common practice, no source."""


def ppi_that_fits(pixels: tuple[int, int], sheet: Sheet, working_ppi: int) -> int | None:
    """The usual resolution, the working one first, at which so many pixels are exactly ``sheet``."""
    for ppi in dict.fromkeys((working_ppi, *USUAL_PPI)):
        if pixels == (sheet.width.pixels(ppi), sheet.height.pixels(ppi)):
            return ppi
    return None


def pixel_box(box: Box, ppi: Fraction) -> PixelBox:
    """A box in whole pixels: its corner and its size each rounded by the one rule."""
    return PixelBox(*(side.pixels(ppi) for side in (box.left, box.top, box.width, box.height)))


def mark_boxes(layout: Layout, ppi: Fraction) -> list[PixelBox]:
    """The corner marks of a layout in pixels, none thinner than one; none without a trim."""
    marks = layout.trim.marks() if layout.trim else []
    boxes = [pixel_box(mark, ppi) for mark in marks]
    return [PixelBox(b.left, b.top, max(1, b.width), max(1, b.height)) for b in boxes]


def _inside(box: PixelBox, sheet: tuple[int, int]) -> PixelBox:
    """Moved by the pixel that rounding a corner and a size apart may push it off the sheet."""
    return PixelBox(
        max(0, min(box.left, sheet[0] - box.width)),
        max(0, min(box.top, sheet[1] - box.height)),
        box.width,
        box.height,
    )
