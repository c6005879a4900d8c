"""What measuring a ruler sheet says: errors of scale, place and skew, each with what can be told of it.

A length is read at both ends by a hand-held ruler. Two readings that may each be off by u make a length
that may be off by √2 u (the square root of the sum of squares: JCGM 100:2008, 5.1.2), and of the same
ruler every print inherits its error: more prints tell their spread, and do not make the ruler better.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan, degrees, sqrt

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, decimal, length

EACH_END = length("0.25mm")
"""How far a reading at one end may be off: half a millimetre's line, or 1/100 in (common practice, no
source)."""
ENOUGH = 3
"""Prints that are measured before anything is called an error: common practice, no source."""
_FAR = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Estimate:
    """One error, a value for each print; ``ruler`` is what the measuring cannot tell."""

    values: tuple[Fraction, ...]
    ruler: Fraction

    @property
    def mean(self) -> Fraction:
        """The mean of the prints."""
        return sum(self.values, Fraction(0)) / len(self.values)

    @property
    def spread(self) -> Fraction:
        """The largest difference among the prints."""
        return max(self.values) - min(self.values)

    @property
    def doubt(self) -> Fraction:
        """What the mean may be off: the measuring's own or the prints' spread, the larger of the two."""
        return max(self.ruler, self.spread)

    @property
    def is_seen(self) -> bool:
        """Whether the mean lies outside the doubt: else there is nothing to mend."""
        return abs(self.mean) > self.doubt


@dataclass(frozen=True, slots=True)
class Reading:
    """A length as it was asked for and as it came out."""

    asked: Length
    measured: Length


@dataclass(frozen=True, slots=True)
class Errors:
    """What was found: ``across`` and ``along`` are parts of one (-0.024: 2.4 % too short); the offsets are
    inches, ``offset_across`` of the sheet's middle to the right, ``offset_along`` down of where the print
    begins at the edge that goes in first; ``skew`` is inches to the right for each inch down, ``longer`` by
    how many inches the sheet is longer than its name. None where it was not measured."""

    across: Estimate
    along: Estimate
    offset_across: Estimate | None = None
    offset_along: Estimate | None = None
    skew: Estimate | None = None
    longer: Estimate | None = None

    @property
    def prints(self) -> int:
        """How many were measured."""
        return len(self.across.values)

    @property
    def found(self) -> list[Estimate]:
        """All errors of the print that were measured; that of the sheet itself is none of them."""
        every = (self.across, self.along, self.offset_across, self.offset_along, self.skew)
        return [each for each in every if each is not None]

    @property
    def is_enough(self) -> bool:
        """Whether prints enough were measured to call anything an error."""
        return self.prints >= ENOUGH


def scale_error(readings: Sequence[Reading], each_end: Length = EACH_END) -> Estimate:
    """How much too long the prints came out, as a part of one; short is below zero.

    LabError for a length that cannot be a reading of this bar.

    >>> hand = scale_error([Reading(length("200mm"), length("199.6mm"))])
    >>> round(float(hand.mean), 4), round(float(hand.ruler), 4), hand.is_seen
    (-0.002, 0.0018, True)
    """
    for each in readings:
        if not _FAR < each.measured / each.asked < 2:
            raise LabError(
                f"a bar of {each.asked.both()} that measures {each.measured.both()} is more than a wrong "
                "scale: check the unit, and which end line was measured to."
            )
    shortest = min(each.asked for each in readings)
    return Estimate(
        tuple(each.measured / each.asked - 1 for each in readings), _both_ends(each_end) / shortest
    )


def offset_across(
    near: Sequence[Length],
    far: Sequence[Length],
    scale: Estimate,
    width: Length,
    each_end: Length = EACH_END,
) -> Estimate:
    """How far the sheet's middle came out of its place, in inches away from the ``near`` edge.

    ``near`` and ``far`` are the distances of marks that should stand equally far from opposite edges: half
    of their difference is the way the middle went. About which point a wrong ``scale`` across the feed grows
    is not known: at worst about an edge, and then it moves the middle by half of what it does to the sheet's
    ``width``. So much more is in doubt. LabError where there are not as many of one as of the other.
    """
    _refuse_unequal(near, far, "distances from opposite edges")
    moved = tuple((one - other).inches / 2 for one, other in zip(near, far, strict=True))
    by_scale = abs(scale.mean) * width.inches / 2
    return Estimate(moved, each_end.inches + by_scale)


def offset_along(
    near: Sequence[Length], asked: Length, scale: Estimate, each_end: Length = EACH_END
) -> Estimate:
    """How far a print begins out of its place, in inches away from the edge that goes in first.

    ``near`` are the distances from that edge of a mark that is ``asked`` to stand so far from it. The rollers
    count from that edge: a wrong ``scale`` along the feed adds up from there, so the mark is off by its own
    share of it, and what is left is the offset. The far edge says nothing of it: there all of the feed's
    error has come together, and how long the sheet was cut. LabError where a print's distance is missing.
    """
    _refuse_unequal(near, scale.values, "distances from the edge that goes in first, and scales,")
    begun = tuple(
        (one - asked * (1 + error)).inches for one, error in zip(near, scale.values, strict=True)
    )
    return Estimate(begun, _both_ends(each_end).inches)


def longer(
    near: Sequence[Length],
    far: Sequence[Length],
    between: Length,
    scale: Estimate,
    named: Length,
    each_end: Length = EACH_END,
) -> Estimate:
    """By how many inches a sheet is longer than it is ``named``: two marks that should stand ``between``
    apart, and what is left from each to its edge. LabError where a print's distance is missing."""
    _refuse_unequal(near, far, "distances from opposite edges")
    _refuse_unequal(near, scale.values, "distances from an edge, and scales,")
    over = tuple(
        (one + between * (1 + error) + other - named).inches
        for one, other, error in zip(near, far, scale.values, strict=True)
    )
    ends, middle = _both_ends(each_end).inches, scale.ruler * between.inches
    return Estimate(over, Fraction(sqrt(2 * ends**2 + middle**2)))


def skew(
    upper: Sequence[Length], lower: Sequence[Length], between: Length, each_end: Length = EACH_END
) -> Estimate:
    """How far the print leans to the right, going down: inches for each inch.

    ``upper`` and ``lower`` are the distances of two marks from the left edge that stand ``between`` apart.
    LabError where there are not as many of one as of the other.
    """
    _refuse_unequal(upper, lower, "distances from the left edge, above and below")
    leans = tuple((low - up) / between for up, low in zip(upper, lower, strict=True))
    return Estimate(leans, _both_ends(each_end) * Fraction(sqrt(2)) / between)


def percent(share: Fraction, places: int = 2, *, signed: bool = True) -> str:
    """A part of one in percent: ``+2.42 %``; not ``signed``: ``97.6 %``."""
    told = decimal(share * 100, places)
    return f"{'+' if signed and share > 0 and told != '0' else ''}{told} %"


def fine_text(size: Length) -> str:
    """A small length to a hundredth of a millimetre: ``0.25 mm``."""
    return f"{decimal(size.mm, 2)} mm"


def degrees_text(slope: Fraction) -> str:
    """A slope as an angle: ``0.08°``."""
    return f"{decimal(Fraction(degrees(atan(abs(slope)))), 2)}°"


def _both_ends(each_end: Length) -> Length:
    if each_end < ZERO:
        raise LabError(f"a reading cannot be off by {each_end}: give zero or more.")
    return each_end * Fraction(sqrt(2))


def _refuse_unequal(one: Sequence, other: Sequence, what: str) -> None:
    if len(one) != len(other):
        raise LabError(
            f"{len(one)} and {len(other)} {what} were measured: give one of each for each print."
        )
