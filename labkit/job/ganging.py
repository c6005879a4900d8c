"""What the guarded child does for a job of several prints: write the file they share, read it back.

The parent imports this module too, so whatever is heavy is imported where it is used.
"""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.gang.sources import Laid
from labkit.files.gang.statement import PRINTS
from labkit.geometry.box import Box
from labkit.geometry.paper import Sheet
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import Raster, pixel_box
from labkit.job.making import unwritable
from labkit.room.rules import Room

_THREADS = 4
"""More than processors, since some wait for the strip that another unpacks."""


@dataclass(frozen=True)
class GangPage:
    """One print file: its ``sheet``, what of it can be printed, its ppi and depth.

    ``pieces`` are what lies on it, which are of one ``profile``. ``kind`` is what the file says it is.
    """

    sheet: Sheet
    printable: Box
    ppi: Fraction
    depth: int
    profile: bytes | None
    pieces: tuple[Laid, ...]
    job: str
    kind: str


def make_gang(page: GangPage, room: Room, part: Path) -> dict:
    """In the child: write the file strip by strip, and read every strip back."""
    from labkit.files.checks.read_back import disk_findings
    from labkit.files.gang.owned import owned_text
    from labkit.files.gang.strips import GangStrips
    from labkit.files.gang.stripsaid import strips_among
    from labkit.files.writing.packing import QUICKLY
    from labkit.files.writing.tiff import Labels, write_strips

    size = page.sheet.width.pixels(page.ppi), page.sheet.height.pixels(page.ppi)
    strips = GangStrips(
        page.pieces, size, pixel_box(page.printable, page.ppi), page.ppi, room.colour, part.parent,
        page.depth, page.kind,
    )  # fmt: skip
    whole = PixelBox(0, 0, *size)
    raster = Raster(page.ppi, page.ppi, size, whole, (0, 0, *size), resampled=False)
    titles = "; ".join(
        ", by ".join(filter(None, (each.line.title, each.line.owner))) for each in page.pieces
    )
    told = f"{len(page.pieces)} on job {page.job}: {titles}. {strips.statement().text()}"
    told += "".join(f" {strip.text()}" for strip in strips_among(page.pieces))
    owned = [each.owned for each in page.pieces]
    if all(owned):
        told += f" {owned_text(owned)}"
    what = "prints to be cut apart" if page.kind == PRINTS else "contact sheet"
    labels = Labels(f"job {page.job}", what, told, page.profile)
    packing = QUICKLY if room.colour.packing_shared == "Deflate" else "LZW"
    try:
        written = write_strips(part, strips, raster, labels, packing, _THREADS)
        if next(disk_findings(part, written), None):
            raise LabError("the file did not read back as it was written: try again.")
        return {"bytes": part.stat().st_size}
    except OSError as error:
        raise unwritable(part.parent, error) from None
