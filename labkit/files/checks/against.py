"""What is found against a layout that is known: the judge's side of a check."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.words import edges_text, listed
from labkit.files.look.look import Seen
from labkit.files.writing.name import read_name
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.proportion import Part
from labkit.geometry.size import same_size
from labkit.room.rules import Room

CROP_WITHIN = Fraction(1, 200)
"""How exactly a crop is found again, as a part of the picture: a part cut by less counts as whole."""
_ABOUT = Length(Fraction(1, 16))
"""In what steps the place of a crop is told."""
_MOVED = {
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
        yield tell("picture-other", variant="" if seen.unlike == "other" else seen.unlike)
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
    found: Layout, wanted: Layout, room: Room, pixel: Fraction, light_edges: tuple[str, ...]
) -> Iterator[Finding]:
    """Size first, then each border that is off: by how much, and which way.

    ``pixel`` is the size of one in inches, below which nothing can be placed. ``light_edges`` are the
    sides on which the picture is as light as the paper: its place is a guess then, and a person decides.
    """
    told = list(_off(found, wanted, room, pixel, grade="look" if light_edges else None))
    if told and light_edges:
        yield tell("edge-unclear", sides=edges_text(light_edges))
    yield from told


def _off(
    found: Layout, wanted: Layout, room: Room, pixel: Fraction, grade: str | None
) -> Iterator[Finding]:
    size, place = (
        max(within, Length(pixel)) for within in (room.tolerance.size, room.tolerance.place)
    )
    is_size_off = not same_size(found.picture.size, wanted.picture.size, size)
    if is_size_off:
        ratios = [box.width / box.height for box in (found.picture, wanted.picture)]
        is_shape_off = abs(ratios[0] / ratios[1] - 1) > Fraction(1, 100)
        code = "picture-shape" if is_shape_off else "picture-size"
        sizes = (
            size_text(found.picture.size, room.units),
            size_text(wanted.picture.size, room.units),
        )
        yield tell(code, grade=grade, size=sizes[0], expected=sizes[1])
    expected = dict(wanted.borders.items())
    for side, border in found.borders.items():
        off = border - expected[side]
        if abs(off) > place:
            is_wide = off > ZERO
            yield tell(
                "border",
                variant=_border_variant(wanted, is_wide=is_wide, is_size_off=is_size_off),
                grade=grade,
                side=side,
                size=border.both(room.units),
                off=abs(off).both(room.units),
                wider="wide" if is_wide else "narrow",
                expected=expected[side].both(room.units),
                way=_MOVED[side][0 if is_wide else 1],
            )


def _border_variant(wanted: Layout, *, is_wide: bool, is_size_off: bool) -> str:
    if wanted.trim and not wanted.keeps_white:
        return "short-of-bleed" if is_wide else "beyond-bleed"
    return "size-off" if is_size_off else ""


def cut_findings(found: Layout, wanted: Layout, room: Room, pixel: Fraction) -> Iterator[Finding]:
    """Of a print that is to keep white borders: whether corner marks cut it to them."""
    if not wanted.keeps_white:
        return
    if found.trim is None:
        yield tell("cut-marks")
        return
    within = max(room.tolerance.place, Length(pixel))
    expected = dict(wanted.picture.within(wanted.trim.box).items())
    for side, border in found.picture.within(found.trim.box).items():
        if abs(border - expected[side]) > within:
            yield tell(
                "cut-border",
                side=side,
                size=border.both(room.units),
                expected=expected[side].both(room.units),
            )


def named_findings(path: Path, named: str, room: Room) -> Iterator[Finding]:
    """Whether the file has the name it should have, and else which part of it is another."""
    if path.stem.casefold() == named.casefold():
        return
    wanted = read_name(room.name_pattern, named) or {}
    got = read_name(room.name_pattern, path.stem)
    off = [part for part in wanted if got and got[part].casefold() != wanted[part].casefold()]
    figures = {"name": path.name, "expected": named, "parts": listed(off)}
    yield tell("name", variant="other-parts" if off else "", grade="stop", **figures)
