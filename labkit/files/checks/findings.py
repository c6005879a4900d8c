"""What a check found, what it expected, why it matters to the print, and how to mend it."""

import textwrap
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from labkit.files.checks.catalogue import GRADES, PARTS, catalogue
from labkit.files.header.picture import Picture
from labkit.geometry.layout import Layout

if TYPE_CHECKING:
    from labkit.files.look.look import Seen

_INDENT = " " * 8
"""How the lines of a finding below its first begin."""
_WORDS = {"break_on_hyphens": False, "break_long_words": False}


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check found.

    ``code`` is a plain word for it, ``grade`` "fine", "look" or "stop"; the rest is for a person: what
    was found, what was expected, why it matters to the print, what to do. ``side`` names the border
    it is about, if it is about one; ``command`` is the command line that mends it where one safely does.
    """

    code: str
    grade: str
    found: str
    expected: str = ""
    why: str = ""
    remedy: str = ""
    side: str = ""
    command: str = ""

    def sentence(self) -> str:
        """The finding as it can be told, or pasted into a message."""
        found = f"{self.found[:1].upper()}{self.found[1:]}."
        expected = f"Expected: {self.expected}." if self.expected else ""
        return " ".join(filter(None, (found, expected, self.why, self.remedy)))


@dataclass(frozen=True)
class Findings:
    """All that a check found in one file.

    ``layout`` is what it read off the file, ``facts`` what the file says of itself, ``seen`` what its
    pixels show; each None where it could not be had.
    """

    file: Path
    items: tuple[Finding, ...]
    layout: Layout | None = None
    facts: Picture | None = None
    seen: "Seen | None" = None

    @property
    def verdict(self) -> str:
        """The gravest grade among the findings."""
        return max((item.grade for item in self.items), key=GRADES.index, default="fine")

    @property
    def faults(self) -> tuple[Finding, ...]:
        """The findings that are not ``fine``, gravest first."""
        off = [item for item in self.items if item.grade != "fine"]
        return tuple(sorted(off, key=lambda item: -GRADES.index(item.grade)))

    def sentence(self, first: str = "in") -> str:
        """Verdict and faults in words; ``first`` is the unit of the layout's lengths."""
        if self.faults:
            told = " ".join(item.sentence() for item in self.faults)
        else:
            told = "Nothing to mend." + (f" {self.layout.sentence(first)}" if self.layout else "")
        return f"{self.file.name}: {self.verdict}. {told}"

    def lines(self, wide: int = 100, *, in_full: bool = False) -> list[str]:
        """The findings as they are told on a screen of so many characters across: the code and the sentence
        of each, and the command that mends it; with ``in_full`` also what is in order."""
        lines = []
        for item in self.items if in_full else self.faults:
            told = f"  {item.grade:5} {item.code}: {item.sentence()}"
            lines += textwrap.wrap(told, wide, subsequent_indent=_INDENT, **_WORDS)
            if item.command:
                lines.append(f"{_INDENT}{item.command}")
        return lines

    def __str__(self) -> str:
        return self.sentence()

    def _repr_pretty_(self, printer, cycle):
        head = f"{self.file.name}: {self.verdict}" if self.faults else str(self)
        printer.text("\n".join([head, *self.lines()]))


def tell(
    code: str,
    *,
    variant: str = "",
    grade: str | None = None,
    side: str = "",
    command: str = "",
    **figures,
) -> Finding:
    """The finding ``code`` of ``findings.toml`` with its figures filled in; ``variant`` is the case it is
    told for, ``grade`` overrules its own.

    What is ``fine`` is told without a why and a remedy.
    """
    said = catalogue()[code].said(variant)
    grade = grade or said["grade"]
    parts = PARTS[:2] if grade == "fine" else PARTS
    filled = {part: said[part].format(side=side, **figures) for part in parts}
    return Finding(code, grade, side=side, command=command, **filled)


def phrase(code: str, name: str, **figures) -> str:
    """A piece of a sentence of the finding ``code``, with its figures filled in."""
    return catalogue()[code].phrases[name].format(**figures)
