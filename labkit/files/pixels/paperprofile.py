"""What a paper's profile says of itself, and of the paper."""

import struct
from dataclasses import dataclass, field
from datetime import datetime
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import ImageCms

from labkit.errors import LabError
from labkit.files.header.profile import name_of
from labkit.files.pixels.transform import lab_of

Lab = tuple[float, float, float]

_POINTS = 9
"""Points each way of the grid of device colours among which the darkest is looked for."""
_CLASSES = {
    "mntr": "a screen",
    "scnr": "a scanner or a camera",
    "spac": "a colour space",
    "link": "a chain of two devices",
    "abst": "an effect",
    "nmcl": "a list of named colours",
}
"""What the classes that are no printer's stand for (ICC.1:2010, clause 7.2.5)."""


@dataclass(frozen=True)
class PaperProfile:
    """The facts of a profile for one paper on one printer.

    ``device_class`` and ``space`` are the signs of the header ("prtr", "RGB "), ``date`` is None where none
    stands there. ``white`` is bare paper and ``black`` the darkest colour that it can carry, as absolute
    CIE L*a*b* under D50: as an instrument would read them. Both are None unless the profile is
    a printer's for RGB.
    """

    description: str
    device_class: str
    space: str
    date: datetime | None
    white: Lab | None
    black: Lab | None
    data: bytes = field(repr=False)

    @property
    def unfit(self) -> str:
        """Why it is no profile to print RGB files with, in a sentence; "" where it is."""
        if self.device_class != "prtr":
            of = _CLASSES.get(self.device_class, "no known device")
            return f"“{self.description}” is the profile of {of}, not of a printer: choose the paper's own."
        if self.space != "RGB ":
            return (
                f"“{self.description}” is a printer's profile for {self.space.strip()}, and this room prints "
                "RGB files: choose the one made for RGB."
            )
        return ""


def paper_profile(path: Path) -> PaperProfile:
    """Read the facts of a profile. LabError for a file that is missing, is no profile, or is damaged."""
    try:
        data = path.read_bytes()
    except OSError:
        raise LabError(f"there is no profile {path} that can be read: look at its name.") from None
    if data[36:40] != b"acsp":
        raise LabError(
            f"{path.name} is no colour profile (the sign of one is missing): choose a file that ends in "
            ".icc or .icm."
        )
    try:
        return _facts(data)
    except (OSError, LabError, ImageCms.PyCMSError, struct.error):
        raise LabError(f"{path.name} is damaged: copy it again from where it came.") from None


def _facts(data: bytes) -> PaperProfile:
    if int.from_bytes(data[:4]) > len(data):
        raise LabError("cut short")
    opened = ImageCms.ImageCmsProfile(BytesIO(data))
    facts = {
        "description": name_of(opened),
        "device_class": data[12:16].decode("latin-1"),
        "space": data[16:20].decode("latin-1"),
        "date": _date(data),
        "data": data,
    }
    plain = PaperProfile(**facts, white=None, black=None)
    if plain.unfit:
        return plain
    white, black = _ends(data)
    return PaperProfile(**facts, white=white, black=black)


def _date(data: bytes) -> datetime | None:
    """ICC.1:2010, clause 7.2.10: six numbers of 16 bits from byte 24."""
    try:
        return datetime(*struct.unpack_from(">6H", data, 24))
    except ValueError:
        return None


def _ends(data: bytes) -> tuple[Lab, Lab]:
    """White and the deepest black: ICC-absolute, through the colorimetric table."""
    steps = np.linspace(0, 1, _POINTS, dtype=np.float32)
    device = np.stack(np.meshgrid(steps, steps, steps), -1).reshape(1, -1, 3)
    lab = lab_of(device, data, intent="absolute")[0]
    return _tuple(lab[-1]), _tuple(lab[np.argmin(lab[:, 0])])


def _tuple(lab: np.ndarray) -> Lab:
    lightness, a, b = (float(part) for part in lab)
    return lightness, a, b
