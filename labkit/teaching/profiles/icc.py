"""Write a profile: a printer's with tables, or of given tags.

Types and tags have their names from ICC.1:2001-04 (version 2.4).
"""

import struct
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from labkit.files.pixels.lab import D50

RIGHTS = "Invented for teaching; no measurement of any paper. Use it as you like."
_TOP = 65535
_LAB_FULL = 652.8, 256.0, 256.0
"""16-bit counts of a unit of L, a and b, as lut16Type has them: L 100 is FF00h, a of 0 is 8000h."""
_LAB_ZERO = np.array((0, 128, 128))
_LAB_ENTRIES = 258
"""So many entries of an input curve lie 255 counts apart, and one of them is FF00h exactly."""


@dataclass(frozen=True)
class Table:
    """A lut16Type: a grid of ``points`` each way, three channels in.

    ``grid``: uint16 of shape (points, points, points, channels out), the first channel in slowest.
    ``curves``: uint16 of shape (3, entries), what is done to each channel before the grid is read.
    """

    grid: np.ndarray
    curves: np.ndarray

    def bytes(self) -> bytes:
        """The tag as it is stored."""
        points, channels = self.grid.shape[0], self.grid.shape[-1]
        unit = [65536, 0, 0, 0, 65536, 0, 0, 0, 65536]
        head = struct.pack(">4s4xBBBx9i", b"mft2", 3, channels, points, *unit)
        entries = struct.pack(">HH", self.curves.shape[1], 2)
        straight = np.tile(np.array((0, _TOP)), (channels, 1))
        values = (self.curves, self.grid, straight)
        return head + entries + b"".join(part.astype(">u2").tobytes() for part in values)


def of_device(points: int, lab_of) -> Table:
    """A table from device RGB to Lab; ``lab_of`` takes device colours (n, 3) from 0 to 1 to Lab (n, 3)."""
    device = lattice(points)
    counts = (lab_of(device) + _LAB_ZERO) * _LAB_FULL
    return Table(_counts(counts, points), np.tile(np.array((0, _TOP)), (3, 1)))


def of_lab(points: int, of) -> Table:
    """A table from Lab to device; ``of`` takes Lab (n, 3) to values (n, channels) from 0 to 1.

    The grid lies closer where most colours are: within 64 of grey on a and b. L ends at 100.
    """
    L, a, b = np.moveaxis(lattice(points), -1, 0)
    lab = np.stack((100 * L, 128 * _open(2 * a - 1), 128 * _open(2 * b - 1)), -1)
    at = np.arange(_LAB_ENTRIES) * 255
    light = np.minimum(at / 0xFF00, 1)
    colour = (1 + _closer((at - 0x8000) / 0x8000)) / 2
    curves = np.round(np.stack((light, colour, colour)) * _TOP).clip(0, _TOP)
    return Table(_counts(of(lab) * _TOP, points), curves)


def lattice(points: int) -> np.ndarray:
    """All colours of a grid from 0 to 1, (points³, 3), the first channel slowest."""
    steps = np.linspace(0, 1, points)
    return np.stack(np.meshgrid(steps, steps, steps, indexing="ij"), -1).reshape(-1, 3)


def profile(
    name: str, rights: str, date: datetime, white: np.ndarray, tables: dict[str, Table]
) -> bytes:
    """A whole printer's profile: class ``prtr``, RGB, through Lab.

    ``white`` is X, Y, Z of bare paper; ``tables`` go by their signatures.
    """
    stored = {signature: table.bytes() for signature, table in tables.items()}
    return of_tags(name, rights, date, white, stored, b"prtr", b"Lab ")


def of_tags(
    name: str,
    rights: str,
    date: datetime,
    white: np.ndarray,
    stored: dict[str, bytes],
    kind: bytes,
    through: bytes,
) -> bytes:
    """A profile for RGB with these tags besides its name, its rights and its white.

    ``kind`` is its class and ``through`` its connection space, as the header has them.
    """
    tags = {
        "desc": _description(name),
        "cprt": b"text\0\0\0\0" + rights.encode("ascii") + b"\0",
        "wtpt": xyz(white),
        **stored,
    }
    start = 128 + 4 + 12 * len(tags)
    index, body = struct.pack(">I", len(tags)), b""
    for signature, data in tags.items():
        index += struct.pack(">4sII", signature.encode(), start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    return _header(start + len(body), date, kind, through) + index + body


def xyz(numbers: np.ndarray) -> bytes:
    """XYZType: X, Y and Z."""
    return b"XYZ \0\0\0\0" + _fixed(numbers)


def _header(size: int, date: datetime, kind: bytes, through: bytes) -> bytes:
    """Clause 6.1."""
    head = bytearray(128)
    struct.pack_into(">I", head, 0, size)
    struct.pack_into(">I4s4s4s", head, 8, 0x02400000, kind, b"RGB ", through)
    struct.pack_into(">6H4s", head, 24, *date.timetuple()[:6], b"acsp")
    head[68:80] = _fixed(D50)
    return bytes(head)


def _description(name: str) -> bytes:
    """textDescriptionType: ASCII only, the two other forms empty."""
    ascii_ = name.encode("ascii") + b"\0"
    return struct.pack(">4s4xI", b"desc", len(ascii_)) + ascii_ + bytes(4 + 4 + 2 + 1 + 67)


def _fixed(numbers: np.ndarray) -> bytes:
    """s15Fixed16Number: 16 bits behind the point."""
    return np.round(np.asarray(numbers) * 65536).astype(">i4").tobytes()


def _counts(values: np.ndarray, points: int) -> np.ndarray:
    return np.round(values).clip(0, _TOP).astype(np.uint16).reshape(points, points, points, -1)


def _closer(part: np.ndarray) -> np.ndarray:
    """From -1 to 1: half the range takes three quarters of the grid."""
    return np.where(np.abs(part) <= 0.5, 1.5 * part, 0.5 * part + np.copysign(0.5, part))


def _open(part: np.ndarray) -> np.ndarray:
    """The opposite of :func:`_closer`."""
    return np.where(np.abs(part) <= 0.75, part / 1.5, 2 * part - np.copysign(1, part))
