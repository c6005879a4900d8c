"""A tone step: a picture made lighter or darker by a named amount at middle grey.

Black stays black and white stays white; in between the curve rises throughout, and nothing is clipped.
"""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from labkit.files.pixels.conversion import srgb_profile
from labkit.files.pixels.lab import D50, lab_of_xyz, xyz_of_lab
from labkit.files.pixels.transform import lab_of
from labkit.geometry.light import refuse_step

MIDDLE_LIGHTNESS = 50.0
"""CIE L* of middle grey."""
MIDDLE_LIGHT = float(xyz_of_lab((MIDDLE_LIGHTNESS, 0, 0))[1])
"""Its light, of white's: 0.184."""


@dataclass(frozen=True)
class Tone:
    """A curve for RGB of one profile: ``step``, in ``by`` ("stops" or "lightness"), is what it adds at
    middle grey; above 0 is lighter. Beyond 25 of lightness it would turn back. It acts on each channel
    alike, so that greys stay grey.
    """

    step: float
    by: str
    profile: bytes = field(repr=False)

    def __call__(self, rgb: np.ndarray) -> np.ndarray:
        """An array of RGB (…, 3), uint8 or uint16, with the step made: same shape, same depth."""
        return self._table16[rgb] if rgb.dtype == np.uint16 else self._table8[rgb]

    @cached_property
    def _table8(self) -> np.ndarray:
        return self.table(256).astype(np.uint8)

    @cached_property
    def _table16(self) -> np.ndarray:
        return self.table(65536).astype(np.uint16)

    def table(self, levels: int) -> np.ndarray:
        """What becomes of each of so many levels: rising, from 0 to the last, as whole numbers."""
        value = np.linspace(0, 1, levels)
        light = _light(value, self.profile)
        made = np.interp(self._curve(light), light, value)
        return np.round(made * (levels - 1)).astype(np.int64)

    def _curve(self, light: np.ndarray) -> np.ndarray:
        """What becomes of light, 0 to 1."""
        if self.by == "stops":
            middle, times = MIDDLE_LIGHT, 2**self.step
            slope = times * (1 - middle) / (1 - times * middle)  # at black; its inverse at white
            return slope * light / (1 + (slope - 1) * light)
        lightness = lab_of_xyz(_grey(light))[:, 0]
        lifted = lightness + 4 * self.step * lightness * (100 - lightness) / 100**2
        return xyz_of_lab(np.stack((lifted, 0 * lifted, 0 * lifted), -1))[:, 1]


def tone(step: float, by: str = "stops", *, profile: bytes | None = None) -> Tone:
    """The curve that makes RGB lighter by ``step``, or darker for a step below 0.

    ``by`` is one of :data:`labkit.geometry.light.UNITS`. ``profile`` is that of the pixels; sRGB where none
    is given. LabError for a unit there is not, or a step that leaves no picture.
    """
    refuse_step(step, by)
    return Tone(step, by, profile or srgb_profile())


def _light(value: np.ndarray, profile: bytes) -> np.ndarray:
    """The light of greys from 0 to 1 by a profile, of its white's less its black's; rising throughout."""
    grey = np.repeat(value[None, :, None], 3, -1)
    light = xyz_of_lab(lab_of(grey, profile)[0])[:, 1]
    light = np.maximum.accumulate(light)
    return (light - light[0]) / (light[-1] - light[0])


def _grey(light: np.ndarray) -> np.ndarray:
    """X, Y, Z of greys."""
    return light[:, None] * D50
