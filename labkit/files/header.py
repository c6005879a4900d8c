"""What a header states of a picture, as it is stored; and the numbers that several kinds share."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from numbers import Rational

from PIL import Image

from labkit.geometry.length import MM_PER_INCH

LEAST_PPI, MOST_PPI = 2, 20_000
"""A stated resolution outside these means nothing (common practice, no source)."""

WHOLE_WITHIN = Fraction(13, 1000)
"""Half a pixel per metre is 0.0127 ppi: a rounded figure this near a whole ppi means the whole ppi."""

PER_INCH, PER_CENTIMETRE, PER_METRE = Fraction(1), MM_PER_INCH / 10, MM_PER_INCH / 1000
"""What makes ppi of a number of pixels in each of these."""

MOST_BYTES = 64 << 20
"""No profile or note in a header is as large as this."""

Ppi = tuple[Fraction, Fraction]
"""Pixels per inch across and down, exact."""


@dataclass(frozen=True)
class Header:
    """The facts of a file's first picture as it is stored, before it is turned.

    ``size`` is its width and height in pixels; ``mode``, ``depth``, ``orientation``, ``pages``,
    ``layers`` and ``alpha`` are those of :class:`~labkit.files.picture.Picture`. ``icc`` is the
    embedded profile, sound or not: None where there is none, b"" where it cannot be put together.
    """

    size: tuple[int, int]
    mode: str
    depth: int = 8
    ppi: Ppi | None = None
    icc: bytes | None = None
    orientation: int = 1
    pages: int = 1
    layers: bool = False
    alpha: bool = False


def exif(block: bytes | None) -> tuple[int, Ppi | None]:
    """Orientation and resolution of a block of Exif; those of no block when it cannot be read."""
    tags = Image.Exif()
    try:
        tags.load(block or b"")
        return tagged_orientation(tags.get), tagged_ppi(tags.get)
    except Exception:  # a damaged block says nothing, and the picture is there all the same
        return 1, None


def tagged_orientation(value_of: Callable) -> int:
    """Tag 274 of Exif 2.3 and TIFF 6.0; 1, as it lies, for a number that does not exist."""
    value = value_of(274)
    return int(value) if value in range(1, 9) else 1


def tagged_ppi(value_of: Callable) -> Ppi | None:
    """Tags 282, 283 and 296 of Exif 2.3 and TIFF 6.0, section 8.

    Unit 2, the default, is the inch, 3 the centimetre; 1 states a shape of the pixels only.
    """
    unit = {2: PER_INCH, 3: PER_CENTIMETRE}.get(value_of(296, 2))
    return exact_ppi(value_of(282), value_of(283), unit)


def exact_ppi(across, down, unit: Fraction | None) -> Ppi | None:
    """Two stored numbers as exact ppi; None where they or their ``unit`` mean nothing.

    Numbers held as floats, or not counted by the inch, are roundings: where a whole ppi lies within
    ``WHOLE_WITHIN`` it was meant.
    """
    numbers = _number(across), _number(down)
    if unit is None or None in numbers:
        return None
    ppi = [number * unit for number in numbers]
    if unit != PER_INCH or isinstance(across, float):
        ppi = [Fraction(round(p)) if abs(p - round(p)) <= WHOLE_WITHIN else p for p in ppi]
    return tuple(ppi) if all(LEAST_PPI <= p <= MOST_PPI for p in ppi) else None


def _number(value) -> Fraction | None:
    if isinstance(value, Rational):  # Pillow's own are not in lowest terms, and would stay so
        value = value.numerator, value.denominator
    try:
        return Fraction(*value) if isinstance(value, tuple) else Fraction(value)
    except (TypeError, ValueError, ZeroDivisionError, OverflowError):
        return None
