"""Lengths and sizes as findings tell them, and when two of them count as the same."""

from labkit.geometry.box import Edges
from labkit.geometry.length import Length
from labkit.room import Room

Size = tuple[Length, Length]
"""Width and height."""


def by(size: Size, room: Room) -> str:
    """A size in both units."""
    return f"{size[0].both(room.units)} by {size[1].both(room.units)}"


def borders(edges: Edges, room: Room) -> str:
    """Four borders in both units."""
    return edges.text(room.units)


def same(one: Size, other: Size, within: Length) -> bool:
    """Whether both sides agree within a tolerance."""
    return all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def listed(words: list[str]) -> str:
    """``left``, ``left and top``, ``left, top and right``."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
