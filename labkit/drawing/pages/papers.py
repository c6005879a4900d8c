"""The papers of a room compared for one picture, as a page to advise a student from."""

from collections.abc import Sequence

from labkit.drawing.pages.template import template
from labkit.room.rules import Room


def papers_page(
    *,
    picture: str,
    sheet: str,
    table: Sequence[tuple[str, ...]],
    looks: Sequence[tuple[str, str]],
    unknown: Sequence[str],
    reason: str,
    shape: tuple[int, int],
    room: Room,
) -> str:
    """One self-contained page of HTML.

    ``table`` has its heads first. ``looks`` are names and ``data:`` addresses of the picture on the screen
    and on each paper, ``unknown`` sentences on the papers that could not be measured.
    """
    return template("papers").render(
        picture=picture, sheet=sheet, heads=table[0], rows=table[1:], looks=looks, unknown=unknown,
        reason=reason, shape=shape, room=room,
    )  # fmt: skip
