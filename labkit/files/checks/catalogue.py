"""What a check can find, as ``findings.toml`` lays it down: the one place that knows."""

import tomllib
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

GRADES = ("fine", "look", "stop")
"""Print it; a person must decide; it cannot be printed as handed in."""
PARTS = ("found", "expected", "why", "remedy")
"""What is said of a finding."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that can be found: its usual grade, and all that is said of it.

    ``family`` and ``reason`` are keys of :func:`families` and :func:`reasons`; ``reason`` is "" where a
    worker at the counter has no say. ``told`` is "exercise" or "writer" where it is never told of a
    hand-in. ``command``: `prepare --whole` mends it without moving a pixel. ``texts`` are the PARTS,
    ``variants`` what differs in a certain case, ``phrases`` pieces of a sentence.
    """

    family: str
    grade: str
    texts: dict[str, str]
    reason: str = ""
    told: str = ""
    command: bool = False
    variants: dict[str, dict[str, str]] = field(default_factory=dict)
    phrases: dict[str, str] = field(default_factory=dict)

    def said(self, variant: str = "") -> dict[str, str]:
        """Grade and PARTS in one of its variants; those that it lacks are ""."""
        said = {"grade": self.grade} | dict.fromkeys(PARTS, "") | self.texts
        return said | (self.variants[variant] if variant else {})


@cache
def catalogue() -> dict[str, Entry]:
    """Every finding by its code, in the order of the file."""
    return {code: _entry(told) for code, told in _written()["finding"].items()}


def families() -> dict[str, str]:
    """The families of findings, each with its name in words, in the order in which they are listed."""
    return _written()["families"]


def reasons() -> dict[str, str]:
    """What can be wrong with a hand-in, in a worker's words, in the order in which it is asked."""
    return _written()["reasons"]


def codes_of(reason: str) -> tuple[str, ...]:
    """The codes of the findings that go with one of the :func:`reasons`."""
    return tuple(code for code, entry in catalogue().items() if entry.reason == reason)


def _entry(told: dict) -> Entry:
    told = dict(told)
    texts = {part: told.pop(part) for part in PARTS if part in told}
    variants, phrases = told.pop("variant", {}), told.pop("phrase", {})
    return Entry(**told, texts=texts, variants=variants, phrases=phrases)


@cache
def _written() -> dict:
    file = files("labkit.files.checks").joinpath("findings.toml")
    return tomllib.loads(file.read_text(encoding="utf-8"))
