"""Many hand-ins checked in one run, several at a time, each in a guarded child."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

from labkit.files.checks.check import check
from labkit.files.checks.findings import Findings, tell
from labkit.files.child.crew import Crew
from labkit.files.folder.alike import findings_across
from labkit.room.rules import Room

LOOKING = (
    "labkit.files.look.look",
    "labkit.files.look.locate",
    "labkit.files.pixels.decode",
    "imagecodecs",
)
"""What a child imports before the first file."""
_WORKERS = min(os.cpu_count() or 1, 4)


def check_all(
    files: Sequence[Path],
    room: Room,
    *,
    thumbnails: bool = False,
    progress: Callable[[int], None] = lambda done: None,
) -> list[Findings]:
    """Check many files, several at a time, each in a guarded child; what shows only across files is
    added. In the order of ``files``; ``progress`` is told how many are done."""
    workers = min(_WORKERS, len(files))
    checked = []
    with Crew(workers, *LOOKING) as crew, ThreadPoolExecutor(workers) as pool:

        def look_over(file: Path) -> Findings:
            try:
                return check(file, room=room, thumbnail=thumbnails, child=crew)
            except Exception as fault:  # one bad file never ends the run
                told = f"the check of it failed ({type(fault).__name__}: {fault})"
                return Findings(file, (tell("unreadable", refusal=told),))

        for found in pool.map(look_over, files):
            checked.append(found)
            progress(len(checked))
    more = findings_across(checked, room)
    return [replace(each, items=(*each.items, *more.get(each.file, ()))) for each in checked]
