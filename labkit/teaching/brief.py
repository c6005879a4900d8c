"""What an exercise asks: drawn from the reader's name, so that each has their own, and solvable."""

import random
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from pathlib import Path

from labkit.errors import LabError
from labkit.files.name import file_name
from labkit.geometry.layout import PLACES, Layout, lay_out
from labkit.geometry.length import Length
from labkit.geometry.raster import Raster, rasterize
from labkit.geometry.resolution import ppi_text
from labkit.room import Room
from labkit.teaching.pictures import DemoPicture

_AT = {
    "centre": "in the centre of the sheet",
    "optical": "at the optical centre (the spare white divided 2 : 3, less above than below)",
    "even-three": "with equal borders on the left, on the right and above, and the rest below",
}
_STEP = Length(Fraction(1, 4))
_LEAST_BORDER = Length(Fraction(1, 2))


@dataclass(frozen=True)
class Brief:
    """One reader's task: a picture, the layout wanted, and the name the file is to have.

    ``at`` is the place in words, ``stem`` the file's name without its ending, ``raster`` the task in
    pixels at the room's working ppi.
    """

    reader: str
    picture: Path
    pixels: tuple[int, int]
    title: str
    at: str
    layout: Layout
    raster: Raster
    stem: str

    def sentence(self, first: str = "in") -> str:
        """The task in words."""
        lies = "lying on its side" if self.layout.sheet.is_turned else "upright"
        return (
            f"Print “{self.title}” {self.layout.picture.width.both(first)} wide on a sheet of "
            f"{self.layout.sheet}, {lies}, {_AT[self.at]}."
        )

    def card(self) -> tuple[str, ...]:
        """The same by hand, in any editor: one step a line."""
        sheet, box = self.raster.sheet, self.raster.picture
        return (
            f"Open {self.picture.name}. Resample it to {box.width} × {box.height} pixels, proportions "
            "locked.",
            f"Make a new blank file: {sheet[0]} × {sheet[1]} pixels, {ppi_text(self.raster.ppi)}, RGB, sRGB, "
            "8 bits, pure white.",
            f"Put the picture in: its left edge at {box.left} pixels, its top edge at {box.top} pixels.",
            "Flatten to one layer.",
            f"Save as TIFF, LZW, with the profile embedded, under the name {self.stem}.tif.",
        )


def margins_brief(
    reader: str, pictures: tuple[tuple[DemoPicture, tuple[int, int]], ...], room: Room
) -> Brief:
    """The task of the lesson on margins for ``reader``: size and place, on a sheet in stock.

    ``pictures`` are those to choose from, each with its size in pixels. LabError without a name.
    """
    if not reader.strip():
        raise LabError("give your name first: the task is drawn from it, and the file carries it.")
    chance = _chance("margins", reader)
    while True:
        picture, pixels = chance.choice(pictures)
        sheet = chance.choice(room.sheets)
        sheet = sheet.turned() if chance.random() < 0.4 else sheet
        at = chance.choice(PLACES)
        most = min(sheet.width, Length(Fraction(pixels[0], room.working_ppi)))
        width = _STEP * chance.randint(4 * 4, max(4 * 4, int(most / _STEP)))
        try:
            layout = lay_out(pixels, sheet, unprintable=room.unprintable(sheet), width=width, at=at)
        except LabError:
            continue
        if min(border for _, border in layout.borders.items()) >= _LEAST_BORDER:
            break
    stem = file_name(room.name_pattern, owner=reader, title=picture.title, sheet_label=sheet.label)
    raster = rasterize(layout, pixels, working_ppi=room.working_ppi)
    return Brief(reader.strip(), picture.file, pixels, picture.title, at, layout, raster, stem)


def _chance(lesson: str, reader: str) -> random.Random:
    """The same draws for the same reader, on every machine."""
    plain = " ".join(reader.casefold().split())
    return random.Random(sha256(f"{lesson}: {plain}".encode()).digest())
