"""04-margins: the edges that a printer does not reach, and what is lost there."""

from dataclasses import replace
from functools import cached_property

from labkit.geometry.box import Edges
from labkit.geometry.layout import Layout
from labkit.lessons.parts.figure import Reading
from labkit.lessons.parts.placing import Placing, Snap


class Pushed(Placing):
    """A picture that may be pushed into the edges the printer does not reach, where it is lost."""

    @property
    def unprintable(self) -> Edges:
        """Nothing keeps the picture from the sheet's own edges."""
        return Edges()

    @cached_property
    def layout(self) -> Layout:
        """The layout with what the printer does not reach of it."""
        edges = self.edges.turned() if self.sheet.is_turned else self.edges
        return replace(super().layout, unprintable=edges)

    @property
    def snaps(self) -> tuple[Snap, ...]:
        """The guides, without those that would stop it at the printer's edges."""
        return tuple(snap for snap in super().snaps if "printer" not in snap.label)


def edge_readings(placing: Pushed, units: str) -> list[Reading]:
    """Each border beside what the printer needs there, and what of the picture is lost."""
    layout = placing.layout
    needed = dict(layout.unprintable.items())
    told, lost = [], []
    for side, border in layout.borders.items():
        told.append((f"{side} border", f"{border.said(units)}; needed {needed[side].said(units)}"))
        if border < needed[side]:
            lost.append(f"{(needed[side] - border).said(units)} at the {side}")
    return [*told, ("lost of the picture", " and ".join(lost) or "nothing")]
