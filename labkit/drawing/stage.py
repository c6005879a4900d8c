"""Where a sheet stands on its drawing, and how large."""

from dataclasses import dataclass

from labkit.geometry.box import Box
from labkit.geometry.length import Length
from labkit.geometry.paper import Sheet

LEFT, TOP, RIGHT = 120, 106, 132
"""What the labels take on three sides of the sheet, in the units of the drawing."""
TALL = 0.54
"""The most that a sheet's height may take, as a part of the drawing's width."""
LEAST_HIGH = 112
"""The height kept for the flattest sheet: three labels above one another."""


@dataclass(frozen=True, slots=True)
class Stage:
    """Where the sheet stands on a canvas ``width`` wide: units to the inch, and its four edges.

    ``floor`` is the lower end of the room kept for the labels beside it, which begins at ``TOP`` and
    which a flat sheet does not fill.
    """

    width: int
    scale: float
    left: float
    top: float
    right: float
    bottom: float
    floor: float

    def x(self, place: Length) -> float:
        return self.left + float(place.inches) * self.scale

    def y(self, place: Length) -> float:
        return self.top + float(place.inches) * self.scale

    def sides(self, box: Box) -> tuple[float, float, float, float]:
        """Left, top, width and height of a box."""
        size = float(box.width.inches) * self.scale, float(box.height.inches) * self.scale
        return self.x(box.left), self.y(box.top), *size

    def rect(self, box: Box) -> str:
        """A box as a rectangle's attributes."""
        return 'x="{:.2f}" y="{:.2f}" width="{:.2f}" height="{:.2f}"'.format(*self.sides(box))

    def path(self, box: Box) -> str:
        """A box as part of a path."""
        left, top, wide, high = self.sides(box)
        return f"M{left:.2f} {top:.2f}h{wide:.2f}v{high:.2f}h{-wide:.2f}z"


def stage_for(sheet: Sheet, width: int) -> Stage:
    """A sheet as large as the labels round it allow, in the middle of what they leave."""
    wide, high = float(sheet.width.inches), float(sheet.height.inches)
    room = width - LEFT - RIGHT
    scale = int(min(room / wide, TALL * width / high) * 1000) / 1000
    wide, high = wide * scale, high * scale
    floor = TOP + max(high, LEAST_HIGH)
    left = round(LEFT + (room - wide) / 2, 2)
    top = round((TOP + floor - high) / 2, 2)
    return Stage(width, scale, left, top, left + wide, top + high, floor)
