"""One checker: reads a finished file back, as the writer's own proof and as the judge of exercises."""

import mmap
import zlib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.findings import Finding, Findings, tell
from labkit.files.guarded import guarded
from labkit.files.name import read_name
from labkit.files.picture import Picture, open_picture
from labkit.files.tiff import THREADS, Written
from labkit.files.tiff_reader import open_tiff
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet, sheet_of
from labkit.geometry.proportion import WHOLE, Crop, Part
from labkit.geometry.raster import PixelBox, mark_boxes
from labkit.geometry.resolution import ppi_text
from labkit.room import Room

CROP_WITHIN = Fraction(1, 200)
"""How exactly a crop is found again, as a part of the picture: a part cut by less counts as whole."""
_ABOUT = Length(Fraction(1, 16))
"""In what steps the place of a crop is told."""
LOSSLESS = {"NONE", "LZW", "ADOBE_DEFLATE", "DEFLATE", "PACKBITS", "ZSTD"}
"""What tifffile calls the compressions of a TIFF that lose nothing."""


def check(
    file: Path | str,
    *,
    room: Room,
    against: Layout | None = None,
    named: str | None = None,
    picture: Picture | None = None,
    keep: Part | None = None,
    written: Written | None = None,
) -> Findings:
    """Look a finished file over: can it be opened, will it change on the way, size, place, colour, name.

    ``against`` is the layout it should have: size and place are then judged within the room's
    tolerance, and each border that is off is told by how much and which way. ``named`` is the name
    it should have, without its ending; ``picture`` the one that should be on it, cropped as in
    ``against``, or with ``keep`` anywhere that leaves this part of it whole. ``written`` is what the
    writer knows of its own file: the place is then proven strip by strip, not searched for. What is
    wrong is told, never raised.
    """
    path = Path(file)
    try:
        facts = open_picture(path, max_pixels=None if written else room.limits.pixels)
        items = [*_packing(facts), *_colour(facts)]
        sheet, told = _sheet(facts, against.sheet if against else None, room)
        items += told
        layout = against
        if written is not None:
            items += _proof(path, written)
        elif sheet is not None:
            layout, told = _found_layout(facts, sheet, against, picture, keep, room)
            items += told
        else:
            layout = None
        return Findings(path, (*items, *_name(path, named, room)), layout)
    except LabError as refusal:
        return Findings(path, (tell("opens", refusal=str(refusal).removesuffix(".")),))


def _packing(picture: Picture) -> Iterator[Finding]:
    """Whether anything in the file may change, or be lost, on its way to paper."""
    if picture.kind != "TIFF":
        yield tell("format", kind=picture.kind)
    elif (packing := _compression(picture.path)) not in LOSSLESS:
        yield tell("compression", packing=packing)
    if picture.layers:
        yield tell("layers")
    if picture.alpha:
        yield tell("transparency")
    if picture.pages > 1:
        yield tell("pages", count=picture.pages)
    if picture.orientation != 1:
        yield tell("turned-flag")


def _colour(picture: Picture) -> Iterator[Finding]:
    if picture.mode not in ("RGB", "RGBA"):
        yield tell("colour-mode", mode=_mode_word(picture.mode))
    elif not picture.profile:
        yield tell("profile", carried=picture.profile_fault or "no profile")


def _name(path: Path, named: str | None, room: Room) -> Iterator[Finding]:
    if named is None or path.stem.casefold() == named.casefold():
        return
    wanted = read_name(room.name_pattern, named) or {}
    got = read_name(room.name_pattern, path.stem)
    off = [part for part in wanted if got and got[part].casefold() != wanted[part].casefold()]
    reason = f"another {' and '.join(off)}" if off else "it does not follow the pattern"
    yield tell("name", name=path.name, reason=reason, expected=named)


def _sheet(
    picture: Picture, wanted: Sheet | None, room: Room
) -> tuple[Sheet | None, list[Finding]]:
    """The sheet the file amounts to (None where that cannot be told), and what is wrong with it."""
    wide, high = picture.pixels
    meant = _ppi_that_fits(picture, wanted, room) if wanted else None
    if picture.ppi is None:
        ppi = meant or room.working_ppi
        return None, [tell("resolution-missing", wide=wide, high=high, ppi=ppi)]
    across, down = picture.ppi
    if abs(across / down - 1) > Fraction(1, 1000):
        return None, [tell("resolution-unequal", across=ppi_text(across), down=ppi_text(down))]
    size = picture.size
    if wanted is None:
        return _known_sheet(size, room), []
    asked = wanted.width, wanted.height
    within = max(room.tolerance.size, Length(1 / (2 * across)))  # the sheet is whole pixels
    if _same(size, asked, within):
        return wanted, []
    figures = {"size": _by(size, room), "expected": _by(asked, room)}
    if meant:
        stated = ppi_text(across)
        return None, [
            tell("resolution-label", wide=wide, high=high, stated=stated, ppi=meant, **figures)
        ]
    turned = _same(size, asked[::-1], within)
    return None, [tell("sheet-turned" if turned else "sheet-size", **figures)]


def _found_layout(
    facts: Picture,
    sheet: Sheet,
    against: Layout | None,
    picture: Picture | None,
    keep: Part | None,
    room: Room,
) -> tuple[Layout | None, list[Finding]]:
    """Where the picture sits, and what is wrong with that."""
    ppi = facts.ppi[0]
    marks = [asdict(mark) for mark in mark_boxes(against, ppi)] if against else []
    crop = None if keep else against.crop if against else WHOLE
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    found = guarded(_look_at, facts.path, marks, picture, crop, **limits, what=facts.path.name)
    if found["box"] is None:
        return None, [tell("picture")]
    box = PixelBox(**found["box"])
    sides = (Length(Fraction(side) / ppi) for side in (box.left, box.top, box.width, box.height))
    part = Crop(*map(Fraction, found["crop"]))
    layout = Layout(sheet, Box(*sides), part, room.unprintable(sheet))
    told = []
    if against is not None and min(found["surround"]) < 255:
        told.append(tell("surround", colour=tuple(found["surround"])))
    if found["stretched"]:
        told.append(tell("picture-stretched", size=_by(layout.picture.size, room)))
    elif found["unlike"]:
        told.append(tell("picture-other", reason=found["unlike"]))
    elif keep:
        told += _kept(layout, keep, room)
    if against is not None:
        told += _place(layout, against, room, 1 / ppi, bool(found["light_edges"]))
    return layout, told


def _kept(found: Layout, keep: Part, room: Room) -> Iterator[Finding]:
    """Whether the crop leaves the part that must stay, and if not by how much and where it cuts it."""
    size, crop = found.picture, found.crop
    wide, high = size.width / crop.width, size.height / crop.height
    for side, short in keep.short(crop).items():
        if short > CROP_WITHIN:
            off = _ABOUT * round((wide if side in ("left", "right") else high) * short / _ABOUT)
            way = {"top": "up", "bottom": "down"}.get(side, f"to the {side}")
            yield tell("picture-part", name=keep.name, side=side, off=off.both(room.units), way=way)


def _place(
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
    is_size_off = not _same(found.picture.size, wanted.picture.size, size)
    if is_size_off:
        ratios = [box.width / box.height for box in (found.picture, wanted.picture)]
        is_shape_off = abs(ratios[0] / ratios[1] - 1) > Fraction(1, 100)
        code = "picture-shape" if is_shape_off else "picture-size"
        sizes = _by(found.picture.size, room), _by(wanted.picture.size, room)
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


_WAYS = {
    "left": ("to the right", "to the left"),
    "top": ("down", "up"),
    "right": ("to the left", "to the right"),
    "bottom": ("up", "down"),
}
"""Which way a picture sits when the border on a side is too wide, and too narrow."""


def _proof(path: Path, written: Written) -> list[Finding]:
    """Whether the strips on the disk are those that were written.

    A blank strip's stored bytes are compared with the known blank strip; only others are decoded.
    """
    with (
        open_tiff(path) as tiff,
        open(path, "rb") as file,
        mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data,
        ThreadPoolExecutor(THREADS) as pool,
    ):
        page = tiff.pages[0]
        most = page.rowsperstrip * page.imagewidth * page.samplesperpixel

        def holds(offset: int, count: int, expected: int | None) -> bool:
            import imagecodecs

            stored = data[offset : offset + count]
            if expected is None:
                return stored in written.blank
            try:
                return zlib.crc32(imagecodecs.lzw_decode(stored, out=most)) == expected
            except imagecodecs.LzwError:
                return False

        strips = len(page.dataoffsets) == len(written.sums)
        if strips and all(pool.map(holds, page.dataoffsets, page.databytecounts, written.sums)):
            return []
    return [tell("written")]


def _look_at(path: Path, marks: list[dict], picture: Picture | None, crop: Crop | None) -> dict:
    """In the child: decode the sheet, find the picture on it, compare it with the one that should be
    there, cropped as it should be or (None) anywhere. Plain values come back."""
    from labkit.files.cropped import STRETCHED, find_crop
    from labkit.files.decode import decode
    from labkit.files.locate import locate, unlike

    sheet = decode(open_picture(path))
    found = locate(sheet, [PixelBox(**mark) for mark in marks])
    part, other = WHOLE, ""
    if picture is not None and found.box is not None:
        if crop is None:
            part, other = find_crop(sheet, found.box, decode(picture))
        else:
            other = unlike(sheet, found.box, decode(picture), crop)
    shares = part.left, part.top, part.width, part.height
    told = {
        "unlike": other,
        "stretched": other == STRETCHED,
        "crop": [float(each) for each in shares],
    }
    return asdict(found) | told


def _compression(path: Path) -> str:
    with open_tiff(path) as tiff:
        packing = tiff.pages[0].compression
        return getattr(packing, "name", f"number {packing}")


def _ppi_that_fits(picture: Picture, sheet: Sheet, room: Room) -> int | None:
    """The whole ppi, the room's own first, at which the pixels are exactly the sheet."""
    usual = (room.working_ppi, 300, 240, 360, 200, 180, 150, 600)
    for ppi in usual:
        if picture.pixels == (sheet.width.pixels(ppi), sheet.height.pixels(ppi)):
            return ppi
    return None


def _known_sheet(size: tuple[Length, Length], room: Room) -> Sheet:
    for sheet in room.sheets:
        for lying in (sheet, sheet.turned()):
            if _same(size, (lying.width, lying.height), room.tolerance.size):
                return lying
    return sheet_of(*size, unit=room.units)


def _same(one: tuple[Length, Length], other: tuple[Length, Length], within: Length) -> bool:
    return all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def _by(size: tuple[Length, Length], room: Room) -> str:
    return f"{size[0].both(room.units)} by {size[1].both(room.units)}"


def _mode_word(mode: str) -> str:
    words = {"L": "grey", "LA": "grey", "1": "pure black and white", "P": "a palette of colours"}
    return words.get(mode, "grey" if mode.startswith("I;16") else mode)
