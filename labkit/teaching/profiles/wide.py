"""An invented wide RGB: a space for pictures whose colours reach further out than those of sRGB."""

import struct
from datetime import datetime
from functools import cache

import numpy as np

from labkit.files.pixels.lab import D50
from labkit.teaching.profiles import icc

NAME = "Quillmarsh wide RGB (invented for teaching)"
GAMMA = 2.2
PRIMARIES = np.array(((0.72, 0.275), (0.17, 0.75), (0.14, 0.05)))
"""x and y of its red, green and blue under D50: none of them a published space's."""
_CURVE = struct.pack(">4s4xIH", b"curv", 1, round(GAMMA * 256)) + bytes(2)
"""curveType with one entry, a u8Fixed8Number: ICC.1:2001-04, clause 6.5.3."""


@cache
def wide_profile() -> bytes:
    """The bytes of its profile: three columns and a power, the same every time."""
    columns = np.array([(x / y, 1, (1 - x - y) / y) for x, y in PRIMARIES]).T
    columns = columns * np.linalg.solve(columns, D50)
    tags = {
        **{f"{each}XYZ": icc.xyz(column) for each, column in zip("rgb", columns.T, strict=True)},
        **{f"{each}TRC": _CURVE for each in "rgb"},
    }
    return icc.of_tags(NAME, icc.RIGHTS, datetime(2026, 1, 5), D50, tags, b"mntr", b"XYZ ")
