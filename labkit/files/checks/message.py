"""What a student is told of a file: words to paste into a message."""

from collections.abc import Sequence

from labkit.files.checks.findings import Findings
from labkit.room.rules import Room

_OPENING = {
    "fine": "can be printed as it is. Nothing needs to be mended.",
    "look": "can be printed once this is settled:",
    "stop": "cannot be printed as it was handed in:",
}
_CLOSING = {
    "fine": "",
    "look": "Please tell us what you mean, or mend it and hand it in again.",
    "stop": "Please mend it and hand it in again.",
}


def message(found: Findings, room: Room, also: Sequence[str] = ()) -> list[str]:
    """The message line by line, without a line break of its own; ``also`` are sentences on what has to be
    settled besides what was found in the file."""
    verdict = "look" if also and found.verdict == "fine" else found.verdict
    lines = [f"Your file “{found.file.name}” {_OPENING[verdict]}"]
    told = [*(item.sentence() for item in found.faults), *also]
    for number, sentence in enumerate(told, start=1):
        lines += ["", f"{number}. {sentence}"]
    if closing := _CLOSING[verdict]:
        lines += ["", closing]
    return [*lines, "", room.name]
