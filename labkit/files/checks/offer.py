"""The command that mends what was found, offered where it safely does."""

import os
import shlex
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from labkit.errors import LabError
from labkit.files.checks.catalogue import catalogue
from labkit.files.checks.colour import has_known_colours
from labkit.files.checks.findings import Finding, phrase, tell
from labkit.files.checks.name_parts import read_file_name
from labkit.files.checks.naming import named_sheets
from labkit.files.header.picture import Picture
from labkit.geometry.length import Length, length, size_text
from labkit.geometry.paper import Sheet, sheet_of
from labkit.geometry.proportion import by_both, by_width
from labkit.geometry.raster import ppi_that_fits
from labkit.geometry.resolution import floor_for, ppi_text
from labkit.geometry.size import Size
from labkit.room.rules import Room

_DEFAULTS = (72, 96, 180)
"""What cameras and programs state that know no resolution: 72 by Exif 2.3, the others from memory."""


def with_commands(
    items: Sequence[Finding], picture: Picture, sheet: Sheet, room: Room
) -> list[Finding]:
    """The findings of a finished ``sheet``, with the command at those that are about its form alone.

    It is offered only where nothing else stops the print, where the pixels are exactly that sheet, and
    where the name does not say another size.
    """
    mended = {code for code, entry in catalogue().items() if entry.command}
    is_sound = all(item.code in mended or item.grade != "stop" for item in items)
    is_named_otherwise = any(item.code == "name-size" for item in items)
    fits = ppi_that_fits(picture.pixels, sheet, room.working_ppi)
    if not is_sound or is_named_otherwise or not fits or not _can_be_prepared(picture, room):
        return list(items)
    command = _prepare(picture, sheet, room, "--whole")
    return [
        replace(item, command=command) if item.code in mended and item.grade != "fine" else item
        for item in items
    ]


def without_sheet(picture: Picture, room: Room) -> Finding:
    """The picture with no sheet round it, how large it would print, and on what."""
    stated = _meant_size(picture, room)
    size = stated or tuple(Length(Fraction(side, room.working_ppi)) for side in picture.pixels)
    options = _size_options(picture, stated, size)
    if options:
        size = by_width(picture.pixels, length(options[1]))
    sheet, on = _sheet_for(picture, size, room)
    command = ""
    has_pixels = all(side.pixels(room.working_ppi) for side in size)
    if sheet and has_pixels and _can_be_prepared(picture, room):
        command = _prepare(picture, sheet, room, *options)
    figures = {"size": size_text(size, room.units), "sheet": on, "ppi": ppi_text(room.working_ppi)}
    code = "picture-without-sheet"
    if stated:
        return tell(code, command=command, **figures)
    if picture.size is None:
        return tell(code, variant="unstated", command=command, **figures)
    figures |= {
        "stated": size_text(picture.size, room.units),
        "stated_ppi": " × ".join(dict.fromkeys(map(ppi_text, picture.ppi))),
    }
    return tell(code, variant="stated-too-low", command=command, **figures)


def _meant_size(picture: Picture, room: Room) -> Size | None:
    """The size that a picture states; None where it states none that is to be taken for one: two
    resolutions, fewer pixels than any print takes, or what programs state that know none."""
    if picture.size is None or picture.ppi[0] < room.floor[-1].ppi:
        return None
    is_below = picture.ppi[0] < floor_for(max(picture.size), room.floor).ppi
    if is_below and picture.ppi[0] in _DEFAULTS:
        return None
    try:
        return by_both(picture.pixels, *picture.size)
    except LabError:
        return None


def _size_options(picture: Picture, stated: Size | None, size: Size) -> tuple[str, ...]:
    """What asks for that size; nothing where it is the one that the file states."""
    return () if stated else ("--width", size[0].inch_text())


def _sheet_for(picture: Picture, size: Size, room: Room) -> tuple[Sheet | None, str]:
    """The sheet that holds the print, and what to say of it: the one that its name says, if it says one,
    else the smallest in stock."""
    code = "picture-without-sheet"
    if named := _kept(named_sheets(picture.path, room), room):
        lying = [each for sheet in named for each in (sheet, sheet.turned())]
        holding = [each for each in lying if each in room.ways_it_holds(size, each)]
        if holding:
            return holding[0], phrase(code, "named", sheet=holding[0])
        return None, phrase(code, "named-too-small", sheet=named[0])
    if sheet := room.sheet_for(size):
        return sheet, phrase(code, "sheet", sheet=sheet)
    if roll := room.roll_for(sheet_of(*size)):
        return None, phrase(code, "roll", roll=roll.width.both(room.units))
    return None, phrase(code, "none")


def _kept(sheets: Sequence[Sheet], room: Room) -> list[Sheet]:
    """Those that there is paper for, sheets in stock first."""
    stocked = [sheet for sheet in sheets if room.find_stock(sheet)]
    return stocked or [sheet for sheet in sheets if room.roll_for(sheet)]


def _can_be_prepared(picture: Picture, room: Room) -> bool:
    """Whether ``prepare`` takes it as it is: it has one page, and its colours are known."""
    return picture.pages == 1 and has_known_colours(picture, room)


def _prepare(picture: Picture, sheet: Sheet, room: Room, *options: str) -> str:
    """The command that makes the print file of that sheet; whose it is and what, if its name tells."""
    named = read_file_name(picture.path, room)
    told = [] if named else ["--owner", "WHOSE", "--title", "WHAT"]
    words = ["labkit", "prepare", str(picture.path), "--sheet", _exactly(sheet)]
    return _as_typed([*words, *options, *told])


def _exactly(sheet: Sheet) -> str:
    return sheet.size if sheet.is_turned else sheet.name


def _as_typed(words: list[str]) -> str:
    """A command line with such quotes as this system's terminal takes."""
    if os.name == "nt":
        from subprocess import list2cmdline

        return list2cmdline(words)
    return shlex.join(words)
