"""A hand-in described: all that a file can say and show, right or wrong. Nothing is drawn here."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from pathlib import Path

from labkit.files.writing.name import file_name
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout, place
from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet, find_sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import pixel_box

WHITE = (255, 255, 255)


@dataclass(frozen=True, kw_only=True)
class HandIn:
    """A file as it will be handed in; as it stands, with nothing but its first six fields, a good one.

    ``start`` is the pixel of ``picture`` where the part that is used begins; ``layout`` says how large
    that part is and where it lies, at ``ppi``. ``name`` overrules the name made by ``pattern``.
    ``states`` is the resolution that stands in the file, across and down, ``unit`` 2 for pixels per inch
    and 1 for a shape only (TIFF 6.0, tag 296). ``kind`` is "TIFF", "JPEG" or "PNG"; ``packing`` and
    ``quality`` (of a lossy one) say how it is packed, ``profile`` is "sRGB", "printer" or "". ``flag`` is
    the orientation (TIFF 6.0, tag 274) it has to be turned by. ``alone`` leaves the sheet out. ``clear``
    makes the paper round the picture transparent. ``enlarged`` is from how many times fewer pixels, ``soft``
    a blur's radius in pixels, ``fade`` the share of the picture that fades into the paper on its left.
    ``strays`` are marks on the sheet. ``grey`` is the share of the sheet's rows, from below, that are
    lost and grey, ``kept`` the share of the file's bytes that are there. ``beside`` was handed in before it.
    """

    picture: Path
    start: tuple[int, int]
    layout: Layout
    ppi: int
    owner: str
    title: str
    pattern: str
    name: str = ""
    states: tuple[int, int] | None = None
    unit: int = 2
    kind: str = "TIFF"
    packing: str = "lzw"
    quality: int = 92
    big: bool = False
    mode: str = "RGB"
    clear: bool = False
    profile: str = "sRGB"
    flag: int = 1
    layers: bool = False
    pages: int = 1
    alone: bool = False
    surround: tuple[int, int, int] = WHITE
    strays: tuple[PixelBox, ...] = ()
    enlarged: float = 1
    soft: float = 0
    fade: float = 0
    grey: float = 0
    kept: float = 1
    beside: "HandIn | None" = None

    @property
    def file_name(self) -> str:
        """The whole name of the file."""
        stem = self.name or file_name(
            self.pattern, owner=self.owner, title=self.title, sheet_label=self.layout.sheet.label
        )
        return stem + {"TIFF": ".tif", "JPEG": ".jpg", "PNG": ".png"}[self.kind]

    @property
    def sheet_pixels(self) -> tuple[int, int]:
        """Width and height of the sheet in pixels."""
        return self.layout.sheet.width.pixels(self.ppi), self.layout.sheet.height.pixels(self.ppi)

    @property
    def box(self) -> PixelBox:
        """Where the picture lies on the sheet, in pixels."""
        return pixel_box(self.layout.picture, self.ppi)


Change = Callable[[HandIn], HandIn]
"""What makes a good hand-in a bad one."""


def having(**fields) -> Change:
    """A hand-in with other fields."""
    return partial(replace, **fields)


def stating(across: int, down: int | None = None) -> Change:
    """With this resolution standing in the file, whatever its pixels are."""
    return having(states=(across, down or across))


def coarse(ppi: int) -> Change:
    """The same print from fewer pixels, and honest about it."""
    return having(ppi=ppi)


def moved(across: Fraction, down: Fraction = Fraction(0)) -> Change:
    """The picture so many inches to the right of its place, and below it."""

    def change(good: HandIn) -> HandIn:
        box = good.layout.picture
        return _with_picture(
            good, Box(box.left + Length(across), box.top + Length(down), *box.size)
        )

    return change


def at_left(border: Length) -> Change:
    """The picture this far from the left edge of the sheet."""

    def change(good: HandIn) -> HandIn:
        box = good.layout.picture
        return _with_picture(good, Box(border, box.top, *box.size))

    return change


def short_bleed(by: Length) -> Change:
    """The picture cut off by so much on the right, inside the bleed."""

    def change(good: HandIn) -> HandIn:
        box = good.layout.picture
        return _with_picture(good, Box(box.left, box.top, box.width - by, box.height))

    return change


def on_sheet(size: str) -> Change:
    """The picture as large as it was, centred on another sheet."""

    def change(good: HandIn) -> HandIn:
        old, sheet = good.layout.sheet, find_sheet(size)
        sheet = sheet.turned() if old.is_turned else sheet
        box = good.layout.picture
        return _laid(good, Box(*place(box.size, sheet), *box.size), sheet)

    return change


def naming(size: str) -> Change:
    """With this size in its name, whatever the file's is."""

    def change(good: HandIn) -> HandIn:
        told = {"owner": good.owner, "title": good.title, "sheet_label": size}
        return replace(good, name=file_name(good.pattern, **told))

    return change


def marked(count: int, wide: int, high: int) -> Change:
    """With dark marks of so many pixels in a row halfway between the picture and the lower edge."""

    def change(good: HandIn) -> HandIn:
        width, height = good.sheet_pixels
        top = (good.box.bottom + height - high) // 2
        lefts = (width * (each + 1) // (count + 1) - wide // 2 for each in range(count))
        return replace(good, strays=tuple(PixelBox(left, top, wide, high) for left in lefts))

    return change


def twice(owner: str, title: str) -> Change:
    """Handed in after the same picture under another name."""

    def change(good: HandIn) -> HandIn:
        return replace(good, beside=replace(good, owner=owner, title=title))

    return change


def _with_picture(good: HandIn, box: Box) -> HandIn:
    return _laid(good, box, good.layout.sheet)


def _laid(good: HandIn, box: Box, sheet: Sheet) -> HandIn:
    return replace(good, layout=replace(good.layout, picture=box, sheet=sheet))
