"""The record of a print file."""

from dataclasses import dataclass
from pathlib import Path

from labkit.geometry.layout import Layout
from labkit.geometry.light import ToneStep
from labkit.geometry.parts import Part
from labkit.geometry.raster import Raster
from labkit.geometry.resolution import ppi_text

SOFTWARE = "labkit"
"""What a print file says of the program that made it, in the standard tag."""


@dataclass(frozen=True)
class PrintFile:
    """A written print file: where it is, what is in it, and what was done to make it.

    ``converted`` and ``warnings`` are whole sentences. ``depth`` is in bits a channel. ``lighter`` is the
    tone step that was asked for, None where none was. ``part`` says which part of a picture it is, where
    that is divided. ``prints`` to be cut apart lie on it.
    """

    file: Path
    layout: Layout
    raster: Raster
    owner: str
    title: str
    profile: str
    depth: int
    bytes: int
    converted: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    lighter: ToneStep | None = None
    part: Part | None = None
    prints: int = 1

    def sentence(self, first: str = "in") -> str:
        """What was made, in words."""
        return (
            f"{self.file.name}: {self.raster.sheet[0]} × {self.raster.sheet[1]} pixels at "
            f"{ppi_text(self.raster.ppi)}, {self.profile}. {self.layout.sentence(first)}"
        )

    def __str__(self) -> str:
        return self.sentence()

    def _repr_pretty_(self, printer, cycle):
        printer.text(str(self))
