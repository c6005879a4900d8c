"""CIE L*a*b* and CIE XYZ, each from the other."""

import numpy as np

D50 = np.array((0.9642, 1.0, 0.8249))
"""White of the profile connection space: ICC.1:2010, clause 7.2.16."""

_JOINT = 6 / 29


def lab_of_xyz(xyz: np.ndarray) -> np.ndarray:
    """CIE 15: L*a*b* of X, Y, Z under D50 (Y of white is 1); both are float arrays of shape (…, 3)."""
    ratio = np.asarray(xyz, np.float64) / D50
    f = np.where(ratio > _JOINT**3, np.cbrt(ratio), ratio / (3 * _JOINT**2) + 4 / 29)
    x, y, z = np.moveaxis(f, -1, 0)
    return np.stack((116 * y - 16, 500 * (x - y), 200 * (y - z)), -1)


def xyz_of_lab(lab: np.ndarray) -> np.ndarray:
    """The other way: X, Y, Z of L*a*b* under D50; both are float arrays of shape (…, 3)."""
    lightness, a, b = np.moveaxis(np.asarray(lab, np.float64), -1, 0)
    y = (lightness + 16) / 116
    f = np.stack((y + a / 500, y, y - b / 200), -1)
    return np.where(f > _JOINT, f**3, 3 * _JOINT**2 * (f - 4 / 29)) * D50
