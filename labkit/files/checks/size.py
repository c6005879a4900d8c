"""The sheet a file amounts to: told by its pixels and the resolution it states."""

from dataclasses import dataclass, replace
from fractions import Fraction

from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.words import listed
from labkit.files.header.picture import Picture
from labkit.geometry.box import Edges
from labkit.geometry.holding import smallest_holding
from labkit.geometry.length import Length, length, size_text
from labkit.geometry.paper import Sheet, sheet_near, sheet_of
from labkit.geometry.raster import ppi_that_fits
from labkit.geometry.resolution import ppi_text
from labkit.geometry.size import Size, same_size, size_off
from labkit.room.rules import Room

_UNEQUAL = Fraction(1, 1000)
"""Resolutions across and down that differ by less, as parts of one, are the same, rounded."""
_SLIP = length("1/8in")
"""How far both sides may be off a sheet in stock to look like a rounding or a slip (our own judgement)."""


@dataclass(frozen=True, slots=True)
class Sized:
    """The sheet, the resolution at which it is one, and what is to be said of them.

    ``sheet`` and ``ppi`` are None where nothing tells; ``ppi`` is the meant one where the stated one is
    missing or a slip. ``is_known`` tells that it is a sheet in stock.
    """

    sheet: Sheet | None = None
    ppi: Fraction | None = None
    items: tuple[Finding, ...] = ()
    is_known: bool = False


def find_size(picture: Picture, room: Room) -> Sized:
    """Which sheet it is among those in stock here, or else by its size."""
    sized = _sized(picture, room)
    if picture.ppi is None or picture.other_ppi is None or not _is_other(picture):
        return sized
    own, other = ppi_text(picture.ppi[0]), ppi_text(picture.other_ppi[0])
    return replace(sized, items=(*sized.items, tell("resolution-two", own=own, other=other)))


def _is_other(picture: Picture) -> bool:
    pairs = zip(picture.ppi, picture.other_ppi, strict=True)
    return any(abs(own / other - 1) > _UNEQUAL for own, other in pairs)


def _sized(picture: Picture, room: Room) -> Sized:
    stated = _stated(picture, room)
    meant = _meant(picture, room)
    if stated.ppi is None:
        if meant is None:
            return stated
        sheet, ppi = meant
        return replace(stated, sheet=sheet, ppi=Fraction(ppi), is_known=True)
    size = picture.size
    if sheet := _stocked(size, room, _within(room, stated.ppi)):
        return Sized(sheet, stated.ppi, is_known=True)
    if meant:
        return _mislabelled(picture, size, *meant, room)
    if sheet := _stocked(size, room, _SLIP):
        return _rounded(size, sheet, stated.ppi, room)
    sheet = sheet_near(size, Length(1 / (2 * stated.ppi)), unit=room.units)
    return Sized(sheet, stated.ppi, tuple(_unstocked(sheet.sides, room)))


def compare_size(picture: Picture, wanted: Sheet, room: Room) -> Sized:
    """Whether it is the ``wanted`` sheet."""
    stated = _stated(picture, room, wanted)
    if stated.ppi is None:
        return replace(stated, sheet=None)
    size = picture.size
    within = _within(room, stated.ppi)
    if same_size(size, wanted.sides, within):
        return Sized(wanted, stated.ppi, is_known=True)
    figures = {"size": size_text(size, room.units), "expected": size_text(wanted.sides, room.units)}
    if ppi := ppi_that_fits(picture.pixels, wanted, room.working_ppi):
        return Sized(items=(_label(picture, ppi, **figures),))
    turned = same_size(size, wanted.sides, within, either_way=True)
    return Sized(items=(tell("sheet-turned" if turned else "sheet-size", **figures),))


def _stated(picture: Picture, room: Room, wanted: Sheet | None = None) -> Sized:
    """The resolution it states, or why that is none."""
    wide, high = picture.pixels
    if picture.ppi is None:
        fits = _meant(picture, room) if wanted is None else None
        ppi = (
            fits[1] if fits else wanted and ppi_that_fits(picture.pixels, wanted, room.working_ppi)
        )
        code = "resolution-shape" if picture.shape_only else "resolution-missing"
        figures = {"wide": wide, "high": high, "ppi": ppi or room.working_ppi}
        if fits:
            return Sized(items=(tell(code, variant="fits", sheet=fits[0], **figures),))
        return Sized(items=(tell(code, **figures),))
    across, down = picture.ppi
    if abs(across / down - 1) > _UNEQUAL:
        found = tell("resolution-unequal", across=ppi_text(across), down=ppi_text(down))
        return Sized(items=(found,))
    return Sized(ppi=across)


def _within(room: Room, ppi: Fraction) -> Length:
    """The room's tolerance, or half a pixel where that is more: a sheet is whole pixels."""
    return max(room.tolerance.size, Length(1 / (2 * ppi)))


def _stocked(size: Size, room: Room, within: Length) -> Sheet | None:
    """The sheet in stock that is nearest, as it lies."""
    lying = [each for sheet in room.sheets for each in (sheet, sheet.turned())]
    near = [each for each in lying if same_size(size, each.sides, within)]
    return min(near, key=lambda each: size_off(size, each.sides), default=None)


def _meant(picture: Picture, room: Room) -> tuple[Sheet, int] | None:
    """The sheet in stock that the pixels are exactly at one of the usual resolutions, and that one."""
    lying = [each for sheet in room.sheets for each in (sheet, sheet.turned())]
    fits = [(each, ppi_that_fits(picture.pixels, each, room.working_ppi)) for each in lying]
    return next(((sheet, ppi) for sheet, ppi in fits if ppi), None)


def _mislabelled(picture: Picture, size: Size, sheet: Sheet, ppi: int, room: Room) -> Sized:
    """Right pixels, wrong label; a size that a roll would take at a fair resolution may be meant."""
    is_fair = picture.ppi[0] >= room.floor[-1].ppi
    may_be_meant = is_fair and room.roll_for(sheet_of(*size)) is not None
    expected = f"{sheet}"
    found = _label(
        picture,
        ppi,
        size=size_text(size, room.units),
        expected=expected,
        grade="look" if may_be_meant else None,
    )
    return Sized(sheet, Fraction(ppi), (found,), is_known=True)


def _label(picture: Picture, ppi: int, **figures) -> Finding:
    wide, high = picture.pixels
    stated = ppi_text(picture.ppi[0])
    return tell("resolution-label", wide=wide, high=high, stated=stated, ppi=ppi, **figures)


def _rounded(size: Size, sheet: Sheet, ppi: Fraction, room: Room) -> Sized:
    pixels = f"{sheet.width.pixels(ppi)} × {sheet.height.pixels(ppi)}"
    found = tell(
        "sheet-rounded",
        size=size_text(size, room.units),
        off=size_off(size, sheet.sides).both(room.units),
        expected=str(sheet),
        pixels=pixels,
        ppi=ppi_text(ppi),
    )
    return Sized(sheet_of(*size, unit=room.units), ppi, (found,))


def _unstocked(size: Size, room: Room) -> list[Finding]:
    """What there is to say of a size that no sheet in stock has."""
    roll = room.roll_for(sheet_of(*size))
    if roll is None:
        sheets = [max(sheet.width, sheet.height) for sheet in room.sheets]
        most = max([*(each.width for each in room.rolls), *sheets])
        return [
            tell("sheet-too-large", size=size_text(size, room.units), most=most.both(room.units))
        ]
    is_larger = smallest_holding(size, room.sheets, lambda _: Edges()) is None
    stock = listed([sheet.name for sheet in room.sheets])
    found = tell(
        "sheet-unstocked",
        grade="fine" if is_larger else None,
        size=size_text(size, room.units),
        roll=roll.width.both(room.units),
        stock=stock,
    )
    return [found]
