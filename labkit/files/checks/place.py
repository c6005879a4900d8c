"""Where the picture sits on its sheet: what that place is called, or how far it is off one."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from labkit.errors import LabError
from labkit.files.checks.findings import Finding, phrase, tell
from labkit.files.checks.words import borders, edges_text, listed
from labkit.files.look.look import RULER, Seen
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import PLACES, Layout, place
from labkit.geometry.length import ZERO, Length, length, size_text
from labkit.geometry.paper import Sheet
from labkit.geometry.pixelbox import PixelBox, area, around
from labkit.geometry.trim import Trim, cut_for_equal_borders
from labkit.room.rules import Room

NEARLY = length("1/8in")
"""A picture no farther off a named place was probably meant to be there (our own judgement)."""
_OPPOSITE = {"left": "right", "top": "bottom", "right": "left", "bottom": "top"}
_MOST_STRAYS = 5
_LEAST_LETTERS = 3
"""How many stray marks are told one by one, and how many in a line may be letters."""


def layout_of(seen: Seen, sheet: Sheet, ppi: Fraction, room: Room) -> Layout:
    """What was seen, as a layout in exact lengths."""
    box = seen.box
    found = Box(*(_at(side, ppi) for side in (box.left, box.top, box.width, box.height)))
    found = _on_sheet(found, sheet, Length(1 / ppi))
    return Layout(sheet, found, seen.crop, room.unprintable(sheet), _trim(seen, found, ppi, room))


def _on_sheet(found: Box, sheet: Sheet, pixel: Length) -> Box:
    """A picture that reaches the last pixel of a sheet, which is rounded to pixels, reaches its edge."""
    width, height = (
        side - start if abs(start + own - side) < pixel else own
        for start, own, side in zip((found.left, found.top), found.size, sheet.sides, strict=True)
    )
    return Box(found.left, found.top, width, height)


def place_findings(
    layout: Layout, seen: Seen, ppi: Fraction, room: Room, *, is_ours: bool, white: int = 255
) -> Iterator[Finding]:
    """Trim and bleed where corner marks tell them; else what the place is called.

    ``is_ours``: it was placed by ``prepare``, so its owner has said where it is to be. ``white`` is the
    least level that is white paper.
    """
    pixel = Length(1 / ppi)
    has_white = any(border for _, border in layout.borders.items())
    if layout.trim:
        yield from _trim_findings(layout, room)
    else:
        yield from _unprintable(layout, pixel, room)
        if seen.askew:
            yield _askew(seen.askew)
        elif seen.light_edges:
            yield tell("edge-unclear", sides=edges_text(seen.light_edges))
        is_said = is_ours or bool(seen.light_edges) or bool(seen.askew) or not has_white
        yield from _named(layout, pixel, room, is_said=is_said)
    if not has_white:
        return  # nothing of the paper is seen
    if not seen.is_on_white:
        yield tell("surround-colour", colour=_colour(seen.surround))
    elif min(seen.surround) < white:
        yield tell("surround", colour=_colour(seen.surround))
    if seen.strays:
        yield _strays(seen, layout, ppi, room)


def shared_findings(layout: Layout, seen: Seen, ppi: Fraction, room: Room) -> Iterator[Finding]:
    """What a sheet of ours is that is no single print, and what on it is not ours."""
    if seen.kind == RULER:
        yield tell("ruler-changed", count=seen.changed) if seen.changed else tell("ruler-sheet")
        return
    code = "contact-sheet" if seen.kind == "contact" else "prints-together"
    if seen.changed:
        yield tell("line-changed", count=seen.changed, prints=seen.prints)
    yield tell(code, count=seen.prints)
    if seen.strays:
        yield _strays(seen, layout, ppi, room)


def _askew(turn: float) -> Finding:
    directions = ("clockwise", "anticlockwise")
    told, back = directions if turn > 0 else directions[::-1]
    return tell("askew", degrees=f"{abs(turn):.2f}".rstrip("0").rstrip("."), way=told, back=back)


def _at(pixels: float, ppi: Fraction) -> Length:
    return Length(Fraction(pixels) / ppi)


def _colour(levels: tuple[int, int, int]) -> str:
    return "({}, {}, {})".format(*levels)


def _trim(seen: Seen, picture: Box, ppi: Fraction, room: Room) -> Trim | None:
    """The trim that corner marks tell; its bleed is the least on the four sides, or, where that is short,
    the most: what was meant."""
    if seen.cut is None:
        return None
    left, top, right, bottom = (_at(line, ppi) for line in seen.cut)
    box = Box(left, top, right - left, bottom - top)
    beyond = [size for _, size in box.within(picture).items()]
    bleed = max(beyond) if _short(room.bleed - min(beyond), room) else min(beyond)
    return Trim(box, max(ZERO, bleed))


def _trim_findings(layout: Layout, room: Room) -> Iterator[Finding]:
    trim, size = layout.trim, size_text(layout.trim.box.size, room.units)
    kept = layout.picture.within(trim.box)
    if min(border for _, border in kept.items()) >= room.bleed:
        yield tell("trim", variant="borders", size=size, borders=borders(kept, room))
        return
    yield tell("trim", size=size, bleed=trim.bleed.both(room.units))
    for side, beyond in trim.box.within(layout.picture).items():
        if short := _short(room.bleed - beyond, room):
            bleed = room.bleed.both(room.units)
            yield tell("bleed-short", side=side, off=short.both(room.units), bleed=bleed)


def _short(by_much: Length, room: Room) -> Length | None:
    return by_much if by_much > room.tolerance.place else None


def _unprintable(layout: Layout, pixel: Length, room: Room) -> Iterator[Finding]:
    """One finding for all the sides on which the printer cannot reach the picture's edge."""
    needed = dict(layout.unprintable.items())
    short = {
        side: border for side, border in layout.borders.items() if border + pixel < needed[side]
    }
    if short:
        edges = [f"{needed[side].both(room.units)} on the {side}" for side in short]
        border = max(ZERO, min(short.values())).both(room.units)
        fits_turned = all(
            border + pixel >= needed[_OPPOSITE[side]] for side, border in layout.borders.items()
        )
        yield tell(
            "unprintable",
            variant="half-round" if fits_turned else "",
            side=listed(list(short)),
            border=border,
            edges=edges_text(tuple(short)),
            edge=listed(edges),
        )


@dataclass(frozen=True, slots=True)
class _Place:
    """One of the usual places: the variants of ``place`` and ``off-centre`` that tell it, how far the
    picture is off it, and where the picture would be."""

    variant: str
    off_variant: str
    off: Length
    box: Box
    expected: Edges


def _named(layout: Layout, pixel: Length, room: Room, *, is_said: bool) -> Iterator[Finding]:
    """What the place is called; ``is_said``: no need to ask about any other."""
    places = _places(layout, room)
    nearest = min(places, key=lambda named: named.off, default=None)
    told = borders(layout.borders, room)
    if nearest and nearest.off <= pixel:
        exact = next(named for named in places if named.off <= pixel)
        cut = cut_for_equal_borders(exact.box).both(room.units)
        yield tell("place", variant=exact.variant, cut=cut)
    elif is_said:
        yield tell("place", borders=told)
    elif nearest and nearest.off <= NEARLY:
        grade = "fine" if nearest.off <= room.tolerance.place else None
        expected = borders(nearest.expected, room)
        yield tell(
            "off-centre",
            variant=nearest.off_variant,
            grade=grade,
            off=f"{round(nearest.off / pixel)} px, {nearest.off.both(room.units)},",
            borders=told,
            expected=expected,
        )
    else:
        yield tell("unusual-place", borders=told)


def _places(layout: Layout, room: Room) -> list[_Place]:
    """The named places it may have, those that say most first."""
    found = []
    for at in reversed(PLACES):
        for least in (layout.unprintable.top, room.border):
            try:
                corner = place(layout.picture.size, layout.sheet, at, least_top=least)
            except LabError:
                continue
            wanted = Box(*corner, *layout.picture.size)
            edges = wanted.within(layout.sheet_box)
            pairs = zip(edges.items(), layout.borders.items(), strict=True)
            off = max(abs(one - other) for (_, one), (_, other) in pairs)
            off_variant = "" if at == "centre" else at
            found.append(_Place(_variant(at, edges), off_variant, off, wanted, edges))
    return found


def _variant(at: str, edges: Edges) -> str:
    """The variant of the finding ``place`` that tells a picture with these borders."""
    if edges.top == edges.bottom:
        return "equal" if edges.left == edges.top else "centre"
    return at


def _strays(seen: Seen, layout: Layout, ppi: Fraction, room: Room) -> Finding:
    """How many, and of the largest where and how big; marks in a line are told as one."""
    rims = [stray for stray in seen.strays if _is_rim(stray, layout, ppi)]
    rows = [*((rim, 1) for rim in rims), *_rows([each for each in seen.strays if each not in rims])]
    places = [
        _mark(box, count, ppi, room, is_rim=box in rims) for box, count in rows[:_MOST_STRAYS]
    ]
    if more := len(rows) - len(places):
        places.append(phrase("stray-marks", "more", count=more))
    number = "one" if len(seen.strays) == 1 else "several"
    count = phrase("stray-marks", number, count=len(seen.strays))
    return tell("stray-marks", count=count, where="; ".join(places))


def _is_rim(stray: PixelBox, layout: Layout, ppi: Fraction) -> bool:
    """Whether a mark runs all round the sheet."""
    sheet, pixel = layout.sheet, Length(1 / ppi)
    return (
        abs(_at(stray.width, ppi) - sheet.width) <= pixel
        and abs(_at(stray.height, ppi) - sheet.height) <= pixel
    )


def _mark(box: PixelBox, count: int, ppi: Fraction, room: Room, *, is_rim: bool) -> str:
    """Size and place of the marks in a box, and what they look like, where that can be told."""
    mark = phrase(
        "stray-marks",
        "mark",
        size=size_text((_at(box.width, ppi), _at(box.height, ppi)), room.units),
        left=_at(box.left, ppi).both(room.units),
        top=_at(box.top, ppi).both(room.units),
    )
    if is_rim:
        return phrase("stray-marks", "rim", mark=mark)
    if count >= _LEAST_LETTERS:
        return phrase("stray-marks", "letters", count=count, mark=mark)
    return mark


def _rows(strays: list[PixelBox]) -> list[tuple[PixelBox, int]]:
    """The boxes of marks, those that stand in one line drawn together, with how many marks each holds;
    the largest first."""
    rows: list[tuple[PixelBox, int]] = []
    for stray in sorted(strays, key=lambda each: each.left):
        row = next((each for each in rows if _continues(each[0], stray)), None)
        if row:
            rows.remove(row)
            rows.append((around((row[0], stray)), row[1] + 1))
        else:
            rows.append((stray, 1))
    return sorted(rows, key=lambda row: area(row[0]), reverse=True)


def _continues(row: PixelBox, mark: PixelBox) -> bool:
    """Whether a mark that begins no farther left than a row goes on with it: about as high, beside it, and no
    farther off than letters or words are."""
    low, high = sorted((row.height, mark.height))
    beside = min(row.bottom, mark.bottom) - max(row.top, mark.top)
    return high <= 4 * low and 2 * beside >= low and mark.left - row.right <= 2 * high
