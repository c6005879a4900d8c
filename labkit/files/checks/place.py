"""Where the picture sits on its sheet: what that place is called, or how far it is off one."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from labkit.errors import LabError
from labkit.files.checks.findings import Finding, tell
from labkit.files.checks.words import borders, listed
from labkit.files.look.look import Seen
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
_HALF_ROUND = "Turn the whole sheet half round before saving it: then every border is wide enough."
_MOST_STRAYS = 5
_LEAST_LETTERS = 3
"""How many stray marks are told one by one, and how many in a line may be letters."""


def layout_of(seen: Seen, sheet: Sheet, ppi: Fraction, room: Room) -> Layout:
    """What was seen, as a layout in exact lengths."""
    box = seen.box
    found = Box(*(_at(side, ppi) for side in (box.left, box.top, box.width, box.height)))
    return Layout(sheet, found, seen.crop, room.unprintable(sheet), _trim(seen, found, ppi, room))


def place_findings(
    layout: Layout, seen: Seen, ppi: Fraction, room: Room, *, is_ours: bool, white: int = 255
) -> Iterator[Finding]:
    """Trim and bleed where corner marks tell them; else what the place is called.

    ``is_ours``: it was placed by ``prepare``, so its owner has said where it is to be. ``white`` is the
    least level that is white paper.
    """
    pixel = Length(1 / ppi)
    if layout.trim:
        yield from _trim_findings(layout, room)
    else:
        yield from _unprintable(layout, pixel, room)
        if seen.askew:
            yield _askew(seen.askew)
        elif seen.light_edges:
            yield tell("unsure", sides=_edges(seen.light_edges, " is", " are"))
        is_said = is_ours or bool(seen.light_edges) or bool(seen.askew)
        yield from _named(layout, pixel, room, is_said=is_said)
    if not any(border for _, border in layout.borders.items()):
        return  # nothing of the paper is seen
    if not seen.is_on_white:
        yield tell("surround-colour", colour=_colour(seen.surround))
    elif min(seen.surround) < white:
        yield tell("surround", colour=_colour(seen.surround))
    if seen.strays:
        yield _strays(seen, layout, ppi, room)


def _edges(sides: tuple[str, ...], one: str = "", more: str = "") -> str:
    """``left edge``, or ``left and top edges``, and a word that goes with it."""
    return f"{listed(list(sides))} " + (f"edge{one}" if len(sides) == 1 else f"edges{more}")


def _askew(turn: float) -> Finding:
    ways = ("clockwise", "anticlockwise")
    told, back = ways if turn > 0 else ways[::-1]
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
    trim = layout.trim
    yield tell("trim", size=size_text(trim.box.size, room.units), bleed=trim.bleed.both(room.units))
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
        border = min(short.values()).both(room.units)
        words = {"border": border, "edges": _edges(tuple(short)), "edge": listed(edges)}
        found = tell("unprintable", side=listed(list(short)), **words)
        fits = all(
            border + pixel >= needed[_OPPOSITE[side]] for side, border in layout.borders.items()
        )
        yield replace(found, remedy=_HALF_ROUND) if fits else found


@dataclass(frozen=True, slots=True)
class _Place:
    """A place that has a name: what it is called, how it is told of a picture that is there, and how far
    the picture is off it."""

    name: str
    words: str
    off: Length
    expected: Edges


def _named(layout: Layout, pixel: Length, room: Room, *, is_said: bool) -> Iterator[Finding]:
    """What the place is called; ``is_said``: no need to ask about any other."""
    places = _places(layout, room)
    nearest = min(places, key=lambda named: named.off, default=None)
    told = borders(layout.borders, room)
    if nearest and nearest.off <= pixel:
        exact = next(named for named in places if named.off <= pixel)
        yield tell("place", place=exact.words)
    elif is_said:
        yield tell("place", place=f"at {told}")
    elif nearest and nearest.off <= NEARLY:
        grade = "fine" if nearest.off <= room.tolerance.place else None
        expected = borders(nearest.expected, room)
        yield tell(
            "off-centre",
            grade=grade,
            off=f"{round(nearest.off / pixel)} px, {nearest.off.both(room.units)},",
            place=nearest.name,
            borders=told,
            expected=expected,
        )
    else:
        yield tell("placed", borders=told)


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
            found.append(_Place(_NAMES[at], _words(at, wanted, edges, room), off, edges))
    return found


_NAMES = {
    "centre": "the centre",
    "optical": "the optical centre",
    "even-three": "even borders on three sides",
}


def _words(at: str, box: Box, edges: Edges, room: Room) -> str:
    if edges.top == edges.bottom:
        return "centred, with equal borders all round" if edges.left == edges.top else "centred"
    if at == "even-three":
        cut = cut_for_equal_borders(box).both(room.units)
        return f"even on three sides; one cut {cut} from the top leaves equal borders all round"
    return "at the optical centre, the white above and below as 2 to 3"


def _strays(seen: Seen, layout: Layout, ppi: Fraction, room: Room) -> Finding:
    """How many, and of the largest where and how big; marks in a line are told as one."""
    rims = [stray for stray in seen.strays if _is_rim(stray, layout, ppi)]
    rows = [*((rim, 1) for rim in rims), *_rows([each for each in seen.strays if each not in rims])]
    places = [
        f"{_what(box, count, box in rims)}"
        f"{size_text((_at(box.width, ppi), _at(box.height, ppi)), room.units)} at "
        f"{_at(box.left, ppi).both(room.units)} from the left and "
        f"{_at(box.top, ppi).both(room.units)} from the top"
        for box, count in rows[:_MOST_STRAYS]
    ]
    more = len(rows) - len(places)
    where = "; ".join([*places, *([f"and {more} more"] if more else [])])
    count = "one mark" if len(seen.strays) == 1 else f"{len(seen.strays)} marks"
    return tell("strays", count=count, where=where)


def _is_rim(stray: PixelBox, layout: Layout, ppi: Fraction) -> bool:
    """Whether a mark runs all round the sheet."""
    sheet, pixel = layout.sheet, Length(1 / ppi)
    return (
        abs(_at(stray.width, ppi) - sheet.width) <= pixel
        and abs(_at(stray.height, ppi) - sheet.height) <= pixel
    )


def _what(box: PixelBox, count: int, is_rim: bool) -> str:
    """What the marks in a box look like, where that can be told."""
    if is_rim:
        return "a line along the edge of the sheet, "
    return f"{count} in a line, as letters are, " if count >= _LEAST_LETTERS else ""


def _rows(strays: list[PixelBox]) -> list[tuple[PixelBox, int]]:
    """The boxes of marks, those that stand in one line drawn together, with how many marks each holds;
    the largest first."""
    rows: list[tuple[PixelBox, int]] = []
    for stray in sorted(strays, key=lambda each: each.left):
        row = next((each for each in rows if _goes_on(each[0], stray)), None)
        if row:
            rows.remove(row)
            rows.append((around((row[0], stray)), row[1] + 1))
        else:
            rows.append((stray, 1))
    return sorted(rows, key=lambda row: area(row[0]), reverse=True)


def _goes_on(row: PixelBox, mark: PixelBox) -> bool:
    """Whether a mark that begins no farther left than a row goes on with it: about as high, beside it, and no
    farther off than letters or words are."""
    low, high = sorted((row.height, mark.height))
    beside = min(row.bottom, mark.bottom) - max(row.top, mark.top)
    return high <= 4 * low and 2 * beside >= low and mark.left - row.right <= 2 * high
