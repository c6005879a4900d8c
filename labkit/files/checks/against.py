"""What is found against a layout that is known: the judge's side of a check."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.words import same
from labkit.files.look.look import Seen
from labkit.files.writing.name import read_name
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.proportion import Part
from labkit.room.rules import Room

CROP_WITHIN = Fraction(1, 200)
"""How exactly a crop is found again, as a part of the picture: a part cut by less counts as whole."""
_ABOUT = Length(Fraction(1, 16))
"""In what steps the place of a crop is told."""
_WAYS = {
    "left": ("to the right", "to the left"),
    "top": ("down", "up"),
    "right": ("to the left", "to the right"),
    "bottom": ("up", "down"),
}
"""Which way a picture sits when the border on a side is too wide, and too narrow."""


def picture_findings(found: Layout, seen: Seen, keep: Part | None, room: Room) -> Iterator[Finding]:
    """Whether it is the picture asked for, as a whole or cropped as it may be, on white."""
    if min(seen.surround) < 255:
        yield tell("surround", colour=seen.surround)
    if seen.is_stretched:
        yield tell("picture-stretched", size=size_text(found.picture.size, room.units))
    elif seen.unlike:
        yield tell("picture-other", reason=seen.unlike)
    elif keep:
        yield from _kept(found, keep, room)


def _kept(found: Layout, keep: Part, room: Room) -> Iterator[Finding]:
    """Whether the crop leaves the part that must stay, and if not by how much and where it cuts it."""
    size, crop = found.picture, found.crop
    wide, high = size.width / crop.width, size.height / crop.height
    for side, short in keep.short(crop).items():
        if short > CROP_WITHIN:
            off = _ABOUT * round((wide if side in ("left", "right") else high) * short / _ABOUT)
            way = {"top": "up", "bottom": "down"}.get(side, f"to the {side}")
            yield tell("picture-part", name=keep.name, side=side, off=off.both(room.units), way=way)


def border_findings(
    found: Layout, wanted: Layout, room: Room, pixel: Fraction, unsure: bool
) -> Iterator[Finding]:
    """Size first, then each border that is off: by how much, and which way.

    ``pixel`` is the size of one in inches, below which nothing can be placed; ``unsure`` is whether
    the picture's own edge is so light that its place is a guess.
    """
    grade = "look" if unsure else "stop"
    size, place = (
        max(within, Length(pixel)) for within in (room.tolerance.size, room.tolerance.place)
    )
    is_size_off = not same(found.picture.size, wanted.picture.size, size)
    if is_size_off:
        ratios = [box.width / box.height for box in (found.picture, wanted.picture)]
        is_shape_off = abs(ratios[0] / ratios[1] - 1) > Fraction(1, 100)
        code = "picture-shape" if is_shape_off else "picture-size"
        sizes = (
            size_text(found.picture.size, room.units),
            size_text(wanted.picture.size, room.units),
        )
        yield tell(code, grade=grade, size=sizes[0], expected=sizes[1])
    asked = dict(wanted.borders.items())
    for side, border in found.borders.items():
        off = border - asked[side]
        if abs(off) > place:
            reason = _reason(side, off, wanted, is_size_off)
            if unsure:
                reason += " Its edge is so light that this is a guess."
            yield tell(
                "border",
                grade=grade,
                side=side,
                size=border.both(room.units),
                off=abs(off).both(room.units),
                wider="wide" if off > ZERO else "narrow",
                expected=asked[side].both(room.units),
                reason=reason,
            )


def _reason(side: str, off: Length, wanted: Layout, is_size_off: bool) -> str:
    if wanted.trim:
        if off > ZERO:
            return "The picture stops short of the bleed, and a cut a little off would show white."
        return "The picture runs beyond the bleed, into the corner marks."
    if is_size_off:
        return "The size of the picture is off as well."
    away, back = _WAYS[side]
    return f"The picture sits too far {away if off > ZERO else back}."


def named_findings(path: Path, named: str, room: Room) -> Iterator[Finding]:
    """Whether the file has the name it should have, and else which part of it is another."""
    if path.stem.casefold() == named.casefold():
        return
    wanted = read_name(room.name_pattern, named) or {}
    got = read_name(room.name_pattern, path.stem)
    off = [part for part in wanted if got and got[part].casefold() != wanted[part].casefold()]
    reason = f"another {' and '.join(off)}" if off else "it does not follow the pattern"
    yield tell("name", grade="stop", name=path.name, reason=reason, expected=named)
