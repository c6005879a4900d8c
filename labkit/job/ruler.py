"""A ruler sheet as a print file with its page to work by, and what was measured kept in the room's file."""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from shutil import copy2, copymode

from labkit.errors import LabError, system_reason
from labkit.files.writing.name import file_name
from labkit.files.writing.part import parts_of, publish, taken
from labkit.geometry.measured import ENOUGH, Errors
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.raster import Raster
from labkit.geometry.ruler import PPI
from labkit.home import make_folder
from labkit.job.making import unwritable
from labkit.room.keep import as_measured, block_of, values_of, with_measured
from labkit.room.printers import PATHS, Measured
from labkit.room.rules import SHIPPED, Room, load_room
from labkit.room.ruling import Ruling

FIRST_EDGE = "this edge goes in first"


@dataclass(frozen=True)
class RulerMade:
    """A ruler sheet that was written, and the page that says what to do with it."""

    file: Path
    page: Path


def write_ruler(ruling: Ruling, room: Room, *, out: Path, replace_it: bool = False) -> RulerMade:
    """Write the ruler sheet and its page into ``out``: both or neither, and over nothing unless
    ``replace_it``. LabError if it cannot be done."""
    from labkit.drawing.pages.ruler import ruler_page, steps
    from labkit.files.checks.read_back import disk_findings
    from labkit.files.look.rulersheet import ruler_statement
    from labkit.files.pixels.conversion import srgb_profile
    from labkit.files.writing.ruled import RuledStrips
    from labkit.files.writing.tiff import Labels, write_strips

    title = f"Ruler {ruling.printer.name} {PATHS[ruling.path]} {ruling.paper.name}"
    stem = file_name(
        room.name_pattern, owner=room.name, title=title, sheet_label=ruling.sheet.label
    )
    folder = make_folder(out)
    file, page = folder / f"{stem}.tif", folder / f"{stem}_measure.html"
    for target in (file, page):
        if target.exists() and not replace_it:
            raise taken(target)
    strips = RuledStrips(
        ruling.ruler, [f"Ruler sheet: {ruling}.", *steps(ruling, room.units)], FIRST_EDGE
    )
    ppi, whole = Fraction(PPI), PixelBox(0, 0, *strips.size)
    raster = Raster(ppi, ppi, strips.size, whole, (0, 0, *strips.size), resampled=False)
    said = ruler_statement(strips.rows, strips.size)
    labels = Labels(room.name, title, f"{title}. To be printed at 100 %. {said}", srgb_profile())
    try:
        with parts_of(file, page) as (file_part, page_part):
            made = write_strips(file_part, strips, raster, labels)
            if next(disk_findings(file_part, made), None):
                raise LabError("the file did not read back as it was written: try again.")
            page_part.write_text(ruler_page(ruling, room, file.name), encoding="utf-8")
            publish([(file_part, file), (page_part, page)], replace=replace_it)
    except OSError as error:
        raise unwritable(folder, error) from None
    return RulerMade(file, page)


def keep_measured(path: Path, ruling: Ruling, errors: Errors, day: date) -> tuple[Measured, Path]:
    """Keep what was measured in the room file at ``path``, for that printer, path and paper.

    Nothing else in the file changes; what it was is kept beside it, under the name that is given back.
    LabError, with the file as it was, for too few prints, an error that is a setting and belongs mended, or
    a file that cannot be changed so.
    """
    path = path.resolve()
    _refuse_to_keep(path, ruling, errors)
    measured = as_measured(errors, day, ruling.setting.measured)
    room = load_room(path)
    number = room.settings.index(ruling.setting)
    raw = path.read_bytes()
    mark = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    changed = with_measured(raw.decode("utf-8-sig"), number, measured)
    settings = list(room.settings)
    settings[number] = replace(settings[number], measured=measured)
    before = _free_name(path, day)
    try:
        with parts_of(path) as [part]:
            part.write_bytes(mark + changed.encode())
            if load_room(part) != replace(room, settings=tuple(settings)):
                told = "; ".join(block_of(values_of(measured)))
                raise LabError(
                    f"{path.name} cannot be changed without changing more than that, so it is left as it "
                    f"is. Write it in by hand: {told}."
                )
            copymode(path, part)
            copy2(path, before)
            publish([(part, path)], replace=True)
    except OSError as error:
        raise LabError(
            f"{path} cannot be changed ({system_reason(error)}): it is left as it is."
        ) from None
    return measured, before


def _refuse_to_keep(path: Path, ruling: Ruling, errors: Errors) -> None:
    if path == SHIPPED.resolve():
        raise LabError(
            "the rules in use are those of the invented room that comes with labkit, which are not changed: "
            "begin your own with `labkit room new room.toml`, put it in your labkit folder, or name it "
            "with --room."
        )
    if ruling.setting is None:
        raise LabError(
            f"the room's file has no setting for {ruling}, so there is nowhere to keep it: add one first."
        )
    if not errors.is_enough:
        raise LabError(
            f"{errors.prints} measured: print and measure {ENOUGH} before it is kept, for sheets differ."
        )
    causes = ruling.causes(errors, load_room(path))
    if wrong := next((each for each in causes if each.is_set), None):
        raise LabError(
            f"it is not kept, for that is no property of the printer ({wrong.name}). {wrong.mend} Then "
            "print the ruler sheets again."
        )


def _free_name(path: Path, day: date) -> Path:
    """A name for the file as it was: ``room.before-2031-05-12.toml``, numbered where that is taken."""
    stem = f"{path.stem}.before-{day.isoformat()}"
    names = (path.with_name(f"{stem}{more}{path.suffix}") for more in ("", *_numbers()))
    return next(name for name in names if not name.exists())


def _numbers():
    return (f"-{number}" for number in range(2, 10_000))
