"""Judge a handed-in file against its brief, with hints that teach."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from labkit.files.checks.check import compare
from labkit.files.checks.findings import Finding, Findings
from labkit.files.writing.name import read_name
from labkit.geometry.layout import Layout
from labkit.room.rules import Room
from labkit.teaching.brief import Brief
from labkit.teaching.toned import tone_hints

_SOUGHT = {
    "sheet-size": ", and that is not the sheet of your task",
    "sheet-rounded": "",
    "sheet-turned": "",
    "picture-size": ", and that is not the size of your task",
    "picture-shape": "",
    "cut-border": "",
    "name": "",
}
"""Findings whose mending is what the task asks for: the mistake is told, the answer is not."""
_NAMED = "Your task says what the name is made of."


class Hints(tuple):
    """A sentence for each thing to mend; ``judgement`` is the one to begin with, also where there is none."""

    judgement: str = ""

    def __new__(cls, hints: Iterable[str], judgement: str) -> "Hints":
        """Of these sentences."""
        made = super().__new__(cls, hints)
        made.judgement = judgement
        return made

    def _repr_pretty_(self, printer, cycle):
        printer.text("\n".join((self.judgement, *(f"  {hint}" for hint in self))))


@dataclass(frozen=True)
class Judgement:
    """Whether a file does what its brief asks, and one hint for each thing it does not."""

    findings: Findings
    hints: Hints

    @property
    def passed(self) -> bool:
        """Nothing is left to mend."""
        return not self.hints

    def sentence(self) -> str:
        """The judgement in words."""
        return self.hints.judgement

    def _repr_pretty_(self, printer, cycle):
        printer.pretty(self.hints)


def judge(file: str | Path, brief: Brief, room: Room) -> Judgement:
    """Check the file itself against the layout, the picture and the name the brief asks for.

    It does not matter what made the file. What cannot be opened is a hint too, never an error.
    """
    findings = compare(
        Path(file),
        brief.layout,
        named=brief.stem,
        picture=brief.picture,
        keep=brief.keep,
        steps=brief.steps,
        room=room,
    )
    taught = {"name": _NAMED, **brief.hints}  # once each, however often a thing is found
    hints = [
        " ".join(
            filter(
                None,
                (_told(finding, findings.layout, brief, room), _taught(finding, taught)),
            )
        )
        for finding in findings.faults
        if not _waits(finding, findings, brief, room)
    ]
    if findings.layout is None and hints:
        hints.append("Its place is measured once the file opens at the right size.")
    elif brief.lighter is not None:
        hints += tone_hints(findings, brief, room)
    return Judgement(findings, Hints(hints, _judged(findings.file.name, len(hints))))


def with_more(judgement: Judgement, more: list[str]) -> Judgement:
    """The judgement with ``more`` hints after its own."""
    hints = (*judgement.hints, *more)
    return Judgement(
        judgement.findings, Hints(hints, _judged(judgement.findings.file.name, len(hints)))
    )


def _taught(finding: Finding, taught: dict[str, str]) -> str:
    """What the task teaches of it, and of this side rather than of any; taken out of ``taught``."""
    sided = f"{finding.code} {finding.side}"
    return taught.pop(sided if sided in taught else finding.code, "")


def _told(finding: Finding, found: Layout | None, brief: Brief, room: Room) -> str:
    """What is wrong; how to mend it only where that is not what the task asks for."""
    if finding.code == "border" and found:
        border, asked = (dict(each.borders.items())[finding.side] for each in (found, brief.layout))
        way = "wide" if border > asked else "narrow"
        return f"The {finding.side} border is {border.both(room.units)}: too {way}. {finding.why}"
    if finding.code not in _SOUGHT and finding.code not in brief.sought:
        return finding.sentence()
    first = f"{finding.found[:1].upper()}{finding.found[1:]}{_SOUGHT.get(finding.code, '')}."
    return first if finding.code in brief.sought else f"{first} {finding.why}"


def _waits(finding: Finding, findings: Findings, brief: Brief, room: Room) -> bool:
    """Whether it is the name, wrong in its sheet alone, of a file on the wrong sheet: named anew it would
    lie."""
    if finding.code != "name" or not any(
        each.code.startswith("sheet-") for each in findings.faults
    ):
        return False
    got, wanted = (read_name(room.name_pattern, stem) for stem in (findings.file.stem, brief.stem))
    return bool(got) and all(
        got[part].casefold() == wanted[part].casefold() for part in ("owner", "title")
    )


def _judged(name: str, count: int) -> str:
    if not count:
        return f"{name} is ready to print: size, place, borders and name are right."
    things = "one thing" if count == 1 else f"{count} things"
    return f"{name} is not ready yet; {things} to mend."
