"""What the guarded child does for a job of several prints: write the file they share, read it back.

The parent imports this module too, so whatever is heavy is imported where it is used.
"""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.header.picture import Picture
from labkit.geometry.box import Box
from labkit.geometry.paper import Sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import Raster, pixel_box
from labkit.job.making import unwritable
from labkit.room.rules import Room


@dataclass(frozen=True)
class GangPage:
    """One print file: its ``sheet``, what of it can be printed, its ppi and depth.

    ``pieces`` are pictures with their place, whether they lie turned, and their slug's words.
    """

    sheet: Sheet
    printable: Box
    ppi: Fraction
    depth: int
    pieces: tuple[tuple[Picture, Box, bool, tuple], ...]
    job: str


def make_gang(page: GangPage, room: Room, part: Path) -> dict:
    """In the child: write the file strip by strip, and read every strip back."""
    from labkit.files.checks.read_back import disk_findings
    from labkit.files.gang.slug import Slug
    from labkit.files.gang.strips import GangStrips, Laid
    from labkit.files.writing.tiff import Labels, write_strips

    size = page.sheet.width.pixels(page.ppi), page.sheet.height.pixels(page.ppi)
    laid = [
        Laid(picture, _place(picture, box, turned, page.ppi), turned, Slug(*slug))
        for picture, box, turned, slug in page.pieces
    ]
    strips = GangStrips(laid, size, pixel_box(page.printable, page.ppi), page.ppi, page.depth)
    whole = PixelBox(0, 0, *size)
    raster = Raster(page.ppi, page.ppi, size, whole, (0, 0, *size), resampled=False)
    titles = "; ".join(f"{slug[1]}, by {slug[0]}" for *_, slug in page.pieces)
    said = strips.statement()
    told = f"{len(laid)} prints, job {page.job}: {titles}. {said.text()}"
    labels = Labels(f"job {page.job}", "prints to be cut apart", told, laid[0].picture.profile)
    try:
        written = write_strips(part, strips, raster, labels, room.colour.packing_for(page.depth))
        if next(disk_findings(part, written), None):
            raise LabError("the file did not read back as it was written: try again.")
        return {"bytes": part.stat().st_size}
    except OSError as error:
        raise unwritable(part.parent, error) from None


def _place(picture: Picture, box: Box, turned: bool, ppi: Fraction) -> PixelBox:
    """A piece in pixels: its corner rounded, its size the picture's own."""
    wide, high = picture.pixels[::-1] if turned else picture.pixels
    return PixelBox(box.left.pixels(ppi), box.top.pixels(ppi), wide, high)
