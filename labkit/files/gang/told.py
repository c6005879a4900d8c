"""A layout of prints in words: its pieces, the paper it takes, money."""

from dataclasses import replace

from labkit.files.gang.gang import Gang
from labkit.geometry.length import Length, size_text
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
    weight = f"it weighs {gang.kg * 1000:.0f} g"
    if medium.is_roll:
        ends = f"leader {medium.leader.both(units)} and tail {medium.tail.both(units)}"
        often = f", {len(gang.runs)} times" if len(gang.runs) > 1 else ""
        told = f"Paper: {gang.taken.both(units)} of the roll, {ends}{often}; {weight}; {cost}."
        return " ".join(filter(None, (told, _other_way(gang, units))))
    sheets = "1 sheet" if gang.packing.sheets == 1 else f"{gang.packing.sheets} sheets"
    return f"Paper: {sheets} of {medium.name}; {weight}; {cost}."


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
