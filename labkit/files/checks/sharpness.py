"""Whether the picture has the pixels its size asks for, and whether they are its own."""

from collections.abc import Iterator
from fractions import Fraction

from labkit.files.checks.findings import Finding, tell
from labkit.files.look.look import Seen
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length, decimal, size_text
from labkit.geometry.resolution import floor_for, largest_at_floor, ppi_text
from labkit.room.rules import Room


def sharpness_findings(
    layout: Layout, seen: Seen, ppi: Fraction, room: Room, *, is_ours: bool
) -> Iterator[Finding]:
    """Pixels per inch as placed, against the room's floor; and what an enlarged picture had before.

    ``is_ours``: ``prepare`` made it, and has told already what it enlarged because it was asked to. An
    enlargement is told however small it is: the room's tolerance is for a picture's own pixels. A part of a
    picture is looked at from as far away as the whole.
    """
    size = seen.whole or layout.picture.size
    row = floor_for(max(size), room.floor)
    figures = {"floor": row.ppi}
    if room.is_below_floor(ppi, max(size)):
        longest = max(size).inches * ppi
        most = largest_at_floor(longest, room.floor, at_most=max(size))
        smaller = tuple(Length(side.inches * (most / max(size))) for side in size)
        yield tell(
            "ppi-floor",
            ppi=ppi_text(ppi),
            size=size_text(size, room.units),
            distance=row.distance.both(room.units),
            most=size_text(smaller, room.units),
            **figures,
        )
    if seen.soft and not is_ours:
        own = ppi / Fraction(seen.soft)
        grade = None if room.is_below_floor(own, max(size)) else "fine"
        yield tell("soft", grade=grade, ppi=ppi_text(round(own)), **figures)
    if seen.enlarged and not is_ours:
        own = ppi / Fraction(seen.enlarged)
        yield tell(
            "enlarged",
            grade="fine" if own >= row.ppi else None,
            factor=decimal(Fraction(seen.enlarged), 2),
            sure=seen.how_sure,
            ppi=ppi_text(own),
            **figures,
        )
