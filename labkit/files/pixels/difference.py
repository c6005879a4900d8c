"""How different two colours look: CIEDE2000."""

import numpy as np


def delta_e(lab: np.ndarray, other: np.ndarray) -> np.ndarray:
    """The CIEDE2000 difference of two colours, or of two arrays of colours.

    Both are CIE L*a*b* in floating point, L, a and b in the last axis (…, 3), of shapes that broadcast;
    the result is float64 without that axis. About 1 is just seen side by side. All three weights (k) are
    1. ISO/CIE 11664-6; written from Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula",
    Color Research & Application 30 (2005), equations 2 to 22.
    """
    lightness, a, b = np.moveaxis(np.asarray(lab, np.float64), -1, 0)
    lightness_2, a_2, b_2 = np.moveaxis(np.asarray(other, np.float64), -1, 0)
    stretch = 1.5 - 0.5 * _saturation((np.hypot(a, b) + np.hypot(a_2, b_2)) / 2)
    chroma, hue = np.hypot(stretch * a, b), np.arctan2(b, stretch * a)
    chroma_2, hue_2 = np.hypot(stretch * a_2, b_2), np.arctan2(b_2, stretch * a_2)

    apart, between = _hues(hue, hue_2, either_grey=chroma * chroma_2 == 0)
    mean_l, mean_c = (lightness + lightness_2) / 2, (chroma + chroma_2) / 2
    d_l = (lightness_2 - lightness) / (1 + _valley(mean_l))
    d_c = (chroma_2 - chroma) / (1 + 0.045 * mean_c)
    d_h = (
        2 * np.sqrt(chroma * chroma_2) * np.sin(apart / 2) / (1 + 0.015 * mean_c * _by_hue(between))
    )
    # rounding may leave a hair below nothing
    return np.sqrt(
        np.maximum(0, d_l**2 + d_c**2 + d_h**2 + _blue_turn(mean_c, between) * d_c * d_h)
    )


def _saturation(chroma: np.ndarray) -> np.ndarray:
    """From 0 for grey to 1 for the strongest colours."""
    return np.sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _hues(hue, hue_2, either_grey) -> tuple[np.ndarray, np.ndarray]:
    """The shorter way from one hue to the other, and the hue halfway, in radians; grey has no hue."""
    straight = hue_2 - hue
    around = straight - 2 * np.pi * np.round(straight / (2 * np.pi))
    apart = np.where(either_grey, 0, around)
    return apart, np.where(either_grey, hue + hue_2, hue + around / 2)


def _valley(lightness: np.ndarray) -> np.ndarray:
    """Differences of lightness count most at middle grey."""
    off = (lightness - 50) ** 2
    return 0.015 * off / np.sqrt(20 + off)


def _by_hue(hue: np.ndarray) -> np.ndarray:
    """Differences of hue count more in some hues than in others (T)."""
    return (
        1
        - 0.17 * np.cos(hue - np.radians(30))
        + 0.24 * np.cos(2 * hue)
        + 0.32 * np.cos(3 * hue + np.radians(6))
        - 0.20 * np.cos(4 * hue - np.radians(63))
    )


def _blue_turn(chroma: np.ndarray, hue: np.ndarray) -> np.ndarray:
    """In the blues hue and chroma act together (R_T)."""
    off = np.degrees(hue) % 360 - 275
    return -2 * _saturation(chroma) * np.sin(np.radians(60) * np.exp(-((off / 25) ** 2)))
