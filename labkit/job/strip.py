"""Test strips: one part of each picture in several tone steps, ganged on a sheet of the paper meant."""

import tempfile
from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.gang.gang import Gang, gap_for, lay_out_prints
from labkit.files.gang.prints import read_prints
from labkit.files.header.picture import Picture
from labkit.geometry.length import ZERO, Length
from labkit.geometry.light import ToneStep
from labkit.geometry.paper import Sheet
from labkit.geometry.resolution import LEAST_PPI, ppi_text
from labkit.job.gang import Written, write_gangs
from labkit.job.making import in_doubt
from labkit.room.laying import medium_on_sheet
from labkit.room.rules import Paper, Room


@dataclass(frozen=True)
class Strip:
    """A test strip that is asked for: ``picture``, whose it is and its title, and how ``width`` the final
    print will be. ``at`` is the place shown, in fractions across and down."""

    picture: Picture
    owner: str
    title: str
    width: Length
    at: tuple[Fraction, Fraction]

    @property
    def own_ppi(self) -> Fraction:
        """What the picture has in the final print."""
        return self.picture.pixels[0] / self.width.inches


@dataclass(frozen=True)
class Stripped:
    """The strips for one paper: how they lie, what was written, and what was done to the pictures, in
    sentences."""

    paper: Paper
    gangs: tuple[Gang, ...]
    written: Written
    notes: tuple[str, ...]

    def price(self, room: Room) -> Decimal | None:
        """Of all its sheets, or None."""
        prices = [gang.price(room) for gang in self.gangs]
        return None if None in prices else sum(prices)


def strip_of(
    picture: Picture,
    *,
    owner: str,
    title: str,
    at: tuple[Fraction, Fraction],
    width: Length | None = None,
) -> Strip:
    """A strip of ``picture``, the size of whose print is ``width`` or what its file states.

    LabError where neither tells, where nobody is named, or for a place outside the picture.
    """
    name = picture.path.name
    if not owner.strip() or not title.strip():
        raise LabError(
            "needs a name and a title on its strip: give --owner and --title, or name the file as a "
            "print file is named here.",
            about=name,
        )
    if width is None and picture.size is None:
        raise LabError(
            "states no size of print: say how wide the final print will be, with --width.",
            about=name,
        )
    if not all(0 <= part <= 1 for part in at):
        raise LabError(
            "the place to show is two fractions of the picture, across and down, from 0 to 1: 0.5,0.3."
        )
    return Strip(picture, owner.strip(), title.strip(), width or picture.size[0], at)


def write_strips_on(
    strips: Sequence[Strip],
    *,
    size: Sheet,
    steps: Sequence[ToneStep],
    paper: Paper,
    sheet: Sheet | None,
    job: str,
    out: Path,
    room: Room,
    replace: bool = False,
    child: Guarded | None = None,
) -> Stripped:
    """Write the sheets on which the strips for ``paper`` are printed, with the page to work from.

    ``size`` is that of one strip and ``steps`` its tones. ``sheet`` is the smallest that the paper
    is kept in and that takes them all, if None. LabError, with nothing left behind, if it cannot be done.
    """
    ppi = _ppi_for(strips, room)
    with tempfile.TemporaryDirectory() as folder:
        files, notes = [], []
        limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
        with nullcontext(child) if child else Guarded("labkit.job.strip") as running:
            for number, strip in enumerate(strips, 1):
                file = Path(folder) / f"strip {number}.tif"
                asked = strip, ppi, size, tuple(steps), paper.name, room, file
                told = running.run(make_strip, *asked, **limits, about=strip.picture.path.name)
                notes += [f"{strip.title}: {note}" for note in told["notes"]]
                files.append(file)
        prints, refused = read_prints(files, room)
        if refused:
            raise LabError(" ".join(refused))
        gangs = _laid(prints, paper, sheet, room)
        title = f"test strips {paper.name}"
        written = write_gangs(gangs, room, job=job, folder=out, replace=replace, title=title)
    return Stripped(paper, tuple(gangs), written, tuple(notes))


def _ppi_for(strips: Sequence[Strip], room: Room) -> Fraction:
    """What all of them are printed at, so that they share sheets: that of their final prints where it is one,
    and no more than the room prints; else what the room prints. LabError where one has too little."""
    for strip in strips:
        if strip.own_ppi < LEAST_PPI:
            raise LabError(
                f"has only {ppi_text(strip.own_ppi)} in a print {strip.width} wide: make the print smaller.",
                about=strip.picture.path.name,
            )
    working = Fraction(room.working_ppi)
    final = {min(strip.own_ppi, working) for strip in strips}
    return final.pop() if len(final) == 1 else working


def _laid(prints, paper: Paper, sheet: Sheet | None, room: Room) -> list[Gang]:
    """The strips on that sheet, or on the smallest that takes them all: LabError where one is left out."""
    if sheet is not None and not paper.is_kept_for(sheet):
        raise LabError(f"{paper.name} is not kept in {sheet}: `labkit papers` lists its sheets.")
    kept = sorted(
        (each.sheet for each in paper.sheets), key=lambda own: own.width * own.height.inches
    )
    found, refusal = None, LabError(f"{paper.name} is kept in no sheets: name one with --sheet.")
    for each in [sheet] if sheet else kept:
        try:
            medium = medium_on_sheet(room, each, paper)
            gangs = lay_out_prints(prints, medium, room, gap=gap_for(ZERO), seconds=0.05)
        except LabError as too_small:
            refusal = too_small
            continue
        if any(gang.packing.left_out for gang in gangs):
            refusal = LabError(f"not every strip fits on {each}: make the strips smaller.")
            continue
        found = gangs
        if all(gang.packing.sheets == 1 for gang in gangs):
            break
    if found is None:
        raise refusal
    return found


def make_strip(
    strip: Strip,
    ppi: Fraction,
    size: Sheet,
    steps: tuple[ToneStep, ...],
    paper: str,
    room: Room,
    file: Path,
) -> dict:
    """In the child: write one strip as a finished print of so many ``ppi``. Plain values come back."""
    from labkit.files.gang.stripsaid import StripSaid, sum_of_strip
    from labkit.files.gang.teststrip import ToneStrip, bands, part_shown
    from labkit.files.header.tiff_reader import description_of
    from labkit.files.pixels.conversion import conversion
    from labkit.files.pixels.decode import decode
    from labkit.files.writing.tiff import Labels, write_strips
    from labkit.files.writing.tonesaid import said_steps, say_steps
    from labkit.geometry.box import Box
    from labkit.geometry.layout import Layout
    from labkit.geometry.pixelbox import PixelBox
    from labkit.geometry.raster import Raster

    own = strip.own_ppi
    pixels, to_rgb = decode(strip.picture), conversion(strip.picture, room.colour)
    laid = bands((size.width.pixels(ppi), size.height.pixels(ppi)), len(steps), ppi)
    part = part_shown(pixels.shape, strip.at, laid.picture, own / ppi)
    depth = room.colour.depth_for(pixels.depth)
    layout = Layout(size, Box(ZERO, ZERO, size.width, size.height))
    rows = ToneStrip(
        pixels, to_rgb, laid, part, steps,
        own_ppi=own, ppi=ppi, layout=layout, depth=depth, heads=_heads(strip, paper),
    )  # fmt: skip
    raster = Raster(ppi, own, laid.size, PixelBox(0, 0, *laid.size), part, resampled=own != ppi)
    total = sum_of_strip(rows.rows(0, laid.size[1]))
    said = StripSaid(
        strip.title, strip.owner, paper, steps, strip.at, strip.width, laid.size, total
    )
    labels = Labels(strip.owner, strip.title, said.text(), to_rgb.profile)
    write_strips(file, rows, raster, labels, room.colour.packing_for(depth))
    before = said_steps(description_of(strip.picture))
    on_top = ["The steps of the strip come on top of that."] if before else []
    doubts = [in_doubt(pixels.doubt)] if pixels.doubt else []
    return {
        "notes": [*to_rgb.notes, *_enlarged(own, ppi), *say_steps(before, None), *on_top, *doubts]
    }


def _enlarged(own: Fraction, ppi: Fraction) -> list[str]:
    if own >= ppi:
        return []
    return [
        f"In the final print it has {ppi_text(own)}. On the strip it was resampled to {ppi_text(ppi)}, so "
        "that it shares a sheet: judge the tone here, not the sharpness."
    ]


def _heads(strip: Strip, paper: str) -> list[str]:
    """Whose the strip is, and for which paper; the paper is given up last."""
    owner, title = strip.owner, strip.title
    shorter = [f"{paper} · {owner} · {title[:keep]}…" for keep in range(len(title) - 1, 0, -1)]
    return [f"{paper} · {owner} · {title}", *shorter, f"{paper} · {owner}", paper]
