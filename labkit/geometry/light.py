"""Light: how bright paper is under a lamp, and steps between two brightnesses, in stops or in lightness."""

from dataclasses import dataclass
from math import log2, pi

from labkit.errors import LabError


@dataclass(frozen=True, slots=True)
class Unit:
    """What tone steps are told in: the words for one and for more, the largest step each way, and how far
    the steps of a strip are apart at least and where nothing is said."""

    one: str
    more: str
    most: float
    least_apart: float
    apart: float


UNITS = {
    "stops": Unit("stop", "stops", most=2.0, least_apart=0.01, apart=0.3),
    "lightness": Unit("L* unit", "L* units", most=24.0, least_apart=0.1, apart=4.0),
}
"""Stops of exposure, each of which doubles the light of middle grey; and CIE lightness, L*, of which middle
grey has 50. Beyond 2 stops little is left of a picture (our own judgement); beyond 25 of L* the curve would
turn back (see :mod:`labkit.files.pixels.tone`)."""
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


def step_text(step: float, by: str = "stops") -> str:
    """A tone step in words, to a hundredth.

    >>> step_text(-0.3)
    '0.3 stops darker'
    >>> step_text(4, "lightness")
    '4 L* units lighter'
    """
    count = round(abs(step), 2)
    if not count:
        return "neither lighter nor darker"
    unit = UNITS[by].one if count == 1 else UNITS[by].more
    return f"{count:g} {unit} {'lighter' if step > 0 else 'darker'}"


@dataclass(frozen=True, slots=True)
class ToneStep:
    """A step that can be made: so much ``by`` stops or lightness at middle grey, darker below 0."""

    amount: float
    by: str = "stops"

    @property
    def option(self) -> str:
        """What makes it on the command line.

        >>> ToneStep(4.0, "lightness").option
        '--lighter 4 --by lightness'
        """
        unit = "" if self.by == "stops" else f" --by {self.by}"
        return f"--lighter {self.amount:g}{unit}"

    def __bool__(self) -> bool:
        return bool(self.amount)

    def __str__(self) -> str:
        return step_text(self.amount, self.by)


def tone_step(amount: float, by: str = "stops") -> ToneStep:
    """A tone step that is asked for; LabError for one that cannot be made, or finer than a hundredth."""
    refuse_step(amount, by)
    told = round(amount, 2) + 0.0
    if abs(told - amount) > 1e-6:
        raise LabError(f"a tone step is told to a hundredth: give {told:g}, and not {amount}.")
    return ToneStep(told, by)


def refuse_step(amount: float, by: str) -> None:
    """LabError for a unit there is not, and for a step that leaves no picture."""
    if by not in UNITS:
        raise LabError(f"tone steps are told in {' or in '.join(UNITS)}, not in “{by}”.")
    unit = UNITS[by]
    is_number = isinstance(amount, int | float)
    if not is_number or not abs(amount) <= unit.most:
        told = f"{amount:g}" if is_number else amount
        raise LabError(
            f"a tone step is a number of {unit.more} from -{unit.most:g} to {unit.most:g}, such as "
            f"{unit.apart:g}, and not {told}."
        )


def strip_steps(
    count: int, apart: float | None = None, first: float | None = None, by: str = "stops"
) -> tuple[ToneStep, ...]:
    """The tone steps of a test strip: so many, so far ``apart``, from ``first`` on, in the unit ``by``.

    Without a ``first`` it is one step darker than the picture, and all others but the picture's own are
    lighter: a print looks darker than its screen (common practice, no source). LabError for fewer than
    two steps, for steps that nobody could tell apart, and for one that cannot be made.

    >>> [step.amount for step in strip_steps(5)]
    [-0.3, 0.0, 0.3, 0.6, 0.9]
    """
    refuse_step(0, by)
    unit = UNITS[by]
    apart = unit.apart if apart is None else apart
    if count < 2 or not apart >= unit.least_apart:
        raise LabError(
            f"{count} steps, {apart:g} {unit.more} apart, make no test strip: give 2 steps or more, at least "
            f"{unit.least_apart:g} {unit.more} apart."
        )
    begin = -apart if first is None else first
    end = begin + apart * (count - 1)
    if not max(abs(begin), abs(end)) <= unit.most:
        raise LabError(
            f"{count} steps, {apart:g} {unit.more} apart, reach from {begin:g} to {end:g}, and a tone step "
            f"from -{unit.most:g} to {unit.most:g}: ask for fewer steps, or for closer ones."
        )
    return tuple(tone_step(round(begin + apart * each, 2), by) for each in range(count))
