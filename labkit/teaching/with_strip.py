"""A final file and its test strip, handed in together: passed only when both are right."""

from pathlib import Path

from labkit.files.checks.findings import Findings
from labkit.room.rules import Room
from labkit.teaching.brief import Brief
from labkit.teaching.judge import Hints, Judgement, judge
from labkit.teaching.strips import StripJudged, find_strip, judge_strip, strip_hints


def judge_with_strip(file: str | Path, brief: Brief, room: Room, folder: Path) -> Judgement:
    """Judge the file that the reader names, and in ``folder`` whatever belongs to it.

    It may be the final file, whose strip is then looked for, or the strip, whose final file is looked for
    under the name that the brief gives it.
    """
    path = Path(file)
    strip = judge_strip(path, brief, room) if path.stem != brief.stem else None
    if strip is not None:
        return _of_strip(strip, brief, room, folder)
    return _of_final(judge(path, brief, room), find_strip(folder, brief, room))


def handed_in_with_strip(brief: Brief, room: Room, folder: Path) -> Path | None:
    """The final file in ``folder``, where it passes and so does its strip."""
    final = folder / f"{brief.stem}.tif"
    if final.exists() and judge_with_strip(final, brief, room, folder).passed:
        return final
    return None


def _of_final(final: Judgement, strip: StripJudged | None) -> Judgement:
    mend = strip_hints(strip)
    if not mend:
        told = f"{final.sentence()} Its test strip, {strip.file.name}, is right."
    elif final.passed and strip is None:
        told = f"{final.findings.file.name} is right, and its test strip is still to come."
    elif final.passed:
        told = f"{final.findings.file.name} is right, its test strip is not yet; {_to_mend(mend)}."
    else:
        both = f"{final.findings.file.name} and its test strip"
        told = f"{both} are not ready yet; {_to_mend((*final.hints, *mend))}."
    return Judgement(final.findings, Hints((*final.hints, *mend), told))


def _of_strip(strip: StripJudged, brief: Brief, room: Room, folder: Path) -> Judgement:
    name, final = strip.file.name, folder / f"{brief.stem}.tif"
    hints = list(strip.hints)
    if not final.exists():
        hints.append(f"The final file, {final.name}, is not in your folder yet.")
    elif not judge(final, brief, room).passed:
        hints.append(f"The final file, {final.name}, is not ready yet: have it judged.")
    if strip.hints:
        told = f"{name} is not the strip of your task yet; {_to_mend(strip.hints)}."
    elif hints:
        told = f"{name} is the test strip of your task."
    else:
        told = f"{name} is the test strip of your task, and {final.name} is ready to print."
    return Judgement(Findings(strip.file, ()), Hints(hints, told))


def _to_mend(hints: list[str] | tuple[str, ...]) -> str:
    return "one thing to mend" if len(hints) == 1 else f"{len(hints)} things to mend"
