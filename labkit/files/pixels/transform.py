"""Colours taken from one profile to another, at 16 bits or in floating point.

By littleCMS through imagecodecs, which hands it 16-bit and floating-point numbers; through Pillow it
takes 8 bits only. Its optimisation is off, because it rounds tables that are meant to be exact.
"""

from functools import cache

import numpy as np
from PIL import ImageCms

from labkit.errors import LabError

INTENTS = {"perceptual": 0, "relative": 1, "saturation": 2, "absolute": 3}
"""ICC.1:2010, table 23."""
_SPACES = {b"RGB ": "rgb", b"Lab ": "lab", b"GRAY": "gray", b"CMYK": "cmyk"}
"""The names imagecodecs has for the colour spaces of a header (ICC.1:2010, clause 7.2.6)."""


@cache
def lab_profile() -> bytes:
    """A profile of CIE L*a*b* under D50."""
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()


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
    in which RGB and grey run from 0 to 1 and Lab as CIE has it. ``dtype`` is what comes out, in words of
    numpy. ``black_point``: black is taken to black (black point compensation). LabError for a
    profile that cannot be used so.
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
