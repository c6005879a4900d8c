"""A file's name taken apart: whose, what and what size, whether it follows the room's pattern or not."""

import re
from dataclasses import dataclass
from pathlib import Path
from unicodedata import normalize

from labkit.errors import LabError
from labkit.files.checks.name_sizes import NamedSize, meant_sheets, sizes_inside
from labkit.files.checks.name_words import says_nothing
from labkit.files.writing.name import file_name, read_name
from labkit.room.name_pattern import name_template
from labkit.room.rules import Room


def read_file_name(path: Path, room: Room) -> dict[str, str] | None:
    """Owner, title and sheet as a file's name tells them, whatever a program added to mark a copy; None
    if the name does not follow the room's pattern.

    >>> from labkit.room.rules import load_room
    >>> read_file_name(Path("Nia-Oak_Tide_A3 (2).tif"), load_room())
    {'owner': 'Nia Oak', 'title': 'Tide', 'sheet': 'A3'}
    """
    return take_apart(stem_of(path), room).read


def stem_of(path: Path) -> str:
    """The name without its ending; in “boat 8.5x11” the point is no ending's."""
    name = Path(path.name.rstrip(" ."))
    return name.stem if re.fullmatch(r"\.[^\W\d_]\w{0,4}", name.suffix) else name.name


@dataclass(frozen=True, slots=True)
class NameParts:
    """A name taken apart.

    ``read`` is what it says if it follows the pattern, ``pieces`` what is left between its underscores,
    dashes and commas once the ``sizes`` are taken out, and ``guess`` the owner and title they may be.
    ``is_copy``: a program marked it as a copy.
    """

    read: dict[str, str] | None
    sizes: tuple[NamedSize, ...]
    is_copy: bool = False
    pieces: tuple[str, ...] = ()
    guess: tuple[str, str] | None = None


_COPY = re.compile(
    r"^(?:(?:copy(?: \(?\d+\)?)? of|kopie von|copie de)\s)+"
    r"|(?:\s*\(\d+\)|[\s_-]+(?:copy|kopie|copie)(?:[\s_-]*\d+)?)+$",
    re.I,
)
"""How programs name a second copy (common practice, no source)."""


def take_apart(stem: str, room: Room) -> NameParts:
    """What a name says that is given without its ending."""
    plain = normalize("NFC", stem)
    read = _read(plain, room)
    if read and (_is_made(plain, read, room) or not _COPY.search(plain)):
        return NameParts(read, (_size(read, room),))
    original = _COPY.sub("", plain)
    if read := _read(original, room):
        return NameParts(read, (_size(read, room),), is_copy=True)
    return _loose(original, room, is_copy=original != plain)


def _read(stem: str, room: Room) -> dict[str, str] | None:
    """What a name says that follows the pattern, with a size where the size belongs."""
    read = read_name(room.name_pattern, stem)
    return read if read and meant_sheets(read["sheet"], room) else None


def _size(read: dict[str, str], room: Room) -> NamedSize:
    return NamedSize(read["sheet"], meant_sheets(read["sheet"], room))


def _is_made(stem: str, read: dict[str, str], room: Room) -> bool:
    """Whether it is letter by letter the name that ``prepare`` makes."""
    try:
        return file_name(room.name_pattern, **as_given(read)) == stem
    except LabError:
        return False


def as_given(read: dict[str, str]) -> dict[str, str]:
    """What a name says, as ``file_name`` takes it."""
    return {"owner": read["owner"], "title": read["title"], "sheet_label": read["sheet"]}


def _loose(stem: str, room: Room, *, is_copy: bool) -> NameParts:
    """A name that does not follow the pattern: the sizes in it, and what else there is."""
    parts = [part for part in re.split(r"_+|\s+[-–—]+\s+|,\s+", stem) if part.strip(" -.")]
    template = name_template(room.name_pattern)
    fixed = {text.strip("_ -").casefold() for text, _ in template}
    sizes, pieces = [], []
    for part in parts:
        if (meant := meant_sheets(part, room)) and (len(parts) > 2 or re.search(r"\d", part)):
            sizes.append(NamedSize(part, meant))
            continue
        inside = list(sizes_inside(part, room))
        sizes += inside
        for size in inside:
            part = part.replace(size.text, " ", 1)
        if any(map(str.isalnum, part)) and part.casefold() not in fixed:
            pieces.append(" ".join(part.split()).strip(" -."))
    telling = [piece for piece in pieces if not says_nothing([piece])]
    if says_nothing(pieces) or not telling:
        return NameParts(None, tuple(sizes), is_copy, tuple(pieces))
    fields = [field for _, field in template]
    is_owner_first = fields.index("owner") < fields.index("title")
    guess = _guess(telling if is_owner_first else telling[::-1])
    return NameParts(None, tuple(sizes), is_copy, tuple(telling), guess)


def _guess(pieces: list[str]) -> tuple[str, str] | None:
    """Owner and title, where the pieces leave little doubt: two of them, more behind one of several words,
    or three words of which the first two are not written small."""
    if len(pieces) == 2 or (len(pieces) > 2 and re.search("[ -]", pieces[0])):
        return pieces[0], " ".join(pieces[1:])
    if len(pieces) == 3 and all(piece.isalpha() for piece in pieces):
        given, surname, title = pieces
        if not (given + surname).islower():
            return f"{given} {surname}", title
    return None
