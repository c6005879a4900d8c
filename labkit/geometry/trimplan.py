"""How a print is cut: to which borders, in which order, and what becomes of them if a cut is off."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, Length, size_text
from labkit.geometry.size import Size
from labkit.geometry.trim import Trim
from labkit.geometry.weight import EVEN, Weight

EDGE, MARKS = "the fresh edge", "the marks"
"""What the second of two opposite cuts is measured from."""
_OPPOSITE = {"left": "right", "top": "bottom", "right": "left", "bottom": "top"}


@dataclass(frozen=True, slots=True)
class Blade:
    """What a trimmer can do: its longest cut, the least paper it holds meanwhile, the least side of what it
    cuts, and how far off a cut of a good worker may be."""

    longest: Length
    hold: Length
    least: Length
    tolerance: Length


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut through all of the paper in hand.

    It makes the ``side`` of the finished piece, ``distance`` from the edge on the side named by ``start``,
    which a cut has made if it is ``fresh`` and else is the sheet's own. ``line`` is how long it is, ``off``
    how wide the strip that falls off.
    """

    side: str
    start: str
    distance: Length
    line: Length
    off: Length
    fresh: bool

    def sentence(self, first: str = "in") -> str:
        """What a worker does."""
        edge = "edge you cut first" if self.fresh else "edge of the sheet"
        return (
            f"{self.side.capitalize()}: cut {self.distance.both(first)} from the {self.start} {edge}; "
            f"{self.off.both(first)} falls off."
        )


@dataclass(frozen=True, slots=True)
class TrimPlan:
    """A sheet's ``size``, the picture on it, the finished piece, and the cuts in order.

    Long sides first: the first cut makes the long straight edge that the others are laid against or
    measured from (common practice, no source).
    """

    size: Size
    picture: Box
    piece: Box
    cuts: tuple[Cut, ...]

    @property
    def borders(self) -> Edges:
        """White on the four sides of the finished piece, if every cut is right."""
        return self.picture.within(self.piece)

    def borders_if(self, off: Mapping[str, Length], start: str = EDGE) -> Edges:
        """The borders where cuts are ``off``: by its side, how far too near to the picture each is.

        Where the second of two opposite cuts is measured from :data:`EDGE`, the piece has its right size,
        and what the first was off by is on the other side as well, the other way. Measured from
        :data:`MARKS`, each cut has its own error only.
        """
        lost = {side: off.get(side, ZERO) for side in _OPPOSITE}
        cut = {each.side: each for each in self.cuts}
        found = {}
        for side, border in self.borders.items():
            own = cut.get(side)
            carried = ZERO
            if own is not None and own.fresh and start == EDGE:
                carried = lost[own.start]
            found[side] = border - (lost[side] if own else ZERO) + carried
        return Edges(**found)

    def furthest_off(self, borders: Edges) -> Length:
        """How far that border is off which is furthest off."""
        return max(abs(wrong) for wrong in self._wrong(borders))

    def uneven(self, borders: Edges) -> Length:
        """By how much two borders differ more, or less, than they should: the most of any two."""
        wrong = self._wrong(borders)
        return max(wrong) - min(wrong)

    def _wrong(self, borders: Edges) -> list[Length]:
        meant = dict(self.borders.items())
        return [size - meant[side] for side, size in borders.items()]

    def lines(self, first: str = "in") -> list[str]:
        """The cuts, a sentence each."""
        return [each.sentence(first) for each in self.cuts]


def finished(picture: Box, border: Length, weight: Weight = EVEN) -> Box:
    """The finished piece round a picture: ``border`` on three sides, and below it what the weight adds.

    LabError for a border below zero.
    """
    if border < ZERO:
        raise LabError(f"a border of {border} is less than none: give zero or more.")
    below = weight.below(border)
    return Box(
        picture.left - border,
        picture.top - border,
        picture.width + border * 2,
        picture.height + border + below,
    )


def widest_border(picture: Box, size: Size, weight: Weight = EVEN) -> Length:
    """The widest even border that a sheet has room for round a picture, with the weight below it."""
    around = picture.within(Box(ZERO, ZERO, *size))
    return max(ZERO, min(around.left, around.top, around.right, weight.above(around.bottom)))


def plan_cuts(size: Size, picture: Box, piece: Box, blade: Blade | None = None) -> TrimPlan:
    """The cuts that make ``piece`` of a sheet, in the order that keeps a straight edge to work from.

    LabError where the sheet does not hold the piece, or the trimmer cannot make a cut.
    """
    _refuse_outside(size, piece)
    order = ("left", "top") if piece.height >= piece.width else ("top", "left")
    hand = {"left": ZERO, "top": ZERO, "right": size[0], "bottom": size[1]}
    lies = {"left": piece.left, "top": piece.top, "right": piece.right, "bottom": piece.bottom}
    cuts: list[Cut] = []
    for side in (*order, *(_OPPOSITE[each] for each in order)):
        off = abs(hand[side] - lies[side])
        if not off:
            continue
        start = side if side in order else _OPPOSITE[side]
        across = ("top", "bottom") if side in ("left", "right") else ("left", "right")
        made = Cut(
            side, start, abs(lies[side] - hand[start]), hand[across[1]] - hand[across[0]], off,
            fresh=any(each.side == start for each in cuts),
        )  # fmt: skip
        if blade:
            _refuse_unmakeable(made, abs(hand[_OPPOSITE[side]] - lies[side]), blade)
        cuts.append(made)
        hand[side] = lies[side]
    return TrimPlan(size, picture, piece, tuple(cuts))


def plan_of(layout: Layout, blade: Blade | None = None) -> TrimPlan:
    """The cuts of a layout with a trim; LabError as :func:`plan_cuts`."""
    sheet = layout.sheet.width, layout.sheet.height
    return plan_cuts(sheet, layout.picture, layout.trim.box, blade)


def to_be_cut(
    layout: Layout,
    border: Length,
    weight: Weight = EVEN,
    *,
    marked: bool = True,
    within: Length = ZERO,
) -> Layout:
    """The layout with white borders kept round the picture, and what lies beyond them cut off.

    With ``marked`` corner marks are printed outside the cuts. A border that is short by less than ``within``
    (a pixel of a file that was measured) ends at the sheet's edge. LabError where the sheet does not hold the
    borders, or the printer does not reach the marks.
    """
    piece = _up_to_the_edge(finished(layout.picture, border, weight), layout, within)
    plan_cuts((layout.sheet.width, layout.sheet.height), layout.picture, piece)
    trim = Trim(piece, ZERO, marked=marked)
    short = {
        side: -room
        for side, room in trim.marked_box.within(layout.printable).items()
        if room < ZERO
    }
    if marked and short:
        told = ", ".join(f"{size} on the {side}" for side, size in short.items())
        raise LabError(
            f"corner marks of a piece of {size_text(piece.size)} lie where the printer does not reach "
            f"(over by {told}): make the border narrower, or move the picture."
        )
    return replace(layout, trim=trim)


def _up_to_the_edge(piece: Box, layout: Layout, within: Length) -> Box:
    """The piece without what sticks out of the sheet by less than ``within``."""
    sheet = Box(ZERO, ZERO, layout.sheet.width, layout.sheet.height)
    over = {
        side: -room if -within < room < ZERO else ZERO for side, room in piece.within(sheet).items()
    }
    return Box(
        piece.left + over["left"],
        piece.top + over["top"],
        piece.width - over["left"] - over["right"],
        piece.height - over["top"] - over["bottom"],
    )


def _refuse_outside(size: Size, piece: Box) -> None:
    sheet = Box(ZERO, ZERO, *size)
    short = {side: -room for side, room in piece.within(sheet).items() if room < ZERO}
    if short:
        told = ", ".join(f"{room} short on the {side}" for side, room in short.items())
        raise LabError(
            f"the sheet has no room for these borders: {told}. Make the border narrower, or print on a "
            "larger sheet."
        )


def _refuse_unmakeable(cut: Cut, kept: Length, blade: Blade) -> None:
    if cut.line > blade.longest:
        raise LabError(
            f"the cut on the {cut.side} is {cut.line.both()} long, and the trimmer here cuts "
            f"{blade.longest.both()}: have it cut elsewhere, or leave that border."
        )
    if max(kept, cut.off) < blade.hold or min(cut.line, kept) < blade.least:
        raise LabError(
            f"a piece of {kept.both()} by {cut.line.both()} is smaller than the trimmer here can hold and "
            f"cut ({blade.least.both()}): cut it by hand with a knife and a straight edge, or not at all."
        )
