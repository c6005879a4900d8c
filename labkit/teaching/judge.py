"""Judge a handed-in file against its brief, with hints that teach."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from labkit.files.checks.check import compare
from labkit.files.checks.findings import Findings
from labkit.files.header.picture import open_picture
from labkit.room.rules import Room
from labkit.teaching.brief import Brief


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
    picture = open_picture(brief.picture)
    findings = compare(
        Path(file),
        brief.layout,
        named=brief.stem,
        picture=picture,
        keep=brief.keep,
        room=room,
    )
    taught = dict(brief.hints)  # once each, however often a thing is found
    hints = [
        " ".join(filter(None, (finding.sentence(), taught.pop(finding.code, None))))
        for finding in findings.faults
    ]
    if findings.layout is None and hints:
        hints.append("Its place is measured once the file opens at the right size.")
    return Judgement(findings, Hints(hints, _judged(findings.file.name, len(hints))))


def _judged(name: str, count: int) -> str:
    if not count:
        return f"{name} is ready to print: size, place, borders and name are right."
    things = "one thing" if count == 1 else f"{count} things"
    return f"{name} is not ready yet; {things} to mend."
