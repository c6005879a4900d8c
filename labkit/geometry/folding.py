"""Sheets that are halved and halved again: the series of paper sizes."""

from labkit.errors import LabError
from labkit.geometry.length import millimetres
from labkit.geometry.paper import Sheet, catalogue, sheet_of

SERIES = {
    "A": "A0",
    "B": "B0",
    "JIS B": "JIS B0",
    "ANSI": "ANSI E",
    "ARCH": "ARCH E",
}
"""Each series by its name, with the sheet it begins with. A and B: ISO 216; JIS B: JIS P 0138; ANSI,
with letter and tabloid in it: ASME Y14.1; ARCH: names of PWG 5101.1."""


def halved(sheet: Sheet) -> Sheet:
    """Half of ``sheet``, upright: cut across its long side.

    A size in millimetres is rounded down to whole ones, as ISO 216 and JIS P 0138 do; one in inches is
    exact. It has the catalogue's name where it is in it, else it is called by its size. LabError where
    nothing is left.

    >>> from labkit.geometry.paper import find_sheet
    >>> halved(find_sheet("A3")).name, halved(find_sheet("letter")).name
    ('A4', 'statement')
    """
    short, long = sorted((sheet.width, sheet.height))
    half = millimetres(long.mm / 2 // 1) if sheet.unit == "mm" else long / 2
    if not half:
        raise LabError(f"{sheet} cannot be halved: nothing of it would be left.")
    size = {half, short}
    known = (each for each in catalogue() if {each.width, each.height} == size)
    return next(known, None) or sheet_of(*sorted(size), unit=sheet.unit)


def folds(sheet: Sheet, times: int) -> tuple[Sheet, ...]:
    """``sheet`` and what it is after each of so many folds."""
    pieces = [sheet]
    for _ in range(times):
        pieces.append(halved(pieces[-1]))
    return tuple(pieces)
