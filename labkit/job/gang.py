"""The print files of prints that share a roll or sheets, and the page to work from: all of them or none."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Guarded
from labkit.files.gang.gang import Gang, share_by_area
from labkit.files.gang.owned import Owned
from labkit.files.gang.prints import NOBODY, Print
from labkit.files.gang.slug import Caption, Slug
from labkit.files.gang.sources import Laid
from labkit.files.gang.statement import CONTACT, PRINTS
from labkit.files.writing.name import file_name, read_name
from labkit.files.writing.part import parts_of, publish, taken
from labkit.geometry.box import Box
from labkit.geometry.length import size_text
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.geometry.pixelbox import PixelBox
from labkit.geometry.size import SAME_SHEET
from labkit.home import make_folder
from labkit.job.ganging import GangPage, make_gang
from labkit.job.log import fingerprint
from labkit.job.making import unwritable
from labkit.room.rules import Room


@dataclass(frozen=True)
class Written:
    """The print files of one job, and the page to work from."""

    files: tuple[Path, ...]
    page: Path


def write_gangs(
    gangs: Sequence[Gang],
    room: Room,
    *,
    job: str,
    folder: str | Path,
    refused: Sequence[str] = (),
    replace: bool = False,
    title: str = "",
    progress: Callable[[int], None] | None = None,
) -> Written:
    """Write the print files of a job, one for each layout or sheet, and the page to work from.

    All of them or none; nothing is overwritten unless ``replace``. ``title`` stands
    in their names. LabError if it cannot be done.
    """
    from labkit.drawing.pages.gang import gang_page

    into = make_folder(Path(folder).expanduser())
    pages = [page for gang in gangs for page in pages_of(gang, room, job, title)]
    stems = _stems(pages, room, job, title)
    files = [into / f"{stem}.tif" for stem in stems]
    begins = stems[0] if title else stems[0].split("_")[0]
    page = into / f"{begins}_work-page.html"
    targets = [*files, page]
    ours = {each.picture.path.resolve() for gang in gangs for each in gang.prints}
    for target in targets:
        if target.resolve() in ours:
            raise LabError(
                f"{target.name} is one of the prints, which are only read: choose another folder."
            )
        if target.exists() and not replace:
            raise taken(target)
    try:
        with parts_of(*targets) as parts:
            with Guarded("labkit.job.ganging", "labkit.files.gang.strips") as child:
                for number, (asked, part) in enumerate(zip(pages, parts, strict=False)):
                    if progress:
                        progress(number)
                    child.run(
                        make_gang, asked, room, part,
                        seconds=room.limits.seconds * (len(asked.pieces) + 1),
                        memory_mb=room.limits.memory_mb, about=files[number].name,
                    )  # fmt: skip
            told = gang_page(gangs, room, job, [file.name for file in files], refused)
            parts[-1].write_text(told, encoding="utf-8")
            publish(list(zip(parts, targets, strict=True)), replace=replace)
    except OSError as error:
        raise unwritable(into, error) from None
    return Written(tuple(files), page)


def pages_of(gang: Gang, room: Room, job: str, title: str = "") -> list[GangPage]:
    """What the child writes: a page for each print file.

    Finished prints, which have no other ``title``, say whose they are, for the record.
    """
    owned = _Owned(gang, room) if gang.kind == PRINTS and not title else None
    pages, edges, count = [], gang.medium.edges, len(gang.packing.placed)
    for run in gang.runs:
        sheet, pieces = gang.sheet(run), []
        printable = Box(
            edges.left, edges.top, sheet.width - edges.left - edges.right,
            sheet.height - edges.top - edges.bottom,
        )  # fmt: skip
        for number, placed, box in gang.pieces_of(run):
            own = gang.by_name[placed.piece.name]
            size = size_text(own.size, room.units)
            line = Slug(own.owner, own.title, size, number, count, job)
            if gang.kind == CONTACT:
                wide, high = own.picture.pixels
                owner = "" if own.owner == NOBODY else own.owner
                line = Caption(number, own.title, owner, f"{wide} × {high} px")
            place = _place(own, box, placed.turned)
            whose = owned.piece(own) if owned else None
            pieces.append(Laid(own.picture, place, placed.turned, line, own.recipe, whose))
        first = gang.prints[0]
        pages.append(
            GangPage(
                sheet,
                printable,
                gang.ppi,
                first.depth,
                first.profile,
                tuple(pieces),
                job,
                gang.kind,
            )
        )
    return pages


class _Owned:
    """Whose each piece is, and its share of the price, a print's own in equal parts."""

    def __init__(self, gang: Gang, room: Room):
        self._room, self._paper = room, gang.medium.paper.name
        self._prints = {each.name: fingerprint(each.picture.path) for each in gang.prints}
        self._shares = {
            each.name: share_by_area(cost, [Fraction(1)] * count)
            for each, count, cost in gang.shares(room)
            if count
        }

    def piece(self, own: Print) -> Owned:
        """The next piece of that print."""
        price = self._shares[own.name].pop()
        return Owned(
            "" if own.owner == NOBODY else own.owner,
            own.title,
            self._size(own),
            self._prints[own.name],
            self._paper,
            "" if price is None else f"{price:.2f}",
        )

    def _size(self, own: Print) -> str:
        """As it is kept, as its file's name has it where that is so, or as it measures."""
        sheet = sheet_of(*own.size)
        named = (read_name(self._room.name_pattern, own.picture.path.stem) or {}).get("sheet", "")
        with suppress(LabError):
            if find_sheet(named).same_size(sheet, SAME_SHEET):
                return named
        return (self._room.find_stock(sheet) or sheet).label


def _place(own: Print, box: Box, turned: bool) -> PixelBox:
    """A piece in pixels: its corner rounded, its size the print's own."""
    wide, high = own.pixels[::-1] if turned else own.pixels
    return PixelBox(box.left.pixels(own.ppi), box.top.pixels(own.ppi), wide, high)


def _stems(pages: Sequence[GangPage], room: Room, job: str, title: str) -> list[str]:
    several = len(pages) > 1
    word = title or ("prints" if pages[0].kind == PRINTS else "contact sheet")
    return [
        file_name(
            room.name_pattern, owner=f"job {job}",
            title=f"{word} {number} of {len(pages)}" if several else word,
            sheet_label=page.sheet.label,
        )
        for number, page in enumerate(pages, 1)
    ]  # fmt: skip
