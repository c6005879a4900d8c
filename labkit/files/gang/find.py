"""Where finished prints lie on a file that several share, found by their pixels, bit for bit."""

import numpy as np

from labkit.files.header.picture import Picture
from labkit.files.pixels.decode import decode
from labkit.room.rules import Room

_SAMPLES = 96
"""Pixels that are compared before all are: few places agree in so many by chance."""

Spot = tuple[int, int, int]
"""Left and top in pixels, and by how many quarter turns anticlockwise it was turned."""


def find_prints(gang: Picture, prints: list[Picture], room: Room) -> list[Spot | None]:
    """In a guarded child: where each print lies on ``gang``; None for one that is not there whole."""
    sheet = _numbers(gang)
    return [_find(sheet, _numbers(each)) for each in prints]


def _numbers(picture: Picture) -> np.ndarray:
    """A picture with one number to a pixel: (rows, columns) int32."""
    width, height = picture.pixels
    values = decode(picture).levels((0, 0, width, height)).astype(np.int32)
    return values[..., 0] << 16 | values[..., 1] << 8 | values[..., 2]


def _find(sheet: np.ndarray, part: np.ndarray) -> Spot | None:
    for turns in range(4):
        spot = _find_as_it_lies(sheet, np.rot90(part, turns))
        if spot:
            return (*spot, turns)
    return None


def _find_as_it_lies(sheet: np.ndarray, part: np.ndarray) -> tuple[int, int] | None:
    high, wide = part.shape
    down, across = sheet.shape[0] - high + 1, sheet.shape[1] - wide + 1
    if min(down, across) < 1:
        return None
    chance = np.random.default_rng(0)
    rows, columns = chance.integers(0, high, _SAMPLES), chance.integers(0, wide, _SAMPLES)
    first = sheet[rows[0] : rows[0] + down, columns[0] : columns[0] + across]
    tops, lefts = np.nonzero(first == part[rows[0], columns[0]])
    for row, column in zip(rows[1:], columns[1:], strict=True):
        same = sheet[tops + row, lefts + column] == part[row, column]
        tops, lefts = tops[same], lefts[same]
    for top, left in zip(tops.tolist(), lefts.tolist(), strict=True):
        if np.array_equal(sheet[top : top + high, left : left + wide], part):
            return left, top
    return None
