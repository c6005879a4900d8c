"""Colours taken from one profile to another, at 16 bits or in floating point.

By littleCMS through imagecodecs, which hands it 16-bit and floating-point numbers; through Pillow it
takes 8 bits only. Its optimisation is off, because it rounds tables that are meant to be exact.
"""

from functools import cache

import numpy as np
from PIL import ImageCms

from labkit.errors import LabError
from labkit.files.pixels.lab import lab_of_xyz, xyz_of_lab

INTENTS = {"perceptual": 0, "relative": 1, "saturation": 2, "absolute": 3}
"""ICC.1:2010, table 23."""
_SPACES = {b"RGB ": "rgb", b"Lab ": "lab", b"XYZ ": "xyz", b"GRAY": "gray", b"CMYK": "cmyk"}
"""The names imagecodecs has for the colour spaces of a header (ICC.1:2010, clause 7.2.6)."""


def transform(
    values: np.ndarray,
    source: bytes,
    target: bytes,
    *,
    intent: str = "relative",
    black_point: bool = False,
    dtype: str = "f4",
) -> np.ndarray:
    """Colours of the profile ``source`` as colours of the profile ``target``.

    ``values``: (rows, columns, channels), (rows, columns) for grey; uint8 or uint16, or float32 or float64,
    in which RGB and grey run from 0 to 1, and X, Y and Z as CIE has them, Y of white being 1. ``dtype``:
    what comes out, in numpy's words. ``black_point``: black is taken to black (black point compensation).
    LabError for a profile that cannot be used so.
    """
    import imagecodecs

    flags = imagecodecs.CMS.FLAGS.NOOPTIMIZE | imagecodecs.CMS.FLAGS.NOCACHE
    if black_point:
        flags |= imagecodecs.CMS.FLAGS.BLACKPOINTCOMPENSATION
    try:
        return imagecodecs.cms_transform(
            np.ascontiguousarray(values),
            source,
            target,
            colorspace=_SPACES[source[16:20]],
            outcolorspace=_SPACES[target[16:20]],
            outdtype=dtype,
            intent=INTENTS[intent],
            flags=flags,
        )
    except (KeyError, imagecodecs.CmsError):
        raise LabError(
            "a colour profile cannot be used: it is damaged, or lacks the tables for this way. Have it made "
            "or exported again."
        ) from None


def lab_of(values: np.ndarray, source: bytes, *, intent: str = "relative") -> np.ndarray:
    """Colours of a profile as CIE L*a*b* under D50: float64, (rows, columns, 3).

    By X, Y and Z, because a profile of Lab itself has tables of 16 bits.
    """
    return lab_of_xyz(transform(values, source, _xyz_profile(), intent=intent, dtype="f8"))


def of_lab(lab: np.ndarray, target: bytes, *, intent: str = "relative") -> np.ndarray:
    """CIE L*a*b* under D50 (rows, columns, 3) as colours of a profile: float32, RGB from 0 to 1."""
    return transform(xyz_of_lab(lab), _xyz_profile(), target, intent=intent)


@cache
def _xyz_profile() -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("XYZ")).tobytes()
