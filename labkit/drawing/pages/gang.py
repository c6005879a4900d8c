"""The page to work from where several prints share a roll or sheets: drawing, cuts, pieces, prices."""

from collections.abc import Sequence
from functools import cache
from importlib.resources import files as resources

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from labkit.drawing.roll import Shown, Strip, draw_strip
from labkit.files.gang.gang import Gang
from labkit.files.gang.told import money, paper_sentence, pieces_table
from labkit.geometry.box import Box
from labkit.geometry.length import size_text
from labkit.room.rules import Room


def gang_page(
    gangs: Sequence[Gang], room: Room, job: str, files: Sequence[str], refused: Sequence[str] = ()
) -> str:
    """One self-contained page of HTML for a job: each layout drawn to scale, its cuts in order with a box
    to tick, whose piece is whose, and each owner's share. ``files`` are the print files' names."""
    names, parts = list(files), []
    for number, gang in enumerate(gangs, 1):
        own, names = names[: gang.packing.sheets], names[gang.packing.sheets :]
        parts.append(_part(gang, number, room, own))
    return _template().render(
        job=job, room=room, parts=parts, refused=refused, paper=gangs[0].medium.paper
    )


def draw_gang(gang: Gang, sheet: int, units: str, prefix: str) -> str:
    """A print file to scale, with leader and tail where it comes off a roll."""
    medium, packing = gang.medium, gang.packing
    strip = Strip(
        medium.width,
        gang.taken if medium.is_roll else medium.height,
        medium.edges,
        medium.leader,
        medium.tail,
        medium.is_roll,
    )
    shown = []
    for number, placed in enumerate(packing.placed, 1):
        if placed.sheet == sheet:
            box = gang.place(placed)
            lower = Box(box.left, box.top + medium.leader, box.width, box.height)
            shown.append(
                Shown(lower, f"{number} {placed.name}", gang.by_name[placed.piece.name].owner)
            )
    edge = -(medium.edges.top + medium.leader)
    cuts = []
    for cut in packing.cuts:
        at = next((box for number, box in cut.at if number == sheet), None)
        if at and cut.across and cut.at[0][1].width > packing.stock.width:
            cuts.append(at.top - edge + cut.distance)
    words = packing.sentence(units)
    return draw_strip(
        strip, shown, cuts, units=units, prefix=prefix,
        title=f"{medium.paper.name}, {medium.name}", words=words,
    )  # fmt: skip


def _part(gang: Gang, number: int, room: Room, names: Sequence[str]) -> dict:
    units, sheets = room.units, range(1, gang.packing.sheets + 1)
    head, *rows = pieces_table(gang, room)
    return {
        "sentence": gang.packing.sentence(units),
        "kind": f"{gang.medium.paper.name}, {gang.medium.name}, {gang.kind_text}",
        "drawings": [Markup(draw_gang(gang, at, units, f"gang-{number}-{at}")) for at in sheets],
        "files": names,
        "sheet": size_text((gang.sheet.width, gang.sheet.height), units),
        "cuts": [cut.sentence(units).split(". ", 1)[1] for cut in gang.packing.cuts],
        "head": head,
        "rows": rows,
        "paper": paper_sentence(gang, room),
        "shares": [
            (own.owner, own.title, count, "no price is set" if cost is None else money(room, cost))
            for own, count, cost in gang.shares(room)
        ],
        "left_out": [each.reason for each in gang.packing.left_out],
    }


@cache
def _template() -> Template:
    text = resources("labkit.drawing.pages").joinpath("gang.html").read_text(encoding="utf-8")
    rules = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    return rules.from_string(text)
