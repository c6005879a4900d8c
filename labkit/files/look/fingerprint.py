"""A picture in few bytes: the same picture again is known by it, on whatever sheet and however packed."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from labkit.geometry.pixelbox import PixelBox

if TYPE_CHECKING:
    import numpy as np

    from labkit.files.pixels.decode import Pixels

_PATCHES = 16
_SAMPLED = 1000
"""Pixels along the shorter side that are averaged, at least, where there are as many."""
_FLAT = 2.0
"""Levels by which patches must vary to tell a picture from any other of one colour."""
_MEAN, _MOST, _SHARE = 2.0, 12, 0.1
"""How far two pictures' patches may be apart, in levels, to be the same one: on the average, at most, and
on the average as a share of how much they vary. The same picture as JPEG of quality 50 to 85, or in half
to one and a third as many pixels each way, was off by 0.7 and 7 at most; cut narrower by 2 % a side, by
2.5 and 27 at least; with something as wide as a tenth of it put in, by 83 at the most changed patch
(measured on six pictures of 450 to 1600 pixels)."""


_ROUNDING = 1e-6
"""Levels: more than an average of patches is off in floating point."""


def fingerprint(pixels: "Pixels", box: PixelBox) -> str:
    """The picture in ``box`` averaged down to 16 × 16 patches, as hexadecimal digits.

    It outlasts another sheet, another resolution and lossy packing: compare with :func:`are_alike`.
    "" for a picture of one colour, which tells nothing.
    """
    import numpy as np
    from PIL import Image

    step = max(1, min(box.width, box.height) // _SAMPLED)
    sample = pixels.sample((box.left, box.top, box.right, box.bottom), step)
    small = Image.fromarray(np.ascontiguousarray(sample))
    found = np.asarray(small.resize((_PATCHES, _PATCHES), Image.Resampling.BOX)).astype(float)
    if found.std(axis=(0, 1)).mean() < _FLAT:
        return ""
    return found.round().astype("uint8").tobytes().hex()


def are_alike(one: str, other: str) -> bool:
    """Whether two fingerprints are those of the same picture; one that is "" never is."""
    if not (one and other):
        return False
    values, variety = _unpacked([one, other])
    return bool(_alike(values, variety, 0, 2)[0])


def _unpacked(prints: Sequence[str]) -> tuple["np.ndarray", "np.ndarray"]:
    """The patches of each fingerprint in a row, and how much they vary."""
    import numpy as np

    joined = np.frombuffer(bytes.fromhex("".join(prints)), np.uint8)
    values = joined.reshape(len(prints), -1, 3)
    return values.reshape(len(prints), -1).astype(np.int16), values.std(axis=1).mean(axis=1)


def _alike(values: "np.ndarray", variety: "np.ndarray", at: int, end: int) -> "np.ndarray":
    """Which of the rows behind ``at`` and before ``end`` are alike to it."""
    off = abs(values[at + 1 : end] - values[at])
    most = variety[at + 1 : end].clip(max=min(variety[at], _MEAN / _SHARE)) * _SHARE
    return (off.mean(axis=1) <= most) & (off.max(axis=1, initial=0) <= _MOST)


def pictures_by_print(prints: Iterable[str]) -> dict[str, int]:
    """A number for each picture by its fingerprints.

    Two pictures whose averages are farther apart than their patches may be are never compared.
    """
    import numpy as np

    known = sorted({found for found in prints if found})
    if not known:
        return {}
    values, variety = _unpacked(known)
    order = values.mean(axis=1).argsort(kind="stable")
    values, variety = values[order], variety[order]
    average = values.mean(axis=1)
    ends = np.searchsorted(average, average + _MEAN + _ROUNDING, side="right")
    first = list(range(len(known)))

    def root(row: int) -> int:
        while first[row] != row:
            first[row] = row = first[first[row]]
        return row

    for at, end in enumerate(ends):
        for behind in np.flatnonzero(_alike(values, variety, at, end)):
            first[root(at + 1 + int(behind))] = root(at)
    return {known[which]: root(row) for row, which in enumerate(order)}
