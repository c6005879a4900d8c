"""Exact lengths in inches and millimetres, and the one place where they become pixels."""

import math
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from labkit.errors import LabError

MM_PER_INCH = Fraction("25.4")
"""Exact since the international inch of 1959; also ISO 15948 (PNG): 1 in is exactly 0.0254 m."""

_PER_INCH = {
    "in": Fraction(1), "inch": Fraction(1), "inches": Fraction(1), '"': Fraction(1), "″": Fraction(1),
    "ft": Fraction(1, 12), "mm": MM_PER_INCH, "cm": MM_PER_INCH / 10, "m": MM_PER_INCH / 1000,
}  # fmt: skip
_TAPE = (1, 2, 4, 8, 16)
"""The parts of an inch that a tape has lines for."""
_FINE, _FAR, _IN_FEET = Fraction(1, 10), 100, 240
"""Inches below which a hundredth is too coarse, from which a tenth will do, and from which they are told in
feet."""
_THOUSANDS = r"(?![1-9]\d*,\d{3}(?!\d))"  # 1,200 is twelve hundred to some and 1.2 to others
_NUMBER = rf"{_THOUSANDS}(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_LENGTH = re.compile(
    rf'\s*(?P<number>{_NUMBER})\s*(?P<unit>inches|inch|in|"|″|ft|mm|cm|m)?\.?\s*', re.I
)


@dataclass(frozen=True, order=True, slots=True)
class Length:
    """A length, held as an exact fraction of an inch, so that 1/16 in and 1 mm are both exact.

    >>> length("12 1/2 in") + length("12.7mm")
    Length('13 in')
    >>> length("1/16 in") * 16 == length("25.4 mm")
    True
    """

    inches: Fraction
    """The length in inches, exact."""

    @property
    def mm(self) -> Fraction:
        """The length in millimetres, exact."""
        return self.inches * MM_PER_INCH

    def pixels(self, ppi: Fraction | int) -> int:
        """How many whole pixels the length takes at ``ppi`` pixels per inch.

        To the nearest pixel, an exact half upwards: see ``nearest``, the one rounding rule.

        >>> length("210mm").pixels(300), length("297mm").pixels(300)
        (2480, 3508)
        >>> length("1/2in").pixels(301)
        151
        """
        return nearest(self.inches * ppi)

    def inch_text(self) -> str:
        """As the counter says it: ``12 1/2 in`` where a tape has a line there, else ``11.693 in``."""
        count, parts = self.inches.numerator, self.inches.denominator
        if parts not in _TAPE:
            return f"{decimal(self.inches, 3)} in"
        sign = "-" if count < 0 else ""
        whole, rest = divmod(abs(count), parts)
        if not rest:
            return f"{sign}{whole} in"
        return f"{sign}{whole} {rest}/{parts} in" if whole else f"{sign}{rest}/{parts} in"

    def mm_text(self) -> str:
        """In millimetres to a tenth: ``317.5 mm``."""
        return f"{decimal(self.mm, 1)} mm"

    def both(self, first: str = "in") -> str:
        """As people say it: in the unit named ``first`` ("in" or "mm"), then in the other in brackets.

        Inches that no tape has a line for give way to millimetres that are whole. Those are told in
        tens of centimetres or metres where they can be, and many metres in feet. Of 100 in and more, what is
        on no line of a tape is told to a tenth.

        >>> length("13 in").both(), length("13 in").both("mm")
        ('13 in (330.2 mm)', '330.2 mm (13 in)')
        >>> length("3mm").both(), length("30cm").both(), length("3000cm").both()
        ('3 mm (0.12 in)', '30 cm (11.81 in)', '30 m (98 ft)')
        """
        is_metric = first == "mm" or self._is_metric
        if not is_metric and abs(self.inches) >= _FAR and self.inches.denominator not in _TAPE:
            return f"{decimal(self.inches, 1)} in ({decimal(self.mm / 1000, 2)} m)"
        return f"{self.said(first)} ({self._inches_aside() if is_metric else self.mm_text()})"

    def said(self, first: str = "in") -> str:
        """The same in one unit only, for where there is little room.

        >>> length("1/2in").said(), length("4mm").said()
        ('1/2 in', '4 mm')
        """
        is_metric = first == "mm" or self._is_metric
        return self._metric_text(first) if is_metric else self.inch_text()

    @property
    def _is_metric(self) -> bool:
        """Whether it is whole in millimetres, and on no line of a tape in inches."""
        return self.mm.denominator == 1 and self.inches.denominator not in _TAPE

    def _metric_text(self, first: str) -> str:
        """In metres, in tens of centimetres unless millimetres were asked for, or in millimetres."""
        tens = self.mm / 100
        if tens.denominator != 1 or not tens:
            return self.mm_text()
        if tens >= 10 and (first == "in" or tens % 10 == 0):
            return f"{decimal(tens / 10, 1)} m"
        return f"{tens * 10} cm" if first == "in" else self.mm_text()

    def _inches_aside(self) -> str:
        """In inches, for orientation: to a hundredth, and less finely the longer it is."""
        if self.inches.denominator in _TAPE and abs(self.inches) < _IN_FEET:
            return self.inch_text()
        if abs(self.inches) >= _IN_FEET:
            return f"{decimal(self.inches / 12, 0)} ft"
        return f"{decimal(self.inches, 2 if abs(self.inches) >= _FINE else 3)} in"

    def __add__(self, other: "Length") -> "Length":
        return Length(self.inches + other.inches) if isinstance(other, Length) else NotImplemented

    def __sub__(self, other: "Length") -> "Length":
        return Length(self.inches - other.inches) if isinstance(other, Length) else NotImplemented

    def __mul__(self, factor: Fraction | int | float) -> "Length":
        return Length(self.inches * _exact(factor))

    __rmul__ = __mul__

    def __truediv__(self, other):
        """By a number a length, by a length their exact ratio."""
        if isinstance(other, Length):
            return self.inches / other.inches
        return Length(self.inches / _exact(other))

    def __neg__(self) -> "Length":
        return Length(-self.inches)

    def __abs__(self) -> "Length":
        return Length(abs(self.inches))

    def __bool__(self) -> bool:
        return bool(self.inches)

    def __float__(self) -> float:
        return float(self.inches)

    def __str__(self) -> str:
        return self.both()

    def __repr__(self) -> str:
        return f"Length({self.inch_text()!r})"


ZERO = Length(Fraction(0))


def inches(value: Fraction | int | float | str) -> Length:
    """A length of so many inches; a float is taken at its shortest decimal (0.1 is 1/10).

    LabError for what is no number.
    """
    return Length(_exact(value))


def millimetres(value: Fraction | int | float | str) -> Length:
    """A length of so many millimetres; a float is taken at its shortest decimal (0.1 is 1/10).

    LabError for what is no number.
    """
    return Length(_exact(value) / MM_PER_INCH)


def length(value: "str | Length", what: str = "a length") -> Length:
    """Read a length as people write it: ``12in``, ``1/2 in``, ``12 1/2 in``, ``12.5"``, ``30mm``, ``3 cm``.

    ``what`` names the thing in the sentence of a refusal. A bare number is refused, since 12 may
    be inches or millimetres:

    >>> length("12")
    Traceback (most recent call last):
    ...
    labkit.errors.LabError: a length of “12” has no unit: write 12in or 12mm.
    >>> length("a foot", "the width")
    Traceback (most recent call last):
    ...
    labkit.errors.LabError: the width of “a foot” is not a length: write it like 12in, 12 1/2 in or 300mm.
    """
    if isinstance(value, Length):
        return value
    found = _LENGTH.fullmatch(_plain(str(value)))
    if not found:
        raise LabError(
            f"{what} of “{value}” is not a length: write it like 12in, 12 1/2 in or 300mm."
        )
    number, unit = found["number"], found["unit"]
    if not unit:
        raise LabError(f"{what} of “{value}” has no unit: write {number}in or {number}mm.")
    return _measure(number, unit, what)


def pair(text: str) -> tuple[Length, Length] | None:
    """Read a size as people write it, ``13x19in``, ``8 1/2 × 11 in``, ``329mm x 483mm``.

    None when the text is no size at all; LabError when it is one without a unit.
    """
    sides = [_LENGTH.fullmatch(part) for part in re.split("[x×*]", _plain(text), flags=re.I)]
    if len(sides) != 2 or not all(sides):
        return None
    (one, unit_one), (two, unit_two) = (side.group("number", "unit") for side in sides)
    if not (unit_one or unit_two):
        raise LabError(f"the size “{text}” has no unit: write {one}x{two}in or {one}x{two}mm.")
    return (
        _measure(one, unit_one or unit_two, "the width"),
        _measure(two, unit_two or unit_one, "the height"),
    )


def size_text(size: tuple[Length, Length], first: str = "in") -> str:
    """Width by height in both units, as :meth:`Length.both` tells one length, but never in cm.

    >>> size_text((length("8in"), length("9 1/2in"))), size_text((length("210mm"), length("297mm")))
    ('8 × 9 1/2 in (203.2 × 241.3 mm)', '210 × 297 mm (8.27 × 11.69 in)')
    """

    def by(unit: str, text: Callable[[Length], str]) -> str:
        return " × ".join(text(side).removesuffix(f" {unit}") for side in size) + f" {unit}"

    metric = by("mm", Length.mm_text)
    if first == "mm" or (
        any(side._is_metric for side in size) and all(side.mm.denominator == 1 for side in size)
    ):
        return f"{metric} ({by('in', Length._inches_aside)})"
    return f"{by('in', Length.inch_text)} ({metric})"


def _measure(number: str, unit: str, what: str) -> Length:
    try:
        value = sum((Fraction(part) for part in number.replace(",", ".").split()), Fraction(0))
    except ZeroDivisionError:
        raise LabError(
            f"{what} of “{number} {unit}” divides by nothing: write it like 1/2 in."
        ) from None
    return Length(value / _PER_INCH[unit.lower()])


def _plain(text: str) -> str:
    """Fractions of one sign spelled out: ``12½`` is ``12 1/2``."""

    def spelled(sign: re.Match) -> str:
        return " " + unicodedata.normalize("NFKC", sign[0]).replace("\N{FRACTION SLASH}", "/")

    return re.sub("[¼-¾⅐-⅞]", spelled, text)


def _exact(value: Fraction | int | float | str) -> Fraction:
    try:
        return Fraction(repr(float(value)) if isinstance(value, float) else value)
    except ValueError:
        raise LabError(f"“{value}” is no number: give one such as 12.5.") from None


def nearest(value: Fraction) -> int:
    """The nearest whole number, an exact half upwards: how anything becomes whole pixels.

    >>> nearest(Fraction(5, 2)), nearest(Fraction(-5, 2))
    (3, -2)
    """
    return math.floor(value + Fraction(1, 2))


def decimal(value: Fraction, places: int) -> str:
    """A fraction as a decimal number of at most so many places, halves away from zero."""
    count, parts, scale = value.numerator, value.denominator, 10**places
    scaled = (2 * abs(count) * scale + parts) // (2 * parts)
    whole, rest = divmod(scaled, scale)
    text = f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
    return f"-{text}" if count < 0 and scaled else text
