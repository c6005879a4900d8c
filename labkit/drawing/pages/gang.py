"""The page to work from where several prints share a roll or sheets: drawing, cuts, pieces, prices."""

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from labkit.drawing.pages.template import template
from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.files.gang.gang import Gang, Run
from labkit.files.gang.statement import CONTACT
from labkit.files.gang.told import (
    changed_by_name,
    drift_sentence,
    left_out_by_name,
    money,
    paper_sentence,
    pieces_table,
    stock_sentence,
)
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length, size_text
from labkit.room.rules import Room


def gang_page(
    gangs: Sequence[Gang], room: Room, job: str, files: Sequence[str], refused: Sequence[str] = ()
) -> str:
    """One self-contained page of HTML for a job: each layout drawn to scale, its cuts in order with a box
    to tick, whose piece is whose, and each owner's share. ``files`` are the print files' names."""
    names, parts = list(files), []
    for number, gang in enumerate(gangs, 1):
        own, names = names[: len(gang.runs)], names[len(gang.runs) :]
        parts.append(_part(gang, number, room, own))
    return template("gang").render(
        job=job, room=room, parts=parts, paper=gangs[0].medium.paper,
        left_out=[*refused, *left_out_by_name(gangs)],
        stock=stock_sentence(gangs, room), changes=changed_by_name(gangs),
        drift=drift_sentence(gangs, room),
        is_contact=gangs[0].kind == CONTACT,
    )  # fmt: skip


def draw_gang(gang: Gang, units: str, prefix: str) -> str:
    """All print files of a roll one after another, to scale, with leaders and tails."""
    medium, begins, shown, cuts = gang.medium, ZERO, [], []
    for run in gang.runs:
        shown += _shown(gang, run, begins + medium.leader)
        begins += gang.length(run)
        cuts.append(begins)
    strip = Strip(
        medium.width, tuple(map(gang.length, gang.runs)), medium.edges, medium.leader, medium.tail
    )
    if len(cuts) == 1:
        above = medium.leader + medium.edges.top
        cuts = [above + side for row in gang.rows for side in (row.top, row.bottom)]
    return draw_strip(
        strip, shown, cuts, units=units, prefix=prefix, title=_title(gang),
        words=gang.sentence(units),
    )  # fmt: skip


def draw_gang_sheet(gang: Gang, run: Run, units: str, prefix: str) -> str:
    """One of several sheets, to scale."""
    medium = gang.medium
    strip = Strip(medium.width, (medium.height,), medium.edges, is_roll=False)
    words = gang.sentence(units)
    title = f"{_title(gang)}, {run.name}"
    shown = _shown(gang, run, ZERO)
    return draw_strip(strip, shown, (), units=units, prefix=prefix, title=title, words=words)


def _title(gang: Gang) -> str:
    return f"{gang.medium.paper.name}, {gang.medium.name}"


def _shown(gang: Gang, run: Run, lower: Length) -> Iterator[Shown]:
    for number, placed, box in gang.pieces_of(run):
        at = Box(box.left, box.top + lower, box.width, box.height)
        yield Shown(at, f"{number} {placed.name}", gang.by_name[placed.piece.name].owner)


def _drawings(gang: Gang, number: int, units: str) -> list[Markup]:
    if gang.medium.is_roll:
        return [Markup(draw_gang(gang, units, f"gang-{number}"))]
    return [
        Markup(draw_gang_sheet(gang, run, units, f"gang-{number}-{run.sheet}")) for run in gang.runs
    ]


def _part(gang: Gang, number: int, room: Room, names: Sequence[str]) -> dict:
    units = room.units
    sizes = [(each.width, each.height) for each in map(gang.sheet, gang.runs)]
    head, *rows = pieces_table(gang, room)
    return {
        "sentence": gang.sentence(units),
        "kind": f"{gang.medium.paper.name}, {gang.medium.name}, {gang.kind_text}",
        "drawings": _drawings(gang, number, units),
        "files": [(name, size_text(size, units)) for name, size in zip(names, sizes, strict=True)],
        "cuts": [cut.sentence(units).split(". ", 1)[1] for cut in gang.cuts],
        "first": gang.first,
        "head": head,
        "rows": rows,
        "paper": paper_sentence(gang, room),
        "shares": [
            (own.owner, own.title, count, "no price is set" if cost is None else money(room, cost))
            for own, count, cost in gang.shares(room)
        ],
    }
