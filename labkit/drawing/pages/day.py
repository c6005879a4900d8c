"""The page of a day's work: one sheet to print and tick, and behind it every file and message."""

from dataclasses import dataclass

from labkit.drawing.pages.report import time_text
from labkit.drawing.pages.template import template
from labkit.files.folder.plan import RULE, WET, Day, Held
from labkit.files.look.address import is_address
from labkit.room.rules import Room

_MOST = 8
"""How many files of a kind the first page names; all stand behind it."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A file that is held back: its small picture, the codes of its findings, the way it would go."""

    held: Held
    picture: str
    codes: str
    goes: str


def day_page(plan: Day, room: Room) -> str:
    """A day's plan as one self-contained page of HTML; its first printed page is the plan, to be ticked."""
    return template("day").render(
        plan=plan,
        room=room,
        rule=RULE,
        wet=WET,
        ask=[_shown(held, room) for held in plan.ask],
        back=[_shown(held, room) for held in plan.back],
        time=time_text,
        most=_MOST,
    )


def _shown(held: Held, room: Room) -> _Shown:
    seen, route = held.found.seen, held.route
    picture = seen.thumbnail if seen and is_address(seen.thumbnail) else ""
    codes = ", ".join(dict.fromkeys(item.code for item in held.found.faults))
    goes = ""
    if route and route.stock:
        price = room.money(route.price(held.job.copies))
        goes = f"{route.printer.name}, {route.paper.name}, {route.stock_name}, {price}"
    return _Shown(held, picture, codes or "this paper does not go", goes)
