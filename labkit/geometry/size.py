"""Two sizes compared, by the one rule there is for it."""

from fractions import Fraction

from labkit.geometry.length import Length

Size = tuple[Length, Length]
"""Width and height."""

SAME_SHEET = Length(Fraction(5, 72))
"""Sheets that differ by no more than 5 points a side (1.76 mm) are one size by two names, as
11.7 × 16.5 in and A3 are: CIP4, JDF, appendix on media sizes, as quoted in its issue JDF-435."""


def same_size(one: Size, other: Size, within: Length, *, either_way: bool = False) -> bool:
    """Whether both sides agree within a tolerance; ``either_way`` also with one of them turned.

    >>> from labkit.geometry.length import length
    >>> a3, tabloid = (length("297mm"), length("420mm")), (length("17in"), length("11in"))
    >>> same_size(a3, tabloid, length("18mm")), same_size(a3, tabloid, length("18mm"), either_way=True)
    (False, True)
    """
    return size_off(one, other) <= within or (either_way and size_off(one, other[::-1]) <= within)


def size_off(one: Size, other: Size) -> Length:
    """By how much the side differs that differs most."""
    return max(abs(a - b) for a, b in zip(one, other, strict=True))
