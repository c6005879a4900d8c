"""What stands beside a picture on a print that several share: its slug line, and marks to cut by."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

import numpy as np
from PIL import Image, ImageDraw

from labkit.files.writing.lettering import plain_type
from labkit.geometry.length import Length
from labkit.geometry.pixelbox import PixelBox

POINTS = 8
"""The size of the type: a point is 1/72 in."""
_CLEAR, _TICK, _THIN = Length(Fraction(1, 64)), Length(Fraction(1, 16)), Length(Fraction(1, 150))
"""What stays white round type and marks, the length of a mark, and how thick it is."""
LINE = Length(Fraction(POINTS * 5, 72 * 4))
"""A line of type from the top of its letters to the foot of those that hang below."""

SLUG_ROOM = _CLEAR + LINE + _CLEAR
"""What a slug line takes below its piece."""
LEAST_GAP = SLUG_ROOM + _TICK + _CLEAR
"""The gap that holds a slug line, and below it the marks of the next piece."""


@dataclass(frozen=True)
class Slug:
    """Whose a piece is: ``owner``, ``title``, its ``size`` in words, which piece of how many, the job."""

    owner: str
    title: str
    size: str
    number: int
    count: int
    job: str

    def wordings(self) -> Iterator[str]:
        """All of it, then shorter and shorter: what is left last says which piece it is."""
        piece = f"{self.number} of {self.count}"
        yield f"{self.owner} · {self.title} · {self.size} · piece {piece} · job {self.job}"
        yield f"{self.owner} · {self.title} · {piece} · job {self.job}"
        for keep in range(len(self.title) - 1, 0, -1):
            yield f"{self.owner} · {self.title[:keep]}… · {piece} · job {self.job}"
        for keep in range(len(self.owner), 0, -1):
            yield f"{self.owner[:keep]}… · {piece}"
        yield piece


@dataclass(frozen=True)
class Caption:
    """What a picture on a contact sheet is: its number, ``title``, ``owner`` ("" if nobody knows), its
    ``size`` in words."""

    number: int
    title: str
    owner: str
    size: str

    def wordings(self) -> Iterator[str]:
        """All of it, then shorter and shorter: what is left last is the number."""
        parts = [str(self.number), self.title, *filter(None, [self.owner]), self.size]
        yield " · ".join(parts)
        yield " · ".join(parts[:-1])
        for keep in range(len(self.title), 0, -1):
            yield f"{self.number} · {self.title[:keep]}…"
        yield f"{self.number}"


def slug_line(slug: Slug | Caption, ppi: Fraction, wide: int) -> np.ndarray:
    """Whose a piece is, as :func:`type_line` sets it."""
    return type_line(slug.wordings(), ppi, wide)


def type_line(wordings: Iterable[str], ppi: Fraction, wide: int) -> np.ndarray:
    """The first wording that fits into ``wide`` pixels, as ink: (rows, columns) uint8, 255 where it is
    black. Type is 8 points high at ``ppi``; a letter that the type lacks shows as a box."""
    font = plain_type(ceil(POINTS * ppi / 72))
    text = next((each for each in wordings if font.getlength(each) <= wide), "")
    image = Image.new("L", (max(1, ceil(font.getlength(text))), LINE.pixels(ppi)), 0)
    ImageDraw.Draw(image).text((0, 0), text, fill=255, font=font)
    return np.asarray(image)


def slug_place(piece: PixelBox, ppi: Fraction) -> PixelBox:
    """Where the line of a piece stands: below it, clear of its marks."""
    clear = max(1, _CLEAR.pixels(ppi))
    wide = max(1, piece.width - 4 * clear)
    return PixelBox(piece.left + 2 * clear, piece.bottom + clear, wide, LINE.pixels(ppi))


def cut_marks(piece: PixelBox, ppi: Fraction, page: PixelBox) -> list[PixelBox]:
    """Two thin lines at each corner, outside the trim and not touching it, as far as ``page`` goes."""
    clear, long = max(1, _CLEAR.pixels(ppi)), max(1, _TICK.pixels(ppi))
    thin = max(1, _THIN.pixels(ppi))
    marks = []
    for x in (piece.left, piece.right - thin):
        marks.append(PixelBox(x, piece.top - clear - long, thin, long))
        marks.append(PixelBox(x, piece.bottom + clear, thin, long))
    for y in (piece.top, piece.bottom - thin):
        marks.append(PixelBox(piece.left - clear - long, y, long, thin))
        marks.append(PixelBox(piece.right + clear, y, long, thin))
    return [each for each in (_clipped(mark, page) for mark in marks) if each]


def _clipped(mark: PixelBox, page: PixelBox) -> PixelBox | None:
    left, top = max(mark.left, page.left), max(mark.top, page.top)
    wide, high = min(mark.right, page.right) - left, min(mark.bottom, page.bottom) - top
    return PixelBox(left, top, wide, high) if wide > 0 and high > 0 else None
