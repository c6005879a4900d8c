"""What the apps set: a picture being placed on a sheet, as one frozen value and without widgets."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.layout import Layout, lay_out, place
from labkit.geometry.length import ZERO, Length
from labkit.geometry.paper import Sheet
from labkit.geometry.proportion import HALF, by_width

BY_HAND = "by hand"
"""The place of a picture that was dragged, nudged or set by its left and top."""

SNAP = Fraction(1, 60)
"""How near to a guide a dragged picture snaps to it, as a part of the sheet's width."""

STEPS = {"in": Length(Fraction(1, 16)), "mm": Length(Fraction(10, 254))}
"""The smallest move, by the unit shown first: 1/16 in or 1 mm."""


@dataclass(frozen=True, slots=True)
class Snap:
    """A guide a dragged picture snaps to: where its left (axis "x") or top ("y") then is, where the
    guide is drawn, and its name."""

    axis: str
    at: Length
    line: Length
    label: str


@dataclass(frozen=True)
class Placing:
    """A picture of ``shape`` pixels on ``sheet``, by its width and its place.

    With a ``height`` it is cropped to that box, and ``keep`` says what stays: (0, 0) the left and the
    top, (1, 1) the right and the bottom. ``edges`` are the printer's unprintable ones for the sheet
    upright. ``left`` and ``top`` count only when ``at`` is :data:`BY_HAND`. With ``trim`` and ``bleed``
    it is printed to the edge instead.
    """

    shape: tuple[int, int]
    sheet: Sheet
    width: Length
    edges: Edges = Edges()
    at: str = "centre"
    left: Length = ZERO
    top: Length = ZERO
    trim: tuple[Length, Length] | None = None
    bleed: Length = ZERO
    height: Length | None = None
    keep: tuple[Fraction, Fraction] = (HALF, HALF)

    @property
    def unprintable(self) -> Edges:
        """The printer's edges as the sheet lies."""
        return self.edges.turned() if self.sheet.is_turned else self.edges

    @cached_property
    def size(self) -> tuple[Length, Length]:
        """The picture's width and height."""
        return (self.width, self.height) if self.height else by_width(self.shape, self.width)

    @cached_property
    def layout(self) -> Layout:
        """The layout; LabError where it cannot be printed so."""
        by_hand = self.at == BY_HAND
        return lay_out(
            self.shape,
            self.sheet,
            unprintable=self.unprintable,
            width=None if self.trim else self.width,
            height=self.height,
            fill=self.height is not None,
            keep=self.keep,
            at="centre" if by_hand else self.at,
            left=self.left if by_hand else None,
            top=self.top if by_hand else None,
            trim=self.trim,
            bleed=self.bleed,
        )

    @cached_property
    def corner(self) -> tuple[Length, Length]:
        """The picture's left and top, also where it is refused."""
        if self.at == BY_HAND:
            return self.left, self.top
        try:
            return place(self.size, self.sheet, self.at, least_top=self.unprintable.top)
        except LabError:  # three even borders that leave too little below
            side = (self.sheet.width - self.size[0]) / 2
            return side, side

    @cached_property
    def reach(self) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """How far the picture's left, and its top, can go: least and most, inside the printable area."""
        edges, (width, height) = self.unprintable, self.size
        return (
            (edges.left, max(edges.left, self.sheet.width - edges.right - width)),
            (edges.top, max(edges.top, self.sheet.height - edges.bottom - height)),
        )

    @cached_property
    def printable(self) -> tuple[Length, Length]:
        """How wide and how high a print on this sheet can be."""
        edges, sheet = self.unprintable, self.sheet
        return sheet.width - edges.left - edges.right, sheet.height - edges.top - edges.bottom

    @cached_property
    def widest(self) -> Length:
        """The largest width that fits the printable area."""
        wide, high = self.printable
        return wide if self.height else min(wide, high * Fraction(*self.shape))

    def resized(self, width: Length) -> "Placing":
        """With another width, no larger than fits; a picture placed by hand stays on the sheet."""
        height = self.height and min(self.height, self.printable[1])
        return replace(self, width=min(width, self.widest), height=height)._kept_on()

    def on(self, sheet: Sheet) -> "Placing":
        """On another sheet, made smaller if it must be; a trim size turns with the sheet."""
        trim = (
            self.trim[::-1] if self.trim and sheet.is_turned != self.sheet.is_turned else self.trim
        )
        return replace(self, sheet=sheet, trim=trim).resized(self.width)

    def moved(self, left: Length, top: Length, *, step: Length | None, snap: bool) -> "Placing":
        """With its corner at ``left`` and ``top``, kept on the sheet.

        Rounded to whole ``step`` if one is given, but for a side that stays where it is; a corner near
        a guide snaps to it if ``snap``.
        """
        now = dict(zip("xy", self.corner, strict=True))
        corner = {"x": left, "y": top}
        if step is not None:
            corner = {
                axis: at if at == now[axis] else step * round(at / step)
                for axis, at in corner.items()
            }
        if snap:
            asked = {"x": left, "y": top}
            for axis in corner:
                near = min(
                    (guide for guide in self.snaps if guide.axis == axis),
                    key=lambda guide: abs(guide.at - asked[guide.axis]),
                )
                if abs(near.at - asked[axis]) <= self.sheet.width * SNAP:
                    corner[axis] = near.at
        return replace(self, at=BY_HAND, left=corner["x"], top=corner["y"])._kept_on()

    @cached_property
    def snaps(self) -> tuple[Snap, ...]:
        """The guides within reach: the centre both ways, the optical centre, the printer's edges, even
        borders."""
        width, height = self.size
        centre = place(self.size, self.sheet, "centre")
        optical = place(self.size, self.sheet, "optical", least_top=self.unprintable.top)
        (least_left, most_left), (least_top, most_top) = self.reach
        guides = (
            Snap("x", centre[0], self.sheet.width / 2, "centre, left to right"),
            Snap("y", centre[1], self.sheet.height / 2, "centre, top to bottom"),
            Snap("y", optical[1], optical[1], "optical centre"),
            Snap("y", centre[0], centre[0], "as much above as on the left"),
            Snap("x", least_left, least_left, "the printer's left edge"),
            Snap("x", most_left, most_left + width, "the printer's right edge"),
            Snap("y", least_top, least_top, "the printer's top edge"),
            Snap("y", most_top, most_top + height, "the printer's bottom edge"),
        )
        reach = {"x": (least_left, most_left), "y": (least_top, most_top)}
        return tuple(g for g in guides if reach[g.axis][0] <= g.at <= reach[g.axis][1])

    def snapped(self) -> tuple[str, ...]:
        """The names of the guides the picture stands on."""
        left, top = self.corner
        return tuple(
            guide.label for guide in self.snaps if guide.at == (left if guide.axis == "x" else top)
        )

    def _kept_on(self) -> "Placing":
        if self.at != BY_HAND:
            return self
        (least_left, most_left), (least_top, most_top) = self.reach
        return replace(
            self,
            left=max(least_left, min(self.left, most_left)),
            top=max(least_top, min(self.top, most_top)),
        )


def try_layout(placing: Placing) -> tuple[Layout | None, str]:
    """The layout, or None and the sentence that refuses it."""
    try:
        return placing.layout, ""
    except LabError as refusal:
        return None, str(refusal)
