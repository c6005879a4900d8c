"""What the guarded child does for a job: write the sheet, read it back, draw its ticket.

The parent names these functions and imports this module too, so whatever is heavy is imported where
it is used.
"""

import errno
from collections.abc import Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.errors import LabError, system_reason
from labkit.files.header.picture import Picture
from labkit.files.look.address import data_address
from labkit.files.look.look import PAPER_WHITE
from labkit.files.writing.printfile import PrintFile
from labkit.files.writing.tonesaid import on_top, said_steps, say_steps
from labkit.geometry.box import Edges
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length
from labkit.geometry.light import ToneStep
from labkit.geometry.parts import Part
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import Raster, ppi_that_fits
from labkit.geometry.resolution import ppi_text
from labkit.job.number import job_number
from labkit.room.rules import Room

if TYPE_CHECKING:
    from labkit.files.pixels.conversion import Conversion
    from labkit.files.pixels.decode import Pixels
    from labkit.files.pixels.tone import Tone
    from labkit.files.writing.tiff import Written

PREVIEW = 900
"""The longest side, in pixels, of the picture on a ticket or a sheet view."""


Measured = tuple[Layout, PixelBox]
"""Where a check found the picture on a finished sheet: exact, and in pixels."""


@dataclass(frozen=True)
class Job:
    """What the child is to make: ``file``, the name the print file will have, from ``picture``.

    ``measured`` is where a picture that is a finished sheet has its own picture; ``day`` stands in the
    job's number. ``lighter`` is the tone step asked for, None where none is. ``part`` is given where only
    that part of the picture is printed.
    """

    picture: Picture
    file: Path
    layout: Layout
    raster: Raster
    owner: str
    title: str
    warnings: tuple[str, ...]
    room: Room
    order: dict
    day: date
    lighter: ToneStep | None = None
    measured: Measured | None = None
    part: Part | None = None

    def printed(self, made: dict) -> PrintFile:
        """The record of the print file, with what making it told."""
        layout, box = self.measured or (self.layout, self.raster.picture)
        return PrintFile(
            self.file,
            layout,
            replace(self.raster, picture=box),
            owner=self.owner,
            title=self.title,
            profile=made["profile"],
            depth=made["depth"],
            bytes=made["bytes"],
            converted=tuple(made["converted"]),
            warnings=(*self.warnings, *made["doubts"]),
            lighter=self.lighter,
            part=self.part,
        )


def make(job: Job, part: Path, ticket_part: Path) -> dict:
    """In the child: write the sheet, read it back, draw the ticket. Plain values come back."""
    try:
        with ThreadPoolExecutor(1) as aside:
            for needed_later in (
                "tifffile",
                "labkit.files.checks.check",
                "labkit.drawing.pages.ticket",
            ):
                aside.submit(import_module, needed_later)
            made, written, small = _write_sheet(job, part, aside)
            page = aside.submit(_ticket, job, made, small)
            from labkit.files.checks.check import read_back

            back = read_back(part, job.layout, written, job.room)
            if back.verdict == "stop":
                raise LabError(f"the file did not read back as it was asked: {back.sentence()}")
            ticket_part.write_text(page.result(), encoding="utf-8")
        return made
    except OSError as error:
        raise unwritable(part.parent, error) from None


def _write_sheet(job: Job, part: Path, aside: Executor) -> "tuple[dict, Written, Future[bytes]]":
    """Decode and write, and tell what was done; the small picture is made beside that. No pixels are
    kept."""
    from labkit.files.header.tiff_reader import description_of
    from labkit.files.pixels.conversion import conversion
    from labkit.files.pixels.decode import decode
    from labkit.files.pixels.tone import tone
    from labkit.files.writing.strips import SheetStrips
    from labkit.files.writing.tiff import Labels, write_strips

    rules = job.room.colour
    to_rgb = conversion(job.picture, rules)
    pixels = decode(job.picture)
    asked = job.lighter
    step = tone(asked.amount, asked.by, profile=to_rgb.profile) if asked else None
    before = said_steps(description_of(job.picture))
    small = aside.submit(_small, pixels, to_rgb, step)
    depth = rules.depth_for(pixels.depth)
    labels = Labels(job.owner, job.title, _description(job, before), to_rgb.profile)
    strips = SheetStrips(pixels, to_rgb, job.layout, job.raster, depth, step)
    written = write_strips(part, strips, job.raster, labels, rules.packing_for(depth))
    made = {
        "profile": to_rgb.profile_name,
        "depth": depth,
        "bytes": part.stat().st_size,
        "converted": [
            *to_rgb.notes,
            *_depth(rules.depth, job.picture.depth, pixels.depth, depth),
            *_resampling(job.raster),
            *say_steps(before, asked),
        ],
        "doubts": [
            *([in_doubt(pixels.doubt)] if pixels.doubt else []),
            *_finished_sheet(job, pixels),
            *on_top(before, asked),
        ],
        "number": job_number(part, job.day, job.file.name),
    }
    return made, written, small


def _ticket(job: Job, made: dict, small: "Future[bytes]") -> str:
    from labkit.drawing.pages.ticket import Order, ticket

    order, preview = Order(**job.order, number=made["number"]), data_address(small.result())
    is_sheet = job.measured is not None
    return ticket(job.printed(made), job.room, order, preview, shows_sheet=is_sheet)


def _small(pixels: "Pixels", to_rgb: "Conversion", tone: "Tone | None" = None) -> bytes:
    """The picture as tickets and sheet views show it: a small JPEG."""
    from io import BytesIO

    import numpy as np
    from PIL import Image

    from labkit.files.writing.strips import preview as made_small

    made = BytesIO()
    small = made_small(pixels, to_rgb, PREVIEW)
    if tone:
        small = Image.fromarray(tone(np.asarray(small)))
    small.save(made, "JPEG", quality=85, icc_profile=to_rgb.profile)
    return made.getvalue()


def keep_preview(picture: Picture, room: Room, kept: Path) -> None:
    """In the child: keep the picture, small."""
    from labkit.files.pixels.conversion import conversion
    from labkit.files.pixels.decode import decode

    kept.write_bytes(_small(decode(picture), conversion(picture, room.colour)))


def _finished_sheet(job: Job, pixels: "Pixels") -> list[str]:
    """The warning that a picture placed on a sheet is a finished sheet itself, with its white borders."""
    lying = [each for sheet in job.room.sheets for each in (sheet, sheet.turned())]
    fits = ((s, ppi_that_fits(pixels.shape, s, job.room.working_ppi)) for s in lying)
    sheet, ppi = next((each for each in fits if each[1]), (None, None))
    if (
        sheet is None
        or job.measured
        or job.part
        or job.layout.picture.size == (sheet.width, sheet.height)
    ):
        return []
    from labkit.files.look.locate import locate

    found = locate(pixels, is_lossy=job.picture.lossy)
    if found.box is None or not found.is_flat or min(found.surround) < PAPER_WHITE:
        return []
    whole = PixelBox(0, 0, *pixels.shape)
    borders = [
        Length(Fraction(side, ppi))
        for side in (
            found.box.left,
            found.box.top,
            whole.right - found.box.right,
            whole.bottom - found.box.bottom,
        )
    ]
    if not all(borders):
        return []
    told = Edges(*borders).text(job.room.units)
    return [
        f"The picture is a finished sheet of {sheet.label}, with white borders of its own ({told}), and is "
        "printed as a picture, borders and all. To print it as it is, leave its size and place out, and "
        "say --whole."
    ]


def _description(job: Job, before: Sequence[ToneStep]) -> str:
    """What the file says of itself, in the standard description tag."""
    layout, _ = job.measured or (job.layout, None)
    return (
        f"{job.title}, by {job.owner}. {layout.sentence()} "
        f"The picture's own resolution at this size is {ppi_text(job.raster.own_ppi)}."
        + "".join(f" {told}" for told in say_steps(before, job.lighter))
        + "".join(f" {told}" for told in (job.part.seams() if job.part else ()))
    )


def in_doubt(doubt: str) -> str:
    from labkit.files.checks.findings import tell

    found = tell("damage-signs", variant=doubt).found
    return f"{found[:1].upper()}{found[1:]}. Look at all of it at full size before it is printed."


def _depth(rule: int | str, stored: int, held: int, made: int) -> list[str]:
    """What became of the bits a channel, by the room's rule: stored in the picture, decoded, written."""
    told = []
    if stored > 8 and rule == 8:
        told.append(f"{stored} bits a channel were reduced to 8, the depth of the print file.")
    elif stored > 8 and held == 8:
        told.append(
            f"{stored} bits a channel were reduced to 8 on reading: a TIFF or PNG in RGB would keep them."
        )
    if made > held:
        told.append(
            "8 bits a channel were written as 16, the depth of this room's print files: no tone is gained."
        )
    return told


def _resampling(raster: Raster) -> list[str]:
    if not raster.resampled:
        return []
    left, top, right, bottom = raster.source
    wide, high = raster.made or (raster.picture.width, raster.picture.height)
    verb = "reduced" if raster.own_ppi > raster.ppi else "enlarged"
    return [
        f"The picture was {verb} from {ppi_text(raster.own_ppi)} to {ppi_text(raster.ppi)} "
        f"({right - left:.0f} × {bottom - top:.0f} to {wide} × {high} pixels)."
    ]


def unwritable(folder: Path, error: OSError) -> LabError:
    """The refusal of a folder that cannot be written to, or whose disk is full."""
    if error.errno in (errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)):
        return LabError(f"the disk of {folder} is full: make room, or choose another folder.")
    return LabError(
        f"{folder} cannot be written to ({system_reason(error)}): choose another folder."
    )
