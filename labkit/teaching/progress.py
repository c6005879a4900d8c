"""How far a reader is: read from the files they exported, never from what they said."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from labkit.room.rules import Room
from labkit.teaching.aspect_ratio import aspect_ratio_brief
from labkit.teaching.at_the_counter import counter_brief
from labkit.teaching.brief import Brief, Candidate
from labkit.teaching.colour import colour_brief
from labkit.teaching.handing_in import HandingTask, handed_in, handing_in_task
from labkit.teaching.judge import judge
from labkit.teaching.margins import margins_brief
from labkit.teaching.resolution import resolution_brief
from labkit.teaching.roll_paper import RollTask, roll_handed_in, roll_paper_task
from labkit.teaching.sheet_sizes import sheet_sizes_brief
from labkit.teaching.trim_and_measure import trim_brief
from labkit.teaching.with_strip import handed_in_with_strip


def _by_its_name(brief: Brief, room: Room, folder: Path) -> Path | None:
    file = folder / f"{brief.stem}.tif"
    return file if file.exists() and judge(file, brief, room).passed else None


@dataclass(frozen=True)
class Lesson:
    """A lesson: its file's name without ending, its title, minutes alone, what its exercise asks, and how
    the file that does it is found in the lesson's own folder."""

    name: str
    title: str
    minutes: int
    draw_brief: Callable[[str, Sequence[Candidate], Room], Brief | HandingTask | RollTask]
    handed_in: Callable[[Brief | HandingTask | RollTask, Room, Path], Path | None] = _by_its_name


LESSONS = (
    Lesson("01-resolution", "Resolution", 45, resolution_brief),
    Lesson("02-sheet-sizes", "Sheet sizes", 45, sheet_sizes_brief),
    Lesson("03-aspect-ratio", "Aspect ratio", 40, aspect_ratio_brief),
    Lesson("04-margins", "Margins", 35, margins_brief),
    Lesson("05-colour", "Colour", 50, colour_brief, handed_in_with_strip),
    Lesson(
        "06-handing-in",
        "Handing in",
        50,
        handing_in_task,
        lambda task, _, folder: handed_in(task, folder),
    ),
    Lesson(
        "07-roll-paper",
        "Roll paper",
        45,
        roll_paper_task,
        lambda task, _, folder: roll_handed_in(task, folder),
    ),
    Lesson("08-at-the-counter", "At the counter", 60, counter_brief),
    Lesson("09-trim-and-measure", "Trim and measure", 45, trim_brief),
)
"""In the order they are read in."""


@dataclass(frozen=True)
class Step:
    """Whether a lesson's exercise is done: the file that does it, or None."""

    lesson: Lesson
    done: Path | None


def progress(
    reader: str, pictures: Sequence[Candidate], room: Room, exports: Path
) -> tuple[Step, ...]:
    """Each lesson with the reader's file that passes its exercise.

    Files are looked for in the lesson's own folder under ``exports``, and judged as the exercise does.
    LabError without a name.
    """
    steps = []
    for lesson in LESSONS:
        brief = lesson.draw_brief(reader, pictures, room)
        done = lesson.handed_in(brief, room, exports / lesson.name)
        steps.append(Step(lesson, done))
    return tuple(steps)
