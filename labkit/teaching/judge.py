"""Judge a handed-in file against its brief, with hints that teach."""

from dataclasses import dataclass
from pathlib import Path

from labkit.files.checks.check import compare
from labkit.files.checks.findings import Findings
from labkit.room.rules import Room
from labkit.teaching.brief import Brief


@dataclass(frozen=True)
class Judgement:
    """Whether a file does what its brief asks, and one hint for each thing it does not."""

    findings: Findings
    hints: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Nothing is left to mend."""
        return not self.hints

    def sentence(self) -> str:
        """The judgement in words."""
        if self.passed:
            return f"{self.findings.file.name} is ready to print: size, place, borders and name are right."
        count = len(self.hints)
        things = "one thing" if count == 1 else f"{count} things"
        return f"{self.findings.file.name} is not ready yet; {things} to mend."


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
        room=room,
    )
    taught = dict(brief.hints)  # once each, however often a thing is found
    hints = [
        " ".join(filter(None, (finding.sentence(), taught.pop(finding.code, None))))
        for finding in findings.faults
    ]
    if findings.layout is None and hints:
        hints.append("Its place is measured once the file opens at the right size.")
    return Judgement(findings, tuple(hints))
