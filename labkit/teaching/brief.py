"""What an exercise asks of one reader: drawn from the name, the same on every machine."""

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from shutil import copyfile

from labkit.errors import LabError, system_reason
from labkit.files.writing.name import file_name
from labkit.files.writing.part import parts_of, publish
from labkit.geometry.layout import Layout
from labkit.geometry.length import Length
from labkit.geometry.proportion import WHOLE, Part
from labkit.geometry.raster import Raster, rasterize
from labkit.geometry.resolution import ppi_text
from labkit.home import make_folder
from labkit.room.rules import Room
from labkit.teaching.pictures import DemoPicture

Candidate = tuple[DemoPicture, tuple[int, int]]
"""One of our pictures, with its width and height in pixels."""
GIVEN = "picture"
"""The folder, in the reader's own for a lesson, in which the picture of the task lies."""


@dataclass(frozen=True)
class Brief:
    """One reader's task: a picture, the layout wanted, and the name the file is to have.

    ``asked`` is the task in words, its lengths among them; ``stem`` the file's name without its ending,
    ``named`` what the reader is told of it; ``raster`` the task in pixels at the room's working ppi.
    ``hints`` says, by the code of a finding or by code and side (``cut-border bottom``), what this task wants
    to teach whoever gets that finding. With ``keep`` the picture may be cropped anywhere that leaves this
    part of it whole; ``layout`` has one such crop. ``lighter`` is the tone step asked for in stops, one of
    ``steps``; None where tone is no part of the task. ``paper`` is the room's paper that it is for, "" for
    any. ``by_hand`` says what else is done in any editor, once the picture lies in its place. ``sought`` are
    codes of findings whose mending the reader is to find out: hints do not tell it.
    """

    reader: str
    picture: Path
    pixels: tuple[int, int]
    title: str
    asked: tuple[str | Length, ...]
    layout: Layout
    raster: Raster
    stem: str
    hints: Mapping[str, str] = field(default_factory=dict)
    keep: Part | None = None
    named: str = ""
    lighter: float | None = None
    steps: tuple[float, ...] = ()
    paper: str = ""
    by_hand: str = ""
    sought: frozenset[str] = frozenset()

    def sentence(self, first: str = "in") -> str:
        """The task in words, its lengths in both units."""
        return "".join(p.both(first) if isinstance(p, Length) else p for p in self.asked)

    def card(self) -> tuple[str, ...]:
        """The same by hand, in any editor: one step a line."""
        sheet, box, source = self.raster.sheet, self.raster.picture, self.raster.source
        steps = [f"Open {self.picture.name} from the folder “{GIVEN}” in your folder."]
        if self.layout.crop != WHOLE:
            left, top, right, bottom = (round(side) for side in source)
            steps.append(
                f"Crop it to {right - left} × {bottom - top} pixels: {left} go from the left, "
                f"{top} from the top."
            )
        if self.raster.resampled:
            steps.append(f"Resample it to {box.width} × {box.height} pixels, proportions locked.")
        else:
            steps.append(f"Leave its {box.width} × {box.height} pixels as they are.")
        return (
            *steps,
            f"Make a new blank file: {sheet[0]} × {sheet[1]} pixels, {ppi_text(self.raster.ppi)}, RGB, "
            "sRGB, 8 bits, pure white.",
            f"Put the picture in: its left edge at {box.left} pixels, its top edge at {box.top} pixels.",
            *([self.by_hand] if self.by_hand else []),
            "Flatten to one layer.",
            f"Save as TIFF, LZW, with the profile embedded, under the name {self.stem}.tif.",
        )


def brief_of(
    reader: str,
    candidate: Candidate,
    asked: tuple[str | Length, ...],
    layout: Layout,
    room: Room,
    hints: Mapping[str, str] | None = None,
    keep: Part | None = None,
    *,
    finds_sheet: bool = False,
) -> Brief:
    """The brief of a task whose answer is ``layout``, or with ``keep`` a crop that leaves this part whole.

    ``finds_sheet``: which sheet it is, the reader is to find out, so the name told does not say it.
    """
    demo, pixels = candidate

    def name_on(label: str) -> str:
        return file_name(room.name_pattern, owner=reader, title=demo.title, sheet_label=label)

    stem = name_on(layout.sheet.label)
    named = f"The file is to be named {name_on('SHEET') if finds_sheet else stem}.tif."
    if finds_sheet:
        named += (
            " For SHEET put the sheet you found: its name if it stands upright and has one, such as A2; "
            "else its size as it lies, such as 594x420mm."
        )
    raster = rasterize(layout, pixels, working_ppi=room.working_ppi)
    return Brief(
        reader.strip(),
        demo.file,
        pixels,
        demo.title,
        asked,
        layout,
        raster,
        stem,
        hints or {},
        keep,
        named,
    )


def give_picture(brief: Brief, folder: Path) -> Path:
    """A copy of the picture in ``folder``/:data:`GIVEN`, for whoever works in an editor; what lies there
    already stays as it is. LabError where it cannot be written."""
    given = make_folder(folder / GIVEN) / brief.picture.name
    if given.exists():
        return given
    try:
        with parts_of(given) as (part,):
            copyfile(brief.picture, part)
            publish([(part, given)], replace=False)
    except OSError as error:
        raise LabError(
            f"{given.name} cannot be copied to {given.parent} ({system_reason(error)}): make room there, and "
            "run this cell again."
        ) from None
    return given


def chance_for(lesson: str, reader: str) -> random.Random:
    """The draws of a reader's task: the same for the same name, whatever its case and spaces.

    LabError without a name.
    """
    plain = " ".join(reader.casefold().split())
    if not plain:
        raise LabError("give your name first: the task is drawn from it, and the file carries it.")
    return random.Random(sha256(f"{lesson}: {plain}".encode()).digest())
