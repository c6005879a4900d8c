"""Teach, prepare and check pictures for inkjet prints on cut sheets and rolls.

The words a notebook uses, each imported when it is first named, so that ``import labkit`` costs
nothing: :func:`open_picture`, :func:`place`, :func:`write` and :func:`check` make up a job;
:func:`length` and :func:`find_sheet` read a length and a sheet; :func:`load_room` a room's rules.
"""

from importlib import import_module

_WORDS = {
    "LabError": "labkit.errors",
    "check": "labkit.job.words",
    "find_sheet": "labkit.geometry.paper",
    "length": "labkit.geometry.length",
    "load_room": "labkit.room.rules",
    "open_picture": "labkit.job.words",
    "place": "labkit.job.words",
    "write": "labkit.job.words",
}

__all__ = list(_WORDS)


def __getattr__(name: str):
    if name not in _WORDS:
        raise AttributeError(f"module 'labkit' has no attribute {name!r}")
    return getattr(import_module(_WORDS[name]), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *_WORDS])
