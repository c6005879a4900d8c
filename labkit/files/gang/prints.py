"""Finished print files, read so that they can be laid out: whose, what, how large, how many."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.opening import open_picture
from labkit.files.gang.prepared import Recipe, in_a_cell, to_the_rooms_form, undated
from labkit.files.header.picture import Picture
from labkit.files.pixels.conversion import srgb_profile
from labkit.files.writing.name import read_name
from labkit.geometry.resolution import ppi_text
from labkit.geometry.size import Size
from labkit.room.rules import Room

NOBODY = "nobody named"
"""The owner of a print whose file names none."""


@dataclass(frozen=True)
class Print:
    """A finished print file: the picture, whose it is and what it is called, how often it is wanted.

    ``name`` tells it from all others of the job; those of one ``group`` stay together. ``recipe`` is how the
    picture becomes a print, where it is none of the kind wanted yet.
    """

    picture: Picture
    owner: str
    title: str
    name: str
    copies: int = 1
    group: str | None = None
    recipe: Recipe | None = None

    @property
    def size(self) -> Size:
        """Width and height at 100 %."""
        return self.recipe.size if self.recipe else self.picture.size

    @property
    def pixels(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return self.recipe.pixels if self.recipe else self.picture.pixels

    @property
    def ppi(self) -> Fraction:
        """Pixels per inch."""
        return self.recipe.ppi if self.recipe else self.picture.ppi[0]

    @property
    def profile(self) -> bytes | None:
        """What its file states."""
        return srgb_profile() if self.recipe else self.picture.profile

    @property
    def profile_name(self) -> str:
        """The profile in words."""
        return "sRGB" if self.recipe else self.picture.profile_name or "no profile"

    @property
    def depth(self) -> int:
        """Bits a channel, 8 or 16."""
        if self.recipe:
            return self.recipe.depth
        return 16 if self.picture.depth > 8 else 8

    @property
    def kind(self) -> tuple:
        """What one print file can have only one of: resolution, profile, depth."""
        return self.ppi, undated(self.profile), self.depth


def read_prints(
    files: Sequence[Path],
    room: Room,
    *,
    copies: Mapping[str, int] | None = None,
    sets: Sequence[str] = (),
    convert: bool = False,
) -> tuple[list[Print], list[str]]:
    """Finished print files as they can be laid out; and a sentence for each that cannot.

    ``copies`` gives how many are wanted by the name or the title of a file, 1 if it says nothing.
    ``sets`` are beginnings of file names or titles: those that begin so stay together, in order. ``convert``
    brings those of another resolution, profile or depth to the room's, and takes other colours too. LabError
    for a name that fits no file, or several, or where no file is left.
    """
    found, refused = [], []
    for file in files:
        try:
            found.append(_read(Path(file).expanduser(), room, convert=convert))
        except LabError as refusal:
            refused.append(str(refusal))
    if not found:
        raise LabError(" ".join(refused))
    found = _told_apart(found)
    for name, count in (copies or {}).items():
        at = _one_called(name, found)
        found[at] = replace(found[at], copies=count)
    for name in sets:
        inside = [at for at, each in enumerate(found) if _begins(each, name)]
        if len(inside) < 2:
            raise LabError(
                f"a set needs two prints or more, and {len(inside)} begin with “{name}”: name the files "
                "of a set alike, such as Tide-1, Tide-2, Tide-3."
            )
        for at in inside:
            found[at] = replace(found[at], group=name)
    return found, refused


def read_pictures(files: Sequence[Path], cell: Size, room: Room) -> tuple[list[Print], list[str]]:
    """Pictures of any kind as they are shown in the cells of a contact sheet; and a sentence for each that
    cannot be read. LabError where none can."""
    found, refused = [], []
    for file in files:
        try:
            picture = open_picture(Path(file).expanduser(), room)
            found.append(_print(picture, room, in_a_cell(picture, cell, room)))
        except LabError as refusal:
            refused.append(str(refusal))
    if not found:
        raise LabError(" ".join(refused))
    return _told_apart(found), refused


def _read(file: Path, room: Room, *, convert: bool) -> Print:
    picture = open_picture(file, room)
    told = _unfit(picture) or _unfit_colours(picture, room, convert=convert)
    if told:
        raise LabError(f"{told} Nothing is changed here without a word.", about=file.name)
    return _print(picture, room, to_the_rooms_form(picture, room) if convert else None)


def _print(picture: Picture, room: Room, recipe: Recipe | None) -> Print:
    named = read_name(room.name_pattern, picture.path.stem) or {}
    owner = named.get("owner") or picture.artist.strip() or NOBODY
    title = named.get("title") or picture.title.strip() or picture.path.stem
    return Print(picture, owner, title, title, recipe=recipe)


_MEND = "Make a print file of it with `labkit prepare`."


def _unfit(picture: Picture) -> str:
    """Why it is no finished print, or ""."""
    if picture.ppi is None:
        return f"states no resolution, so it has no size. {_MEND}"
    if picture.ppi[0] != picture.ppi[1]:
        return f"states two resolutions, {ppi_text(picture.ppi[0])} and {ppi_text(picture.ppi[1])}. {_MEND}"
    if picture.pages > 1:
        return f"has {picture.pages} pages. {_MEND}"
    if picture.layers:
        return f"has layers, and prints that share a file are flat RGB. {_MEND}"
    return ""


def _unfit_colours(picture: Picture, room: Room, *, convert: bool) -> str:
    """Why its colours cannot be on a print that others share, or ""."""
    if convert:
        is_unknown = picture.colours == "CMYK" and not (
            picture.profile or room.colour.untagged_cmyk
        )
        return (
            f"is CMYK without a profile, so its colours are unknown. {_MEND}" if is_unknown else ""
        )
    if picture.colours != "RGB" or picture.alpha:
        what = "transparency" if picture.alpha else picture.colours
        return f"has {what}, and prints that share a file are flat RGB. {_MEND}"
    return ""


def _told_apart(prints: list[Print]) -> list[Print]:
    """Names that no two have: the title, else with the owner, else with the file's name."""
    for more in ("{0.title} by {0.owner}", "{0.title}, {0.picture.path.name}"):
        names = [each.name for each in prints]
        prints = [
            replace(each, name=more.format(each)) if names.count(each.name) > 1 else each
            for each in prints
        ]
    names = [each.name for each in prints]
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise LabError(f"{twice} is given twice: give it once, and ask for --copies.")
    return prints


def _called(each: Print) -> tuple[str, ...]:
    return each.picture.path.stem, each.picture.path.name, each.title, each.name


def _begins(each: Print, name: str) -> bool:
    return any(word.casefold().startswith(name.casefold()) for word in _called(each))


def _one_called(name: str, prints: Sequence[Print]) -> int:
    exact = [
        at
        for at, each in enumerate(prints)
        if name.casefold() in {word.casefold() for word in _called(each)}
    ]
    if len(exact) == 1:
        return exact[0]
    those = "no print is" if not exact else f"{len(exact)} prints are"
    names = ", ".join(each.name for each in prints) or "none"
    raise LabError(f"{those} called “{name}”: use one of {names}.")
