"""Lengths and sizes as findings tell them, and when two of them count as the same."""

from labkit.geometry.box import Edges
from labkit.geometry.length import Length
from labkit.room.rules import Room

Size = tuple[Length, Length]
"""Width and height."""


def borders(edges: Edges, room: Room) -> str:
    """Four borders in both units."""
    return edges.text(room.units)


def same(one: Size, other: Size, within: Length) -> bool:
    """Whether both sides agree within a tolerance."""
    return all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def listed(words: list[str]) -> str:
    """``left``, ``left and top``, ``left, top and right``."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
