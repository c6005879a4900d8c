"""Whose the prints are that share a file, as its description says it, so that the record knows each.

It stands beside the statement of where they lie, in the same order; files written before have none.
"""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from labkit.geometry.pixelbox import PixelBox

_BEGINS = "Whose they are, what, how large, of which file, its paper and its share of the price: "
_LONGEST = 300
"""More characters no name of ours has."""


@dataclass(frozen=True, slots=True)
class Owned:
    """One piece: whose it is, its title and size, the ``fingerprint`` of the finished print it was made of.

    ``price`` is its share as it was told when it was laid out on that ``paper``, "" for none; ``area`` is in
    pixels.
    """

    owner: str
    title: str
    size: str
    fingerprint: str
    paper: str
    price: str
    area: int = 0


def owned_text(pieces: Sequence[Owned]) -> str:
    """As it stands in the description, in ASCII."""
    rows = [
        [each.owner, each.title, each.size, each.fingerprint, each.paper, each.price]
        for each in pieces
    ]
    return f"{_BEGINS}{json.dumps(rows)}."


def read_owned(description: str, places: Sequence[PixelBox]) -> tuple[Owned, ...]:
    """Whose the prints at these ``places`` are; none where the description does not say it of each.

    >>> pieces = [Owned("Nia Oak", "Tide", "A4", "0123456789abcdef", "pearl 260", "1.20")]
    >>> read_owned(owned_text(pieces), [PixelBox(0, 0, 3, 4)])[0].area
    12
    """
    _, found, rest = description.partition(_BEGINS)
    try:
        rows = json.JSONDecoder().raw_decode(rest)[0] if found else []
    except (ValueError, RecursionError):
        return ()
    if not isinstance(rows, list) or len(rows) != len(places):
        return ()
    pieces = [_piece(row) for row in rows]
    if not all(pieces):
        return ()
    return tuple(
        replace(each, area=place.width * place.height)
        for each, place in zip(pieces, places, strict=True)
    )


def _piece(row) -> Owned | None:
    if not isinstance(row, list) or len(row) != 6:
        return None
    if not all(
        isinstance(cell, str) and cell.isprintable() and len(cell) < _LONGEST for cell in row
    ):
        return None
    each = Owned(*row)
    is_ours = re.fullmatch(r"[0-9a-f]{16}", each.fingerprint)
    return each if is_ours and re.fullmatch(r"(\d{1,7}\.\d\d)?", each.price) else None
