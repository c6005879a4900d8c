"""A layout of prints in words: its pieces, the paper it takes, money."""

from collections.abc import Sequence
from dataclasses import replace

from labkit.files.gang.gang import Gang
from labkit.geometry.length import ZERO, Length, size_text
from labkit.room.drift import drift_of
from labkit.room.laying import roll_kg
from labkit.room.rules import Room


def pieces_table(gang: Gang, room: Room) -> list[tuple[str, ...]]:
    """A heading, and a line for each piece: number, title, owner, size, which of several print files it is
    on, its place there, which way it lies."""
    unit = "mm" if room.units == "mm" else "in"
    print_file = ("print",) if len(gang.runs) > 1 else ()
    rows = [("piece", "title", "owner", "size", *print_file, f"from left, top ({unit})", "")]
    several = len(gang.runs) > 1
    for at, run in enumerate(gang.runs, gang.first):
        for number, placed, box in gang.pieces_of(run):
            own = gang.by_name[placed.piece.name]
            copy = f" ({placed.copy} of {placed.piece.copies})" if placed.piece.copies > 1 else ""
            corner = ", ".join(_short(side, units=unit) for side in (box.left, box.top))
            size = size_text(own.size, room.units)
            cells = (str(number), own.title + copy, own.owner, size)
            where = (str(at),) if several else ()
            rows.append((*cells, *where, corner, "turned" if placed.turned else ""))
    return rows


def paper_sentence(gang: Gang, room: Room) -> str:
    """What paper it takes, leader and tail included, its weight and its price."""
    medium, units, price = gang.medium, room.units, gang.price(room)
    cost = "no price is set" if price is None else f"it costs {money(room, price)}, shared by area"
    weight = f"{float(1 - gang.printed / gang.area):.0%} of it is no print; it weighs {gang.kg * 1000:.0f} g"
    if medium.is_roll:
        ends = f"leader {medium.leader.both(units)} and tail {medium.tail.both(units)}"
        often = f", {len(gang.runs)} times" if len(gang.runs) > 1 else ""
        cut = " The printer cuts each off." if gang.packing.stock.parted else ""
        told = f"Paper: {gang.taken.both(units)} of the roll, {ends}{often}; {weight}; {cost}.{cut}"
        return " ".join(filter(None, (told, _other_way(gang, units))))
    sheets = "1 sheet" if gang.packing.sheets == 1 else f"{gang.packing.sheets} sheets"
    return f"Paper: {sheets} of {medium.name}; {weight}; {cost}."


def drift_sentence(gangs: Sequence[Gang], room: Room) -> str:
    """The warning that the longest sides of these pieces come out of true on this stock; "" where they do
    not, or where nothing was measured."""
    boxes = [placed.box for gang in gangs for placed in gang.packing.placed]
    size = max(box.width for box in boxes), max(box.height for box in boxes)
    medium = gangs[0].medium
    return drift_of(medium.setting, size[::-1] if medium.is_turned else size, room)


def changed_by_name(gangs: Sequence[Gang]) -> list[str]:
    """What was changed of each print that was brought to the room's form."""
    return [
        f"{each.name}: {'; '.join(each.recipe.changes)}."
        for gang in gangs
        for each in gang.prints
        if each.recipe and each.recipe.changes
    ]


def left_out_by_name(gangs: Sequence[Gang]) -> list[str]:
    """Why what was left out does not fit, each reason once."""
    return list(dict.fromkeys(each.reason for gang in gangs for each in gang.packing.left_out))


def stock_sentence(gangs: Sequence[Gang], room: Room) -> str:
    """What is left of the stock after a job, and what the roll weighs as it is lifted; "" where the room
    does not say how much there is."""
    medium, units = gangs[0].medium, room.units
    if medium.left is None:
        return ""
    if not medium.is_roll:
        left = medium.left - sum(gang.packing.sheets for gang in gangs)
        if left < 0:
            return f"Only {medium.left} sheets of {medium.name} are there: {-left} are missing."
        return f"Of {medium.left} sheets of {medium.name} {left} are left."
    left, kg = medium.left - sum((gang.taken for gang in gangs), ZERO), roll_kg(room, medium)
    told = f"The roll weighs {kg:.1f} kg with its core"
    if kg > room.handling.help_above_kg:
        told += f", above {room.handling.help_above_kg} kg: do not lift it alone"
    if left < ZERO:
        return f"Only {medium.left.both(units)} are on the roll: {(-left).both(units)} are missing. {told}."
    return f"Of {metres(medium.left, units)} on the roll {metres(left, units)} are left. {told}."


def metres(size: Length, units: str) -> str:
    """A length of roll as it is spoken of: metres to a tenth, or feet.

    >>> from labkit.geometry.length import millimetres
    >>> metres(millimetres(14404), "mm"), metres(millimetres(15000), "in")
    ('14.4 m (47.3 ft)', '49.2 ft (15 m)')
    """
    in_metres = f"{float(size.mm) / 1000:.1f}".removesuffix(".0") + " m"
    in_feet = f"{float(size) / 12:.1f}".removesuffix(".0") + " ft"
    return f"{in_metres} ({in_feet})" if units == "mm" else f"{in_feet} ({in_metres})"


def _other_way(gang: Gang, units: str) -> str:
    """What it would take the other way: all rows in one print file, or each in its own; "" for one row."""
    other = replace(gang, one_file=not gang.one_file)
    if len(other.runs) == len(gang.runs):
        return ""
    way = "In one print file" if other.one_file else f"As {len(other.runs)} print files"
    less = "less" if other.taken < gang.taken else "more"
    by = abs(other.taken - gang.taken).both(units)
    return f"{way} it would take {other.taken.both(units)}, {by} {less}."


def money(room: Room, amount) -> str:
    """An amount with the room's sign before it."""
    space = " " if room.currency[-1:].isalpha() else ""
    return f"{room.currency}{space}{amount:.2f}"


def _short(side: Length, units: str) -> str:
    text = side.mm_text() if units == "mm" else side.inch_text()
    return text.rsplit(" ", 1)[0]
