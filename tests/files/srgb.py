"""sRGB by its formulas alone (IEC 61966-2-1), to compare colours with that no profile has touched."""

import numpy as np

D50 = np.array((0.9642, 1.0, 0.8249))
"""White of the profile connection space: ICC.1, clause 7.2.16."""
D65 = np.array((0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290))
PRIMARIES = np.array(((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)))
"""x, y of red, green and blue: IEC 61966-2-1."""
BRADFORD = np.array(
    ((0.8951, 0.2664, -0.1614), (-0.7502, 1.7135, 0.0367), (0.0389, -0.0685, 1.0296))
)
"""ICC.1:2010, annex E."""


def linear(value):
    """Light of a value from 0 to 1: V/12.92 up to 0.04045, above it ((V + 0.055)/1.055)^2.4."""
    value = np.asarray(value, float)
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def encoded(light):
    """The value of light from 0 to 1: 12.92 L up to 0.0031308, above it 1.055 L^(1/2.4) − 0.055."""
    light = np.clip(np.asarray(light, float), 0, 1)
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def xyz_of_rgb() -> np.ndarray:
    """Linear sRGB to XYZ, adapted from D65 to D50."""
    columns = np.array([(x / y, 1, (1 - x - y) / y) for x, y in PRIMARIES]).T
    matrix = columns * np.linalg.solve(columns, D65)
    cones = (BRADFORD @ D50) / (BRADFORD @ D65)
    return np.linalg.inv(BRADFORD) @ np.diag(cones) @ BRADFORD @ matrix


def of_lab(lab) -> np.ndarray:
    """8-bit sRGB of CIE L*a*b* under D50 (CIE 15; relative colorimetric), not rounded."""
    lightness, a, b = np.moveaxis(np.asarray(lab, float), -1, 0)
    y = (lightness + 16) / 116
    f = np.stack((y + a / 500, y, y - b / 200), -1)
    ratio = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29))
    light = (ratio * D50) @ np.linalg.inv(xyz_of_rgb()).T
    return encoded(light) * 255
