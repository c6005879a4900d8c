"""Sizes in a file's name, and the sheets they may mean."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from labkit.errors import LabError
from labkit.geometry.length import millimetres
from labkit.geometry.paper import Sheet, catalogue, find_sheet
from labkit.geometry.size import SAME_SHEET
from labkit.room.rules import Room


@dataclass(frozen=True, slots=True)
class NamedSize:
    """A size in a name as it is written, and the sheets it may mean."""

    text: str
    sheets: tuple[Sheet, ...]


_NUMBER = r"\d{1,4}(?:[.,]\d{1,4})?(?: ?[¼-¾⅐-⅞])?"
_UNIT = r"""(?: ?(?:inches|inch|in|"|″|mm|cm))?"""
_ALONE = r"(?<![^\W_])", r"(?![^\W_]|[.,]\d)"
"""Behind no letter or digit, and before none."""
_SIZE = re.compile(
    rf"{_ALONE[0]}(?<!\d[.,]){_NUMBER}{_UNIT}(?: ?[x×] ?{_NUMBER}{_UNIT})+{_ALONE[1]}(?! ?[x×])"
    rf"|{_ALONE[0]}(?:(?:ISO[ -]?[AB]|JIS[ -]?B|S?RA|A)\d{{1,2}}|ARCH[ -]?(?:[A-D]|E[1-3]?)"
    rf"|ANSI[ -]?[A-E]){_ALONE[1]}(?!\+|[ -]?plus)",
    re.I | re.A,
)
"""A size by its measure, or by a name that is hardly anything else; three measures are no sheet."""
_CENTIMETRES_WITHIN = millimetres(5)
"""Centimetres in a name are whole ones: 30 x 42 is said of 297 × 420 mm."""
_MOST_INCHES = 100


def meant_sheets(text: str, room: Room) -> tuple[Sheet, ...]:
    """The sheets that a text may mean which is a size and nothing else; a size without a unit may be in
    inches, centimetres, or, if it is a known one, millimetres."""
    text = text.strip(" -.")
    if sheet := _found(text):
        return (sheet,)
    in_inches, in_mm, in_cm = (_found(text + unit) for unit in ("in", "mm", "cm"))
    if in_inches is None:
        return ()
    longest = max(in_inches.width, in_inches.height).inches
    return tuple(
        filter(
            None,
            (
                in_inches if longest <= _MOST_INCHES else None,
                in_mm if _is_known(in_mm, room) else None,
                in_cm if longest <= _MOST_INCHES * 2.54 else None,
            ),
        )
    )


def _found(text: str) -> Sheet | None:
    try:
        return find_sheet(text)
    except LabError:
        return None


def sizes_inside(part: str, room: Room) -> Iterator[NamedSize]:
    """The sizes amid other words; one without a unit only if it is a known sheet's."""
    for match in _SIZE.finditer(part):
        text = match[0].strip()
        meant = meant_sheets(text, room)
        if len(meant) > 1 or _found(text) is None:
            meant = tuple(sheet for sheet in meant if _is_known(sheet, room))
        if meant:
            yield NamedSize(text, meant)


def _is_known(sheet: Sheet, room: Room) -> bool:
    return any(
        sheet.same_size(known, SAME_SHEET, either_way=True)
        for known in (*room.sheets, *catalogue())
    )


def sheet_as_named(size: NamedSize, sheet: Sheet) -> Sheet | None:
    """The sheet that a size in a name means, lying as ``sheet`` does; None if it is another size."""
    for meant in size.sheets:
        within = _CENTIMETRES_WITHIN if _is_in_centimetres(size.text, meant) else SAME_SHEET
        if meant.same_size(sheet, within, either_way=True):
            return meant if meant.is_turned == sheet.is_turned else meant.turned()
    return None


def _is_in_centimetres(text: str, meant: Sheet) -> bool:
    sides = meant.width.mm, meant.height.mm
    return meant.unit == "mm" and "mm" not in text and not any(side % 10 for side in sides)
