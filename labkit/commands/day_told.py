"""The day's plan, told in a terminal, and as plain values for other programs."""

import json
import textwrap
from collections.abc import Iterator, Sequence
from datetime import date

from labkit.commands.columns import columns
from labkit.files.folder.plan import RULE, WET, Day, Group, Held, Print, Printed
from labkit.room.rules import Room

_WIDE = 100
"""How wide a line is told, in characters."""


def as_text(plan: Day, room: Room) -> str:
    """What is printed, printer by printer; what must be asked; what goes back; what is left."""
    lines = [f"{room.name}, {plan.day}", *textwrap.wrap(RULE, _WIDE)]
    number = 0
    for name, groups in plan.printers.items():
        rows = [
            _row(group, number + place, plan.day, room) for place, group in enumerate(groups, 1)
        ]
        minutes = sum(group.row.minutes for group in groups)
        prints = sum(group.row.prints for group in groups)
        lines += ["", f"{name}: {_counted(prints, 'print')}, {minutes:.0f} min at the printer"]
        lines += columns(rows, indent="  ", right=(0, 2, 3, 4, 5))
        for place, group in enumerate(groups, number + 1):
            lines += [
                f"  {place}:",
                *columns([_print(p, plan.day, room) for p in group.prints], indent="     "),
            ]
        number += len(groups)
    if not plan.groups:
        lines += ["", "There is nothing to print."]
    lines += _held("To ask", plan.ask) + _held("To send back", plan.back)
    if plan.printed:
        rows = [(each.job.file.name, _before(each)) for each in plan.printed]
        lines += ["", "Printed before, and not counted again:", *columns(rows, indent="  ")]
    if plan.missing:
        lines += ["", "Not there:", *(f"  {sentence}" for sentence in plan.missing)]
    return "\n".join("".join(s if s.isprintable() else "\ufffd" for s in line) for line in lines)


def _row(group: Group, number: int, day: date, room: Room) -> tuple[str, ...]:
    row, route = group.row, group.row.route
    return (
        str(number),
        ", ".join(
            (route.paper.name, route.stock_name, *([] if route.is_roll else [route.path_name]))
        ),
        _counted(row.prints, "print"),
        f"{row.needed}{group.left_text}",
        f"{row.minutes:.0f} min",
        room.money(row.price),
        ", ".join(filter(None, (group.due and f"due {group.due}", group.wet_text(day)))),
    )


def _print(each: Print, day: date, room: Room) -> tuple[str, ...]:
    job = each.job
    due = f"due {job.due}" if job.due else ""
    wet = WET if each.is_wet(day) else ""
    return (
        each.number,
        each.owner or "owner not stated",
        job.file.name,
        f"× {job.copies}",
        room.money(each.price),
        ", ".join(filter(None, (job.course, due, wet))),
    )


def _held(head: str, held: Sequence[Held]) -> list[str]:
    if not held:
        return []
    return [
        "",
        f"{head}: {_counted(len(held), 'file')}",
        *(line for h in held for line in _message(h)),
    ]


def _message(held: Held) -> Iterator[str]:
    yield ""
    yield f"  {held.job.file}" + (f"  ({held.owner})" if held.owner else "")
    for line in held.message:
        yield from textwrap.wrap(
            line, _WIDE - 4, initial_indent="    ", subsequent_indent="    "
        ) or [""]


def _before(printed: Printed) -> str:
    entry, copies = printed.entry, printed.copies
    return f"{copies} of {printed.job.copies} on {entry.paper}, the last on {entry.date}, job {entry.job}"


def _counted(number: int, thing: str) -> str:
    return f"1 {thing}" if number == 1 else f"{number} {thing}s"


# For other programs


def as_json(plan: Day) -> str:
    """The plan as JSON: lengths of a roll in metres, areas in square metres, prices as numbers."""
    told = {
        "date": plan.day.isoformat(),
        "rule": RULE,
        "groups": [_group(group) for group in plan.groups],
        "printers": [
            {"printer": name, "minutes": sum(g.row.minutes for g in groups)}
            for name, groups in plan.printers.items()
        ],
        "ask": [_held_facts(held) for held in plan.ask],
        "back": [_held_facts(held) for held in plan.back],
        "printed": [
            {"file": str(p.job.file), "copies": p.copies, "job": p.entry.job} for p in plan.printed
        ],
        "missing": list(plan.missing),
    }
    # bytes of a name that are no text stand as JSON's own escapes
    return (
        json.dumps(told, ensure_ascii=False, indent=1).encode("utf-8", "backslashreplace").decode()
    )


def _group(group: Group) -> dict:
    row, route = group.row, group.row.route
    is_roll = row.metres is not None
    left = group.left
    return {
        "printer": route.printer.name,
        "path": route.path_name,
        "paper": route.paper.name,
        "stock": route.stock_name,
        "prints": row.prints,
        "sheets": None if is_roll else row.prints,
        "metres": float(row.metres.mm) / 1000 if is_roll else None,
        "left": float(left.mm) / 1000 if is_roll and left is not None else left,
        "is_enough": group.is_enough,
        "area_m2": row.area_m2,
        "minutes": row.minutes,
        "price": _amount(row.price),
        "due": _date(group.due),
        "files": [_print_facts(each) for each in group.prints],
    }


def _print_facts(each: Print) -> dict:
    job, route = each.job, each.route
    return {
        "file": str(job.file),
        "job": each.number,
        "owner": each.owner,
        "title": each.title,
        "course": job.course,
        "copies": job.copies,
        "due": _date(job.due),
        "area_m2": route.area(job.copies),
        "price": _amount(each.price),
    }


def _held_facts(held: Held) -> dict:
    route = held.route
    return {
        "file": str(held.job.file),
        "owner": held.owner,
        "verdict": held.found.verdict,
        "codes": [item.code for item in held.found.faults],
        "paper": route and route.paper.name,
        "stock": route and route.stock_name,
        "price": _amount(route.price(held.job.copies)) if route else None,
        "message": "\n".join(held.message),
    }


def _amount(price) -> float | None:
    return None if price is None else float(price)


def _date(day: date | None) -> str | None:
    return day and day.isoformat()
