"""What a setting does to a print, by what was measured of it: told where it is more than a cut may be off."""

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length
from labkit.geometry.size import Size
from labkit.room.printers import PATHS, Setting
from labkit.room.room import Room
from labkit.room.route import Route


def drift(route: Route, print_: Box, room: Room) -> str:
    """The warning that a print, which lies so in its file, comes out of true on its route by more than the
    room's tolerance for a cut; "" where it does not, or where nothing was measured.

    The file is never changed for it: another printer would print it wrong.
    """
    size, before = print_.size, print_.top
    if route.is_turned:
        size, before = size[::-1], print_.left
    return drift_of(route.setting, size, room, ZERO if route.is_roll else before)


def drift_of(setting: Setting | None, size: Size, room: Room, before: Length = ZERO) -> str:
    """The same of a print by its ``size`` across the feed and along it, and by how much paper goes in
    ``before`` it: over that, too, the error along the feed has added up. (Of a roll no edge says where a
    print should begin.)"""
    measured = setting and setting.measured
    if not measured:
        return ""
    across, along = size
    told = []
    for words, side, scale in (
        ("across the feed", across, measured.across),
        ("along the feed", along, measured.along),
    ):
        off = side * (scale - 1)
        if abs(off) > room.cutter.tolerance and abs(scale - 1) > measured.spread:
            way = "short" if off < ZERO else "long"
            told.append(
                f"{side.both(room.units)} {words} come out {abs(off).both(room.units)} too {way}"
            )
    added_up = before * (measured.along - 1)
    for lies, off, ways in (
        ("lies", measured.offset_across, ("to the left", "to the right")),
        (
            "begins",
            measured.offset_along + added_up,
            ("towards the edge that goes in first", "away from the edge that goes in first"),
        ),
    ):
        if abs(off) > room.cutter.tolerance:
            told.append(f"the print {lies} {abs(off).both(room.units)} off, {ways[off > ZERO]}")
    if not told:
        return ""
    printer = room.printer(setting.printer).name
    return (
        f"{printer}, {PATHS[setting.path]}, measured {measured.date}: {'; '.join(told)}. Set that "
        "right at the printer: the file stays at 100 %."
    )
