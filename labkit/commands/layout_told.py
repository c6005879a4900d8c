"""What ``layout`` tells: the layout in a sentence, its pieces, the cuts in order, paper, weight, price."""

from collections.abc import Iterator, Sequence

from labkit.files.gang.gang import Gang
from labkit.files.gang.offers import Offer
from labkit.files.gang.told import (
    changed_by_name,
    drift_sentence,
    left_out_by_name,
    metres,
    money,
    paper_sentence,
    pieces_table,
    stock_sentence,
)
from labkit.geometry.length import ZERO, Length
from labkit.room.laying import roll_kg
from labkit.room.rules import Room


def told(
    gangs: Sequence[Gang], room: Room, refused: Sequence[str], widened: Length | None = None
) -> str:
    """All of it in words, a blank line between layouts."""
    blocks = ["\n".join(_gang(gang, room)) for gang in gangs]
    if len(gangs) > 1:
        blocks.insert(0, (
            f"{len(gangs)} layouts: prints of different resolution, profile or depth do not share a print "
            "file, and no pixel is changed here."
        ))  # fmt: skip
    if changes := changed_by_name(gangs):
        blocks.insert(0, "\n".join(["Converted:", *(f"  {each}" for each in changes)]))
    if widened:
        blocks.insert(
            0, f"The gap is {widened.both(room.units)}: so much holds slug lines and marks."
        )
    if len(gangs) > 1:
        blocks.append(_all_together(gangs, room))
    if left := stock_sentence(gangs, room):
        blocks.append(left)
    if warning := drift_sentence(gangs, room):
        blocks.append(warning)
    if out := [*refused, *left_out_by_name(gangs)]:
        blocks.append("\n".join(["Left out:", *(f"  {each}" for each in out)]))
    return "\n\n".join(blocks)


def _all_together(gangs: Sequence[Gang], room: Room) -> str:
    prices = [gang.price(room) for gang in gangs]
    cost = "" if None in prices else f", {money(room, sum(prices))}"
    taken = sum((gang.taken for gang in gangs), ZERO)
    if gangs[0].medium.is_roll:
        return f"In all: {taken.both(room.units)} of the roll{cost}."
    return f"In all: {sum(gang.packing.sheets for gang in gangs)} sheets{cost}."


def _gang(gang: Gang, room: Room) -> Iterator[str]:
    units = room.units
    yield f"{gang.medium.paper.name}, {gang.medium.name}, {gang.kind_text}"
    yield gang.sentence(units)
    yield ""
    yield from table(pieces_table(gang, room))
    yield ""
    if gang.cuts:
        yield "Cuts, in order:"
        yield from (f"  {cut.sentence(units)}" for cut in gang.cuts)
        yield ""
    yield paper_sentence(gang, room)
    for own, count, share in gang.shares(room):
        cost = "no price is set" if share is None else money(room, share)
        yield f"  {cost:>8}  {own.title}, {own.owner} ({count})"


def table(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Columns one below the other."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield ("  " + "  ".join(cells)).rstrip()


def offers_told(offers: Sequence[Offer], chosen: Offer, room: Room) -> str:
    """All stock beside each other, the cheapest first, and which of it is taken."""
    rows = [("paper", "stock", "takes", "waste", "price", "left after", "roll weighs")]
    rows += [_offer(each, room) for each in offers if not each.reason]
    medium = chosen.medium
    price = "not priced" if chosen.price is None else money(room, chosen.price)
    least = f"Cheapest on {medium.paper.name}: {medium.name}, {price}."
    refused = [each for each in offers if each.reason]
    lines = ["Compared, the cheapest first:", *table(rows), least]
    if refused:
        lines.append("Not all of it fits on:")
        lines += [
            f"  {each.medium.paper.name}, {each.medium.name}: {each.reason}" for each in refused
        ]
    return "\n".join(lines)


def _offer(each: Offer, room: Room) -> tuple[str, ...]:
    medium, kg = each.medium, roll_kg(room, each.medium)
    if medium.is_roll:
        takes, left = each.taken, medium.left - each.taken
        takes, left = metres(takes, room.units), metres(left, room.units)
    else:
        takes = "1 sheet" if each.sheets == 1 else f"{each.sheets} sheets"
        left = "" if medium.left is None else f"{medium.left - each.sheets} sheets"
    price = "not priced" if each.price is None else money(room, each.price)
    heavy = " (ask for help)" if kg and kg > room.handling.help_above_kg else ""
    weighs = "" if kg is None else f"{kg:.1f} kg{heavy}"
    return medium.paper.name, medium.name, takes, f"{each.waste:.0%}", price, left, weighs
