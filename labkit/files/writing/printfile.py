"""The record of a print file, and how a finished file gets its name without taking another's."""

import os
from dataclasses import dataclass
from pathlib import Path

from labkit.errors import LabError
from labkit.geometry.layout import Layout
from labkit.geometry.raster import Raster
from labkit.geometry.resolution import ppi_text

SOFTWARE = "labkit"
"""What a print file says of the program that made it, in the standard tag."""


@dataclass(frozen=True)
class PrintFile:
    """A written print file: where it is, what is in it, and what was done to make it.

    ``converted`` and ``warnings`` are whole sentences. ``depth`` is in bits a channel. ``lighter`` is the
    tone step that was asked for, in stops at middle grey.
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
    lighter: float = 0.0

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


def publish(part: Path, target: Path, *, replace: bool) -> None:
    """Give a finished ``.part`` its final name; never over an existing file unless ``replace``.

    LabError if the name is taken; the part is left for the caller to remove.
    """
    if replace:
        os.replace(part, target)
        return
    try:
        os.link(part, target)
    except FileExistsError:
        raise taken(target) from None
    except OSError:  # a file system without hard links
        try:
            os.close(os.open(target, os.O_CREAT | os.O_EXCL))
        except FileExistsError:
            raise taken(target) from None
        os.replace(part, target)
    else:
        os.unlink(part)


def taken(target: Path) -> LabError:
    """The refusal to overwrite."""
    return LabError(
        f"{target.name} already exists in {target.parent}: nothing was overwritten. "
        "Give another title, another folder, or ask to replace it."
    )
