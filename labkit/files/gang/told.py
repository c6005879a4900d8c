"""A layout of prints in words: its pieces, the paper it takes, money."""

from labkit.files.gang.gang import Gang
from labkit.geometry.length import Length, size_text
from labkit.room.rules import Room


def pieces_table(gang: Gang, room: Room) -> list[tuple[str, ...]]:
    """A heading, and a line for each piece: number, title, owner, size, place, which way it lies."""
    unit = "mm" if room.units == "mm" else "in"
    rows = [("piece", "title", "owner", "size", f"from left, top ({unit})", "")]
    for number, placed in enumerate(gang.packing.placed, 1):
        own, box = gang.by_name[placed.piece.name], gang.place(placed)
        copy = f" ({placed.copy} of {placed.piece.copies})" if placed.piece.copies > 1 else ""
        corner = ", ".join(_short(side, units=unit) for side in (box.left, box.top))
        lies = " ".join(
            filter(None, (
                f"sheet {placed.sheet}" if gang.packing.sheets > 1 else "",
                "turned" if placed.turned else "",
            ))
        )  # fmt: skip
        size = size_text(own.size, room.units)
        rows.append((str(number), own.title + copy, own.owner, size, corner, lies))
    return rows


def paper_sentence(gang: Gang, room: Room) -> str:
    """What paper it takes, leader and tail included, its weight and its price."""
    medium, units, price = gang.medium, room.units, gang.price(room)
    cost = "no price is set" if price is None else f"it costs {money(room, price)}, shared by area"
    weight = f"it weighs {gang.kg * 1000:.0f} g"
    if medium.is_roll:
        ends = f"leader {medium.leader.both(units)} and tail {medium.tail.both(units)} included"
        return f"Paper: {gang.taken.both(units)} of the roll, {ends}; {weight}; {cost}."
    sheets = "1 sheet" if gang.packing.sheets == 1 else f"{gang.packing.sheets} sheets"
    return f"Paper: {sheets} of {medium.name}; {weight}; {cost}."


def money(room: Room, amount) -> str:
    """An amount with the room's sign before it."""
    space = " " if room.currency[-1:].isalpha() else ""
    return f"{room.currency}{space}{amount:.2f}"


def _short(side: Length, units: str) -> str:
    text = side.mm_text() if units == "mm" else side.inch_text()
    return text.rsplit(" ", 1)[0]
