"""The rows of a ruler sheet: its lines, its figures, and the words that say how to use it."""

from collections.abc import Sequence

import numpy as np

from labkit.files.writing.lettering import written
from labkit.files.writing.strips import BLACK, CHANNELS
from labkit.geometry.length import Length, millimetres
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import pixel_box
from labkit.geometry.ruler import PPI, RulerSheet

_FIGURES, _WORDS = 8 * PPI // 72, 11 * PPI // 72
"""Type of 8 and 11 points, in pixels."""
_GAP, _LINE = 6, _WORDS * 3 // 2
_CLEAR = millimetres(12)


class RuledStrips:
    """The rows of a ruler sheet at :data:`~labkit.geometry.ruler.PPI`, 8 bits a channel.

    ``words`` stand on the sheet, a line each, and ``first_edge`` at its upper edge.
    """

    depth = 8

    def __init__(self, ruler: RulerSheet, words: Sequence[str], first_edge: str):
        self.size = ruler.width.pixels(PPI), ruler.height.pixels(PPI)
        self._lines = [pixel_box(box, PPI) for box in ruler.lines()]
        self._type = [*_figures(ruler), *_words(ruler, words), _first_edge(ruler, first_edge)]

    def blank(self, count: int) -> np.ndarray:
        """So many rows of bare paper."""
        return np.full((count, self.size[0], CHANNELS), 255, np.uint8)

    def is_blank(self, top: int, bottom: int) -> bool:
        """Whether nothing is printed on rows ``top`` to ``bottom``."""
        inked = [*self._lines, *(box for box, _ in self._type)]
        return not any(box.top < bottom and top < box.bottom for box in inked)

    def rows(self, top: int, bottom: int) -> np.ndarray:
        """Rows ``top`` to ``bottom``: (rows, width, 3) uint8."""
        sheet = self.blank(bottom - top)
        for box, ink in self._type:
            first, last = max(top, box.top), min(bottom, box.bottom)
            if first < last:
                part = 255 - ink[first - box.top : last - box.top]
                place = sheet[first - top : last - top, box.left : box.right]
                np.minimum(place, part[..., None], out=place)
        for box in self._lines:
            rows = slice(max(0, box.top - top), max(0, box.bottom - top))
            sheet[rows, box.left : box.right] = BLACK
        return sheet


Lettering = tuple[PixelBox, np.ndarray]


def _figures(ruler: RulerSheet) -> list[Lettering]:
    """A figure beside each tick that has one: inches above a bar or left of it, millimetres on the other
    side."""
    set_type = []
    for told, along, across, bar, unit in ruler.numbers():
        ink = written(told, _FIGURES)
        high, wide = ink.shape
        at, end = along.pixels(PPI), across.pixels(PPI)
        beyond = -_GAP if unit == "in" else _GAP
        if bar == "across":
            left, top = at - wide // 2, end + beyond - (high if unit == "in" else 0)
        else:
            left, top = end + beyond - (wide if unit == "in" else 0), at - high // 2
        set_type.append((PixelBox(left, top, wide, high), ink))
    return set_type


def _words(ruler: RulerSheet, words: Sequence[str]) -> list[Lettering]:
    """The lines below the bar across and left of the bar along, or as many as there is room for."""
    left, top = (ruler.inset + _CLEAR).pixels(PPI), (ruler.across_at + _CLEAR).pixels(PPI)
    wide = (ruler.along_at - _CLEAR).pixels(PPI) - left
    foot = (ruler.height - ruler.inset - _CLEAR).pixels(PPI)
    set_type = []
    for text in _folded(words, wide):
        ink = written(text, _WORDS)
        if top + ink.shape[0] > foot:
            break
        if text:
            set_type.append((PixelBox(left, top, ink.shape[1], ink.shape[0]), ink))
        top += _LINE
    return set_type


def _folded(words: Sequence[str], wide: int) -> list[str]:
    lines = []
    for sentence in words:
        line = ""
        for word in sentence.split():
            longer = f"{line} {word}".strip()
            if line and written(longer, _WORDS).shape[1] > wide:
                lines.append(line)
                longer = word
            line = longer
        lines += [line, ""]
    return lines


def _first_edge(ruler: RulerSheet, told: str) -> Lettering:
    ink = written(told, _WORDS)
    middle: Length = ruler.width / 2
    box = PixelBox(
        middle.pixels(PPI) - ink.shape[1] // 2, ruler.inset.pixels(PPI), ink.shape[1], ink.shape[0]
    )
    return box, ink
