"""The tags and numbers that the headers of several kinds share."""

from collections.abc import Callable
from fractions import Fraction
from numbers import Rational

from PIL import Image

from labkit.files.header.facts import Ppi
from labkit.geometry.length import MM_PER_INCH
from labkit.geometry.resolution import LEAST_PPI, MOST_PPI

WHOLE_WITHIN = Fraction(13, 1000)
"""Half a pixel per metre is 0.0127 ppi: a rounded figure this near a whole ppi means the whole ppi."""

PER_INCH, PER_CENTIMETRE, PER_METRE = Fraction(1), MM_PER_INCH / 10, MM_PER_INCH / 1000
"""What makes ppi of a number of pixels in each of these."""

MOST_BYTES = 64 << 20
"""No profile or note in a header is as large as this."""

Density = tuple[Ppi | None, bool]
"""A stated resolution, and whether numbers are stated without a unit instead: a shape only."""

NO_DENSITY: Density = (None, False)

_MOST_SIGNS = 200


def exif(block: bytes | None, own: Density = NO_DENSITY) -> dict:
    """What a block of Exif states, as :func:`tagged` has it; as no block when it cannot be read."""
    tags = Image.Exif()
    try:
        tags.load(block or b"")
        return tagged(tags.get, own)
    except Exception:  # a damaged block says nothing, and the picture is there all the same
        return tagged({}.get, own)


def tagged(value_of: Callable, own: Density = NO_DENSITY) -> dict:
    """The facts that Exif 2.3 and TIFF 6.0 keep in tags of the same numbers.

    ``own`` is the resolution that the format itself states, which goes before that of the tags; what
    these say instead is the other one.
    """
    orientation = value_of(274)
    in_tags, shape_only = _tagged_density(value_of)
    ppi = own[0] or in_tags
    return {
        # 1, as it lies, for a number that does not exist
        "orientation": int(orientation) if orientation in range(1, 9) else 1,
        "ppi": ppi,
        "other_ppi": in_tags if in_tags != ppi else None,
        "shape_only": ppi is None and (own[1] or shape_only),
        "software": _text(value_of(305)),
        "artist": _text(value_of(315)),
        "title": _text(value_of(269)),  # DocumentName
    }


def _tagged_density(value_of: Callable) -> Density:
    """Tags 282, 283 and 296 of Exif 2.3 and TIFF 6.0, section 8.

    Unit 2, the default, is the inch, 3 the centimetre; 1 states a shape of the pixels only.
    """
    unit = {2: PER_INCH, 3: PER_CENTIMETRE}.get(value_of(296, 2))
    return density(value_of(282), value_of(283), unit)


def _text(value) -> str:
    """What can be shown of a stored text, in a line of at most ``_MOST_SIGNS``."""
    if isinstance(value, bytes):
        value = value.decode("utf-8", "replace")
    if not isinstance(value, str):
        return ""
    return "".join(sign for sign in value if sign.isprintable()).strip()[:_MOST_SIGNS]


def density(across, down, unit: Fraction | None) -> Density:
    """Two stored numbers as exact ppi; without a ``unit`` they may still state a shape of the pixels.

    1 to 1, which is what stands there when nothing is meant, states nothing.
    """
    numbers = _number(across), _number(down)
    says_nothing = None in numbers or 0 in numbers or numbers == (1, 1)
    return exact_ppi(across, down, unit), unit is None and not says_nothing


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
