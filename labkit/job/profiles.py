"""The papers' profiles that a room's settings name: what each is, and what was printed with another."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labkit.errors import LabError
from labkit.files.child.guarded import Child, resident_child
from labkit.files.record.entry import Entry
from labkit.job.log import profile_mark
from labkit.room.printers import PATHS, Setting
from labkit.room.rules import Room

_MOST_NAMED = 10
"""How many jobs are named of those that were printed with another profile."""


@dataclass(frozen=True)
class Told:
    """What is said of the profile of one setting; ``is_fit``: it is a printer's for RGB."""

    sentences: tuple[str, ...]
    is_fit: bool


def profiles_told(
    room: Room, entries: Sequence[Entry] = (), *, child: Child | None = None
) -> Iterator[Told]:
    """What is to be said of every setting that names a profile: what it is, its date, white and deepest
    black; and of ``entries`` of the record those that were printed on this paper and printer with another.
    """
    named = [each for each in room.settings if each.profile]
    marks = defaultdict(set)
    for setting in named:
        marks[_way(setting)].add(profile_mark(setting.profile))
    for setting in named:
        told = _told(setting, room, child or resident_child())
        others = _others(setting, entries, marks.pop(_way(setting), None))
        yield replace(told, sentences=(*told.sentences, *others))


def _told(setting: Setting, room: Room, child: Child) -> Told:
    limits = {"seconds": room.limits.seconds, "memory_mb": room.limits.memory_mb}
    file = setting.profile
    where = f"{setting.paper} on {setting.printer}, {PATHS[setting.path]}"
    try:
        facts = child.run(read_profile, file.resolve(), **limits, about=file.name)
    except LabError as refusal:
        return Told((f"{where}: {refusal}",), is_fit=False)
    if facts["unfit"]:
        return Told((f"{where}: {facts['unfit']}",), is_fit=False)
    made = f"made on {facts['date']}" if facts["date"] else "without a date"
    sound = (
        f"{where}: {file.name} is a printer's RGB profile, “{facts['description']}”, {made}. "
        f"White L* {facts['white']:.0f}, deepest black L* {facts['black']:.0f}."
    )
    return Told((sound,), is_fit=True)


def _way(of: Setting | Entry) -> tuple[str, str]:
    """Paper and printer: the record does not keep the path."""
    return of.paper.casefold(), of.printer.casefold()


def _others(setting: Setting, entries: Sequence[Entry], marks: set[str] | None) -> Iterator[str]:
    """The jobs printed on its paper and printer with none of the profiles ``marks``; nothing for None."""
    if marks is None:
        return
    jobs = dict.fromkeys(
        f"{each.job} ({each.date.isoformat()})"
        for each in entries
        if _way(each) == _way(setting) and each.profile not in marks
    )
    if not jobs:
        return
    shown = list(jobs)[-_MOST_NAMED:]
    more = f", and {len(jobs) - len(shown)} before them" if len(jobs) > len(shown) else ""
    count = "1 job of the record was" if len(jobs) == 1 else f"{len(jobs)} jobs of the record were"
    yield (
        f"{setting.paper} on {setting.printer}: {count} printed with another profile or with none, and "
        f"may look different when printed again: {', '.join(shown)}{more}."
    )


def read_profile(file: Path) -> dict:
    """In a guarded child: the facts of a profile in plain values."""
    from labkit.files.pixels.paperprofile import paper_profile

    found = paper_profile(file)
    return {
        "description": found.description,
        "unfit": found.unfit,
        "date": found.date.date().isoformat() if found.date else "",
        "white": found.white and found.white[0],
        "black": found.black and found.black[0],
    }
