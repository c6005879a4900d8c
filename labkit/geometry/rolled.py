"""Paper wound on a core: how much is left, and how heavy it is."""

from math import pi, sqrt

from labkit.errors import LabError
from labkit.geometry.length import Length, millimetres


def length_left(outside: Length, core: Length, thickness: Length) -> Length:
    """How much paper is wound on a core, from three measures.

    Seen from its end, the paper is a ring of area π (D² − d²) / 4, D and d being the diameters ``outside``
    and of the ``core``. Unwound, the same area is a strip as long as the paper and as high as one sheet is
    thick; so the length is π (D² − d²) / (4 t). Paper wound loosely is shorter than that. LabError for a
    core that is thicker than the roll, or paper without thickness.

    >>> from labkit.geometry.length import millimetres
    >>> length_left(millimetres(120), millimetres(80), millimetres("0.3")).mm_text()
    '20944 mm'
    """
    if thickness.inches <= 0:
        raise LabError(f"paper {thickness} thick winds to nothing: give a thickness above zero.")
    if not outside >= core >= Length(outside.inches * 0):
        raise LabError(f"a roll {outside} across cannot have a core of {core}: measure both again.")
    ring = pi * float(outside.mm**2 - core.mm**2) / 4
    return millimetres(round(ring / float(thickness.mm)))


def diameter_of(left: Length, core: Length, thickness: Length) -> Length:
    """How thick the roll is on which so much paper is left: the other way round, to a tenth of a mm."""
    return millimetres(
        round(sqrt(float(core.mm**2) + 4 * float(left.mm) * float(thickness.mm) / pi), 1)
    )


def paper_kg(width: Length, taken: Length, gsm: float) -> float:
    """The weight of so much paper, in kg; ``gsm`` in grams per square metre."""
    return float(width.mm * taken.mm) / 1e6 * float(gsm) / 1000


def length_by_weight(kg: float, width: Length, gsm: float) -> Length:
    """How much paper weighs so many kg without its core; LabError for less than nothing."""
    if kg < 0:
        raise LabError(
            f"{kg:g} kg of paper is less than none: take the core's weight off once only."
        )
    return millimetres(round(kg * 1e9 / (float(gsm) * float(width.mm))))
