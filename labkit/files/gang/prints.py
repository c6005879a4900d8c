"""Finished print files, read so that they can be laid out: whose, what, how large, how many."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.opening import open_picture
from labkit.files.header.picture import Picture
from labkit.files.writing.name import read_name
from labkit.geometry.length import Length
from labkit.geometry.resolution import ppi_text
from labkit.room.rules import Room


@dataclass(frozen=True)
class Print:
    """A finished print file: the picture, whose it is and what it is called, how often it is wanted.

    ``name`` tells it from all others of the job; those of one ``group`` stay together.
    """

    picture: Picture
    owner: str
    title: str
    name: str
    copies: int = 1
    group: str | None = None

    @property
    def size(self) -> tuple[Length, Length]:
        """Width and height at 100 %."""
        return self.picture.size

    @property
    def kind(self) -> tuple:
        """What one print file can have only one of: resolution, profile, depth."""
        depth = 16 if self.picture.depth > 8 else 8
        return self.picture.ppi[0], _undated(self.picture.profile), depth


def _undated(profile: bytes | None) -> bytes | None:
    """A profile without the date it was made, and the number reckoned from all of it (ICC.1 §7.2.8 and
    §7.2.18): neither says anything of colour."""
    return None if profile is None else profile[:24] + profile[36:84] + profile[100:]


def read_prints(
    files: Sequence[Path],
    room: Room,
    *,
    copies: Mapping[str, int] | None = None,
    sets: Sequence[str] = (),
) -> tuple[list[Print], list[str]]:
    """Finished print files as they can be laid out; and a sentence for each that cannot.

    ``copies`` gives how many are wanted by the name or the title of a file, 1 if it says nothing.
    ``sets`` are beginnings of file names or titles: those that begin so stay together, in order. LabError
    for a name that fits no file, or several, or where no file is left.
    """
    found, refused = [], []
    for file in files:
        try:
            found.append(_read(Path(file).expanduser(), room))
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


def _read(file: Path, room: Room) -> Print:
    picture = open_picture(file, room)
    told = _unfit(picture)
    if told:
        raise LabError(f"{told} Nothing is changed here without a word.", about=file.name)
    named = read_name(room.name_pattern, file.stem) or {}
    owner = named.get("owner") or picture.artist.strip() or "nobody named"
    title = named.get("title") or picture.title.strip() or file.stem
    return Print(picture, owner, title, title)


def _unfit(picture: Picture) -> str:
    """Why it is no finished print, or ""."""
    mend = "Make a print file of it with `labkit prepare`."
    if picture.ppi is None:
        return f"states no resolution, so it has no size. {mend}"
    if picture.ppi[0] != picture.ppi[1]:
        return f"states two resolutions, {ppi_text(picture.ppi[0])} and {ppi_text(picture.ppi[1])}. {mend}"
    if picture.pages > 1:
        return f"has {picture.pages} pages. {mend}"
    if picture.colours != "RGB" or picture.alpha or picture.layers:
        what = "layers" if picture.layers else "transparency" if picture.alpha else picture.colours
        return f"has {what}, and prints that share a file are flat RGB. {mend}"
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
