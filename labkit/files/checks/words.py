"""What several findings tell in the same words."""

from labkit.geometry.box import Edges
from labkit.room.rules import Room


def borders(edges: Edges, room: Room) -> str:
    """Four borders in both units."""
    return edges.text(room.units)


def listed(words: list[str]) -> str:
    """``left``, ``left and top``, ``left, top and right``."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def edges_text(sides: tuple[str, ...]) -> str:
    """``left edge``, or ``left and top edges``."""
    return f"{listed(list(sides))} {'edge' if len(sides) == 1 else 'edges'}"
