"""A ruler sheet: bars as long as the paper allows, and marks at a known distance from its edges."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from labkit.errors import LabError
from labkit.geometry.box import Box, Edges
from labkit.geometry.length import Length, inches, length, millimetres

PPI = 254
"""Pixels per inch of a ruler sheet: a millimetre is 10 of them and half an inch 127, so that each line
lies on a whole pixel."""
PIXEL = Length(Fraction(1, PPI))
LINE, BOLD = PIXEL * 2, PIXEL * 4
"""Thickness of a line and of one to measure to: even in pixels, so that its middle is where it says."""
CLEAR = length("2mm")
"""What a bar keeps from the edges that are not printed."""
_LEAST_INSET = length("1in")
LONGEST, _SHORTEST = length("1000mm"), length("4in")
"""The longest bar, and the shortest that is worth printing."""
_HALF, _TENTH = length("1/2in"), length("10mm")
_ARM, _CROSSING = length("8mm"), length("9mm")
_REACH = {"inch": length("4mm"), "half": length("2.5mm"), "10": length("4mm"), "5": length("3mm")}
_SHORT = length("2mm")


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar with inches on one side and millimetres on the other, both from ``start`` on.

    ``in_inches`` and ``in_mm`` are the lengths to the two end lines, whole inches and whole centimetres.
    """

    start: Length
    in_inches: Length
    in_mm: Length

    @property
    def end(self) -> Length:
        """Where the longer side ends."""
        return self.start + max(self.in_inches, self.in_mm)

    def asked(self, unit: str) -> Length:
        """What is measured from end line to end line on the side of that unit, "in" or "mm"."""
        return self.in_mm if unit == "mm" else self.in_inches


@dataclass(frozen=True, slots=True)
class RulerSheet:
    """A ruler for one size of paper: ``width`` across the feed, ``height`` along it, first edge on top.

    ``inset`` is how far the corner crosses stand from the two edges next to them. ``across`` and ``along``
    are the two bars; ``across_at`` is how far down, ``along_at`` how far from the left they run.
    """

    width: Length
    height: Length
    inset: Length
    across: Bar
    along: Bar
    across_at: Length
    along_at: Length

    @property
    def between(self) -> Length:
        """From an upper cross down to the lower one."""
        return self.height - self.inset * 2

    def crosses(self) -> list[tuple[Length, Length]]:
        """The middles of the four corner crosses."""
        return [
            (x, y)
            for y in (self.inset, self.height - self.inset)
            for x in (self.inset, self.width - self.inset)
        ]

    def lines(self) -> list[Box]:
        """All that is drawn, but for type: thin boxes on whole pixels."""
        drawn = []
        for x, y in self.crosses():
            drawn += [_level(x - _ARM, y, _ARM * 2, LINE), _upright(x, y - _ARM, _ARM * 2, LINE)]
        drawn += [_level(*each) for each in _strokes(self.across, self.across_at, across=True)]
        drawn += [_upright(*each) for each in _strokes(self.along, self.along_at, across=False)]
        drawn += [_upright(*each) for each in _ticks(self.across, self.across_at)]
        for at, start, long, thick in _ticks(self.along, self.along_at):
            drawn.append(_level(start, at, long, thick))
        return drawn

    def numbers(self) -> Iterator[tuple[str, Length, Length, str, str]]:
        """What is written at the ticks, but where the bars cross: a figure, where it stands along the bar
        and where its tick ends, on which bar, in which unit."""
        for name, bar, line, other in (
            ("across", self.across, self.across_at, self.along_at),
            ("along", self.along, self.along_at, self.across_at),
        ):
            told = [
                *(
                    (str(n), inches(n), line - _REACH["inch"], "in")
                    for n in _count(bar.in_inches, 1)
                ),
                *(
                    (str(n), millimetres(n), line + _REACH["10"], "mm")
                    for n in _count(bar.in_mm, 10)
                ),
            ]
            for text, far, beyond, unit in told:
                if abs(bar.start + far - other) > _CROSSING:
                    yield text, bar.start + far, beyond, name, unit


def ruler_sheet(width: Length, height: Length, unprintable: Edges = Edges()) -> RulerSheet:
    """The ruler for paper of that size, of which the printer does not reach ``unprintable``.

    Bars are as long as that allows, up to a metre. LabError for paper too small for bars of 4 in.

    >>> made = ruler_sheet(length("13in"), length("19in"))
    >>> made.across.in_inches, made.across.in_mm.mm_text(), made.along.in_inches
    (Length('12 in'), '320 mm', Length('18 in'))
    """
    least = max(edge for _, edge in unprintable.items()) + CLEAR
    inset = max(_LEAST_INSET, _HALF * ceil(least / _HALF))
    across = _bar(width, max(unprintable.left, unprintable.right) + CLEAR)
    along = _bar(height, max(unprintable.top, unprintable.bottom) + CLEAR)
    if across is None or along is None:
        raise LabError(
            f"{width.both()} by {height.both()} is too small for a ruler sheet: its bars would be shorter "
            f"than {_SHORTEST.both()}. Take the largest sheet of this paper."
        )
    return RulerSheet(
        width, height, inset, across, along,
        across_at=_on_pixel(height / 3), along_at=_on_pixel(width * Fraction(2, 3)),
    )  # fmt: skip


def unit_of(text: str) -> str:
    """The unit that a reading was written in, "in" or "mm", which tells the side of the bar it is of.

    >>> unit_of("11.71in"), unit_of("29.8 cm")
    ('in', 'mm')
    """
    return "mm" if text.strip().rstrip(".").lower().endswith("m") else "in"


def _bar(side: Length, edge: Length) -> Bar | None:
    room = min(side - edge * 2, LONGEST)
    whole, tens = inches(int(room / inches(1))), _TENTH * int(room / _TENTH)
    if whole < _SHORTEST:
        return None
    return Bar(_on_pixel((side - max(whole, tens)) / 2), whole, tens)


def _count(long: Length, step: int) -> range:
    """Every inch, or every so many millimetres, up to a length."""
    return range(0, int(long.inches if step == 1 else long.mm) + 1, step)


def _on_pixel(place: Length) -> Length:
    return PIXEL * place.pixels(PPI)


def _strokes(bar: Bar, line: Length, *, across: bool):
    long = bar.end - bar.start
    return [(bar.start, line, long, LINE) if across else (line, bar.start, long, LINE)]


def _ticks(bar: Bar, line: Length) -> Iterator[tuple[Length, Length, Length, Length]]:
    """Where a tick stands along the bar, where it begins across it, how long and how thick it is."""
    for number in range(int(bar.in_inches / _HALF) + 1):
        reach = _REACH["half" if number % 2 else "inch"]
        at = bar.start + _HALF * number
        yield (
            at,
            line - reach,
            reach,
            BOLD if at in (bar.start, bar.start + bar.in_inches) else LINE,
        )
    for number in range(int(bar.in_mm / millimetres(1)) + 1):
        reach = _SHORT if number % 5 else _REACH["5" if number % 10 else "10"]
        at = bar.start + millimetres(number)
        yield at, line, reach, BOLD if at in (bar.start, bar.start + bar.in_mm) else LINE


def _level(left: Length, middle: Length, long: Length, thick: Length) -> Box:
    return Box(left, middle - thick / 2, long, thick)


def _upright(middle: Length, top: Length, long: Length, thick: Length) -> Box:
    return Box(middle - thick / 2, top, thick, long)
