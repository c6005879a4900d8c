"""The tone curve that lies between a picture and a file made of it, whatever its shape, measured."""

from dataclasses import dataclass

import numpy as np

from labkit.files.pixels.lab import xyz_of_lab
from labkit.files.pixels.tone import MIDDLE_LIGHT, MIDDLE_LIGHTNESS, tone
from labkit.files.pixels.transform import lab_of
from labkit.geometry.light import UNITS

_MOST = UNITS["stops"].most
_BIN, _LEAST = 2.5, 8
"""How wide the steps of lightness are that the curve is read at, and how many patches tell one."""
_GREYISH, _FEWEST = 25.0, 400
"""Patches of no more chroma tell the curve, if there are so many: colours are moved otherwise than greys."""


@dataclass(frozen=True)
class Curve:
    """What became of CIE lightness: of each of ``was``, rising from 0 to 100, ``now``, float arrays (n,)."""

    was: np.ndarray
    now: np.ndarray

    @property
    def step(self) -> float:
        """By how many stops middle grey became lighter."""
        lightness = np.interp(MIDDLE_LIGHTNESS, self.was, self.now)
        light = float(xyz_of_lab((lightness, 0, 0))[1])
        return float(np.log2(max(light, 1e-4) / MIDDLE_LIGHT))

    def on(self, rgb: np.ndarray, profile: bytes) -> np.ndarray:
        """The curve on every channel of RGB from 0 to 1, as an editor does it: an array of the same shape."""
        level, lightness = _greys(profile)
        made = np.interp(np.interp(lightness, self.was, self.now), lightness, level)
        return np.interp(rgb, level, made)

    def bent(self, profile: bytes) -> float:
        """By how much lightness it is off the tone step of the same size, where it is off most."""
        level, lightness = _greys(profile)
        step = tone(float(np.clip(self.step, -_MOST, _MOST)), profile=profile).table(len(level))
        wanted = np.interp(step / (len(level) - 1), level, lightness)
        return float(np.abs(np.interp(lightness, self.was, self.now) - wanted).max())


def curve_between(was: np.ndarray, now: np.ndarray) -> Curve:
    """The curve that made the patches ``now`` of what they were: CIE L*a*b*, both float arrays (…, 3).

    Black and white are taken to have stayed, unless patches say otherwise.
    """
    was, now = was.reshape(-1, 3), now.reshape(-1, 3)
    greyish = np.hypot(was[:, 1], was[:, 2]) <= _GREYISH
    if greyish.sum() >= _FEWEST:
        was, now = was[greyish], now[greyish]
    bins = np.round((was[:, 0] - MIDDLE_LIGHTNESS) / _BIN)
    points = [(0.0, 0.0)]
    for each in np.unique(bins):
        inside = bins == each
        place = float(np.median(was[inside, 0]))
        if inside.sum() >= _LEAST and 0 < place < 100:
            points.append((place, float(np.median(now[inside, 0]))))
    before, after = np.array([*points, (100.0, 100.0)]).T
    return Curve(before, np.maximum.accumulate(after))


def _greys(profile: bytes) -> tuple[np.ndarray, np.ndarray]:
    """Greys of a profile from 0 to 1, and the lightness of each, rising: float arrays (256,)."""
    level = np.linspace(0, 1, 256)
    lightness = lab_of(np.repeat(level[None, :, None], 3, -1), profile)[0, :, 0]
    return level, np.maximum.accumulate(lightness)
