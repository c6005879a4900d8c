"""What shows only across the files of a run: names that collide, one picture twice, older versions."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from unicodedata import category, normalize

from labkit.files.checks.findings import Finding, Findings, phrase, tell
from labkit.files.checks.name_parts import read_file_name
from labkit.files.checks.words import listed
from labkit.files.look.fingerprint import are_alike, pictures_by_print
from labkit.files.look.look import RULER
from labkit.geometry.length import size_text
from labkit.geometry.resolution import ppi_text
from labkit.room.rules import Room


def findings_across(checked: Sequence[Findings], room: Room) -> dict[Path, list[Finding]]:
    """What is to be told of a file because of the others, by file; in whatever order they come."""
    checked = sorted(checked, key=lambda found: found.file)
    works = {found.file: None if _is_ruler(found) else _work(found.file, room) for found in checked}
    told = defaultdict(list)
    for file, finding in (
        *_colliding(checked),
        *_same_pictures(checked, works),
        *_older(checked, works, room),
    ):
        told[file].append(finding)
    return dict(told)


_MOST_NAMED = 3
"""How many of the other files are named."""


def _named(others: Sequence[Path], file: Path) -> str:
    """The first of the others, from the nearest folder that holds both, and how many more there are."""
    shown = [f"“{_from_both(other, file)}”" for other in others[:_MOST_NAMED]]
    more = len(others) - len(shown)
    return listed([*shown, f"{more} more"] if more else shown)


def _from_both(other: Path, file: Path) -> str:
    above = set(file.absolute().parents)
    both = next((folder for folder in other.absolute().parents if folder in above), None)
    return (other.absolute().relative_to(both) if both else other).as_posix()


def _grouped(keyed: Iterable[tuple]) -> list[list]:
    """Values of the same key together, where there are several of them; those without a key left out."""
    groups = defaultdict(list)
    for key, value in keyed:
        if key is not None:
            groups[key].append(value)
    return [group for group in groups.values() if len(group) > 1]


# Names


def _colliding(checked: Sequence[Findings]) -> Iterator[tuple[Path, Finding]]:
    for files in _grouped((_caseless(found.file.name), found.file) for found in checked):
        for file in files:
            others = [other for other in files if other != file]
            yield file, tell("name-case", others=_named(others, file))


def _caseless(name: str) -> str:
    """What is left of a name when neither case nor the form of its accents counts (Unicode, D145)."""
    return normalize("NFC", normalize("NFD", name).casefold())


# Pictures


def _same_pictures(
    checked: Sequence[Findings], works: dict[Path, tuple[str, str] | None]
) -> Iterator[tuple[Path, Finding]]:
    """The same picture twice, unless it is told already as an older version."""
    pictures = pictures_by_print(map(_print, checked))
    keyed = ((pictures.get(_print(found)), found.file) for found in checked)
    for files in _grouped(keyed):
        for file in files:
            others = [
                o for o in files if o != file and (works[o] is None or works[o] != works[file])
            ]
            if others:
                yield file, tell("same-picture", others=_named(others, file))


def _is_ruler(found: Findings) -> bool:
    """Those of several papers and sizes are told apart by their size alone, and all are meant."""
    return found.seen is not None and found.seen.kind == RULER


def _print(found: Findings) -> str:
    return found.seen.fingerprint if found.seen else ""


# Versions

_TICK = 2
"""Seconds: ZIP archives keep times in steps of two (from memory), and unpacking several files takes one
about as long."""


def _work(file: Path, room: Room) -> tuple[str, str] | None:
    """Whose and what, where the name tells, in letters and digits alone."""
    read = read_file_name(file, room)
    return read and (_bare(read["owner"]), _bare(read["title"]))


def _bare(text: str) -> str:
    """Without case, spaces and accents; marks that are letters of their own are kept."""
    apart = normalize("NFKD", text.casefold())
    return "".join(
        sign
        for sign in apart
        if (sign.isalnum() or category(sign).startswith("M")) and not "\u0300" <= sign <= "\u036f"
    )


def _older(
    checked: Sequence[Findings], works: dict[Path, tuple[str, str] | None], room: Room
) -> Iterator[tuple[Path, Finding]]:
    for versions in _grouped((works[found.file], found) for found in checked):
        times = {found.file: _saved(found.file) for found in versions}
        latest = max(times.values())
        newest = [found for found in versions if latest - times[found.file] <= _TICK]
        for found in versions:
            is_tied = latest - times[found.file] <= _TICK
            if is_tied and len(newest) == 1:
                continue
            other = next(each for each in newest if each is not found)
            yield found.file, _version(found, other, room, is_tied=is_tied)


def _saved(file: Path) -> float:
    try:
        return file.stat().st_mtime
    except OSError:
        return 0


def _version(found: Findings, other: Findings, room: Room, *, is_tied: bool) -> Finding:
    differing = list(_differences(found, other, room))
    changed = _said("changed", what=listed(differing)) if differing else _said("unchanged")
    newer = _named([other.file], found.file)
    variant = "same-time" if is_tied else ""
    return tell("older-version", variant=variant, newer=newer, changed=changed)


def _said(name: str, **figures) -> str:
    return phrase("older-version", name, **figures)


def _differences(here: Findings, there: Findings, room: Room) -> Iterator[str]:
    for what, tell_it in (("size", _size), ("resolution", _ppi), ("profile", _profile)):
        one, other = tell_it(here, room), tell_it(there, room)
        if one and other and one != other:
            yield _said("differs", what=what, here=one, there=other)
    if here.layout and there.layout:
        borders = zip(here.layout.borders.items(), there.layout.borders.items(), strict=True)
        if any(abs(one - other) > room.tolerance.place for (_, one), (_, other) in borders):
            yield _said("borders")
    prints = _print(here), _print(there)
    if all(prints) and not are_alike(*prints):
        yield _said("picture")


def _size(found: Findings, room: Room) -> str:
    if found.layout:
        return found.layout.sheet.label
    return size_text(found.facts.size, room.units) if found.facts and found.facts.size else ""


def _ppi(found: Findings, room: Room) -> str:
    if found.facts is None:
        return ""
    stated = found.facts.ppi
    return " × ".join(dict.fromkeys(map(ppi_text, stated))) if stated else "none"


def _profile(found: Findings, room: Room) -> str:
    return "" if found.facts is None else found.facts.profile_name or "none"
