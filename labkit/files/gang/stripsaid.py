"""What a test strip says of itself, in its file's description: of what, for which paper, which steps.

On a sheet that several prints share each strip keeps it, with the number of the piece it is, so that whoever
looks the sheet over can hold its pixels against the picture.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from labkit.files.gang.statement import sum_of
from labkit.files.header.tiff_reader import description_of
from labkit.geometry.length import Length
from labkit.geometry.light import UNITS, ToneStep

if TYPE_CHECKING:
    import numpy as np

    from labkit.files.gang.sources import Laid

_NUMBER, _PART = r"-?\d{1,3}(?:\.\d{1,2})?", r"\d{1,20}(?:/[1-9]\d{0,19})?"
_SAID = re.compile(
    r'Test strip (\d{1,4}) of "([^"]*)" by "([^"]*)" for "([^"]*)": '
    rf"steps ({_NUMBER}(?: {_NUMBER}){{0,49}}) in ({'|'.join(UNITS)}), "
    rf"shown at ({_PART}) ({_PART}) of a print ({_PART}) in wide, "
    r"(\d{1,7})x(\d{1,7}) pixels (upright|turned), sum ([0-9a-f]{8})\."
)


@dataclass(frozen=True, slots=True)
class StripSaid:
    """A test strip: whose it is and of what, for a print so wide on a ``paper``.

    ``at`` is the place of the picture that is shown, in fractions across and down. The strip is ``size``
    pixels wide and high, and these have the checksum ``total``. It is piece ``number`` of its sheet, where it
    may lie a quarter turn clockwise.
    """

    title: str
    owner: str
    paper: str
    steps: tuple[ToneStep, ...]
    at: tuple[Fraction, Fraction]
    width: Length
    size: tuple[int, int]
    total: int
    number: int = 1
    is_turned: bool = False

    def text(self) -> str:
        """As it stands in the description."""
        title, owner, paper = (_quoted(each) for each in (self.title, self.owner, self.paper))
        steps = " ".join(f"{step.amount:g}" for step in self.steps)
        (across, down), (wide, high) = self.at, self.size
        lies = "turned" if self.is_turned else "upright"
        return (
            f"Test strip {self.number} of {title} by {owner} for {paper}: steps {steps} in "
            f"{self.steps[0].by}, shown at {across} {down} of a print {self.width.inches} in wide, "
            f"{wide}x{high} pixels {lies}, sum {self.total:08x}."
        )


def read_strips(description: str) -> list[StripSaid]:
    """The test strips that a description tells of."""
    return [
        StripSaid(
            title,
            owner,
            paper,
            tuple(ToneStep(float(step), by) for step in steps.split()),
            (Fraction(across), Fraction(down)),
            Length(Fraction(width)),
            (int(wide), int(high)),
            int(total, 16),
            int(number),
            lies == "turned",
        )
        for (
            number, title, owner, paper, steps, by, across, down, width, wide, high, lies, total
        ) in _SAID.findall(description)
    ]  # fmt: skip


def strips_among(pieces: "Sequence[Laid]") -> list[StripSaid]:
    """In a guarded child: the test strips among pieces that share a sheet, as they lie there."""
    found = []
    for number, laid in enumerate(pieces, 1):
        if laid.recipe:
            continue
        for said in read_strips(description_of(laid.picture)):
            if said.size == laid.picture.pixels:  # it is the strip, and no sheet with strips on it
                found.append(replace(said, number=number, is_turned=laid.turned))
    return found


def sum_of_strip(values: "np.ndarray") -> int:
    """The checksum of a strip's pixels as it stands upright: (rows, columns, 3), uint8 or uint16."""
    return sum_of(values.astype(values.dtype.newbyteorder("<")))


def _quoted(text: str) -> str:
    return '"' + " ".join(text.replace('"', "'").split()) + '"'
