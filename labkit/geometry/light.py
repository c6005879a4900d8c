"""Light: how bright paper is under a lamp, and steps between two brightnesses in stops."""

from math import log2, pi

from labkit.errors import LabError

MOST_STOPS = 2.0
"""The largest tone step each way: beyond it little is left of a picture (our own judgement)."""
APPRAISAL, PRACTICAL = 2000, 500
"""Illuminance in lux under which prints are compared critically (P1), and judged as they will be seen (P2):
ISO 3664:2009, second-hand."""


def luminance(lux: float, reflectance: float) -> float:
    """The luminance in cd/m² of a matt surface that reflects this share of the light that falls on it.

    A surface that scatters evenly (Lambert) sends lux × reflectance ÷ π to every side.

    >>> round(luminance(500, 0.9))
    143
    """
    return lux * reflectance / pi


def lux_for(target: float, reflectance: float) -> float:
    """The illuminance in lux under which such a surface has the luminance ``target`` in cd/m²."""
    return target * pi / reflectance


def stops(of: float, over: float) -> float:
    """How many times the one light is the double of the other; below 0 where it is less.

    >>> stops(25, 100)
    -2.0
    """
    return log2(of / over)


def step_text(step: float) -> str:
    """A tone step in words, to a hundredth.

    >>> step_text(-0.3)
    '0.3 stops darker'
    """
    count = round(abs(step), 2)
    if not count:
        return "neither lighter nor darker"
    return f"{count:g} {'stop' if count == 1 else 'stops'} {'lighter' if step > 0 else 'darker'}"


def tone_step(step: float) -> float:
    """A tone step that can be made, as a number of stops; LabError for any other."""
    if not isinstance(step, int | float) or not abs(step) <= MOST_STOPS:
        raise LabError(
            f"a tone step is a number of stops from -{MOST_STOPS:g} to {MOST_STOPS:g}, such as 0.3, and "
            f"not {step}."
        )
    return float(step)


def strip_steps(count: int, apart: float = 0.3, first: float | None = None) -> tuple[float, ...]:
    """The tone steps of a test strip, in stops: so many, so far ``apart``, from ``first`` on.

    Without a ``first`` it is one step darker than the picture, and all others but the picture's own are
    lighter: a print looks darker than its screen (common practice, no source). LabError for fewer than
    two steps, for steps no further apart than a hundredth, and for one that cannot be made.

    >>> strip_steps(5)
    (-0.3, 0.0, 0.3, 0.6, 0.9)
    """
    if count < 2 or not apart >= 0.01:
        raise LabError(
            f"{count} steps {apart:g} stops apart make no test strip: give 2 steps or more, at least 0.01 "
            "stops apart."
        )
    begin = -apart if first is None else first
    return tuple(tone_step(round(begin + apart * each, 2) + 0.0) for each in range(count))
