"""Whether a file is one of ours that several prints share: what it says of itself, against its pixels."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from labkit.files.gang.owned import Owned, read_owned
from labkit.files.gang.slug import cut_marks, slug_place
from labkit.files.gang.statement import PRINTS, Statement, apart, read_statement, sum_of
from labkit.files.header.picture import Picture
from labkit.files.header.tiff_reader import description_of
from labkit.files.look.ink import Ink, Surround
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

_WHITE = Surround((255, 255, 255), 0)
_MOST_STRAYS = 20


@dataclass(frozen=True, slots=True)
class Known:
    """A sheet of ours: its ``kind`` and the places of its prints; how many lines of type are not as
    they were written, and all other ink outside the prints, the largest first; and whose the
    prints are, where it says so."""

    kind: str
    places: tuple[PixelBox, ...]
    changed: int
    strays: tuple[PixelBox, ...]
    owned: tuple[Owned, ...] = ()


def known(picture: Picture, pixels: Pixels) -> Known | None:
    """In a guarded child: the sheet of ours that a file says it is; None where it says nothing of the kind,
    or its prints do not lie on it as it says.

    Only what is exactly as it was written is taken for ours: a line of type by the checksum of all its
    pixels, marks by their place and by being black. All else outside the prints is told. Where no line is
    as it was, nothing here is.
    """
    description = _description(picture)
    said = read_statement(description)
    if said is None or picture.ppi is None or not apart(said.places, picture.pixels):
        return None
    ppi = picture.ppi[0]
    lines = [slug_place(place, ppi) for place in said.places]
    changed = sum(
        _line(pixels, line) != wanted for line, wanted in zip(lines, said.sums, strict=True)
    )
    if changed == len(lines):
        return None
    marks = _marks(said, ppi, pixels) if said.kind == PRINTS else ()
    ink = Ink(pixels, _WHITE, [*said.places, *lines, *marks])
    strays = [ink.tight(block.box) for block in ink.blocks()[:_MOST_STRAYS]]
    owned = read_owned(description, said.places)
    return Known(said.kind, said.places, changed, tuple(filter(None, strays)), owned)


def _description(picture: Picture) -> str:
    return description_of(picture) if picture.orientation == 1 else ""


def _line(pixels: Pixels, box: PixelBox) -> int | None:
    """The checksum of a line of type; None where it is off the sheet or in colour."""
    wide, high = pixels.shape
    if box.right > wide or box.bottom > high:
        return None
    levels = pixels.levels((box.left, box.top, box.right, box.bottom))
    grey = levels[..., 0]
    return sum_of(grey) if (levels == grey[..., None]).all() else None


def _marks(said: Statement, ppi: Fraction, pixels: Pixels) -> Iterator[PixelBox]:
    """Where marks stand that are black, or left out because the printer does not reach there."""
    page = PixelBox(0, 0, *pixels.shape)
    for place in said.places:
        for mark in cut_marks(place, ppi, page):
            levels = pixels.levels((mark.left, mark.top, mark.right, mark.bottom))
            if np.isin(levels, (0, 255)).all() and (levels == levels[..., :1]).all():
                yield mark
