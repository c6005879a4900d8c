"""What is wanted of the files of a folder: paper, copies, course and date, as folders and tables say."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from unicodedata import normalize

from labkit.errors import LabError
from labkit.files.checks.words import listed
from labkit.files.folder.hand_ins import hand_ins
from labkit.files.table import read_table
from labkit.room.rules import Room

TABLE = "jobs.csv"
COLUMNS = ("file", "paper", "copies", "course", "due")
"""Those of the table; only the first is needed."""
_MOST = 999
"""Copies; more are a slip of the hand (our own judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is wanted of one file: so many ``copies`` on a ``paper`` (None: the first kept in its size).

    ``due`` is the day by which it is to be handed out. ``student`` is the sub-folder it lies in, where
    that is not a paper's; "" for none.
    """

    file: Path
    paper: str | None = None
    copies: int = 1
    course: str = ""
    due: date | None = None
    student: str = ""


def read_jobs(
    paths: Sequence[Path], room: Room, outputs: Sequence[Path] = ()
) -> tuple[list[Job], list[str]]:
    """The jobs in files and folders, in the order of their files; and a sentence for each row of a table
    whose file is not there.

    A sub-folder that is called as a paper gives the paper. A row of a ``jobs.csv`` says more of a file of
    its folder, or of a folder inside it; a file may have a row for each paper it is wanted on. LabError
    with all that is wrong in the tables, each with its line.
    """
    found = list(hand_ins(paths, outputs))
    tables = [file for file in found if file.name.casefold() == TABLE]
    files = [file for file in found if file not in tables]
    plain = {file: _by_folder(file, paths, room) for file in files}
    rows: dict[Path, list[Job]] = {}
    wrong, missing = [], []
    for table in tables:
        for line, row in _rows(table):
            where = f"{table}, line {line}"
            try:
                asked = _asked(row, room)
                file = _meant(row["file"], table.parent, files)
                if file is None:
                    missing.append(f"{where}: {_not_there(row['file'], asked)}")
                    continue
                job = _joined(plain[file], asked)
                if any(job.paper == other.paper for other in rows.get(file, ())):
                    raise LabError(
                        f"“{file.name}” stands twice on the same paper: put its copies into one row."
                    )
                rows.setdefault(file, []).append(job)
            except LabError as mistake:
                wrong.append(f"{where}: {mistake}")
    if wrong:
        raise LabError("\n".join(wrong))
    return [job for file in files for job in rows.get(file, [plain[file]])], missing


def _by_folder(file: Path, paths: Sequence[Path], room: Room) -> Job:
    """What the folders say that a file lies in, from the named one inwards."""
    above = next((path for path in paths if path.is_dir() and path in file.parents), None)
    if above is None:
        return Job(file=file)
    inside = file.relative_to(above).parts[:-1]
    papers = {_bare(paper.name): paper.name for paper in room.papers}
    named = [papers[_bare(n)] for n in (above.resolve().name, *inside) if _bare(n) in papers]
    students = [name for name in inside if _bare(name) not in papers]
    return Job(file=file, paper=named[-1] if named else None, student="".join(students[:1]))


def _bare(name: str) -> str:
    """A name, however it had to be spelled as a folder's."""
    return " ".join(normalize("NFC", name).casefold().replace("_", " ").replace("-", " ").split())


# Tables


def _rows(table: Path) -> Iterator[tuple[int, dict[str, str]]]:
    head, rows = read_table(table)
    known = f"the columns are {listed([*COLUMNS])}, and only file is needed"
    if unknown := [name for name in head if name and name not in COLUMNS]:
        raise LabError(f"{table}: a column is called “{unknown[0]}”; {known}.")
    if "file" not in head:
        raise LabError(f"{table} has no column file: its first line names the columns; {known}.")
    return rows


def _asked(row: dict[str, str], room: Room) -> dict:
    """What a row says, without what it leaves open."""
    if not row["file"]:
        raise LabError("no file is named: give the file's name, or delete the line.")
    readers = {
        "paper": lambda text: room.paper(text).name,
        "copies": _copies,
        "course": str,
        "due": _due,
    }
    return {name: read(row[name]) for name, read in readers.items() if row.get(name)}


def _joined(plain: Job, asked: dict) -> Job:
    return Job(file=plain.file, student=plain.student, **{"paper": plain.paper} | asked)


def _copies(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= _MOST):
        raise LabError(f"copies is “{text}”: write a whole number from 1 to {_MOST}.")
    return int(text)


def _due(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise LabError(
            f"due is “{text}”, which is no date: write year, month and day like 2031-05-12."
        ) from None


def _meant(name: str, folder: Path, files: Sequence[Path]) -> Path | None:
    """The file that a row means: where it says, or the only one of that name further inside."""
    wanted = normalize("NFC", name.replace("\\", "/"))
    inside = {
        file: normalize("NFC", file.relative_to(folder).as_posix())
        for file in files
        if folder in file.parents
    }
    for file, place in inside.items():
        if place == wanted:
            return file
    called = [file for file in inside if normalize("NFC", file.name) == wanted]
    if len(called) > 1:
        places = listed([f"“{inside[file]}”" for file in called])
        raise LabError(f"“{name}” may be {places}: write which, with its folder.")
    return next(iter(called), None)


def _not_there(name: str, asked: dict) -> str:
    copies = asked.get("copies", 1)
    wanted = "1 print is" if copies == 1 else f"{copies} prints are"
    on = f" on {asked['paper']}" if "paper" in asked else ""
    return f"there is no file “{name}”, of which {wanted} wanted{on}. Ask for it, or mend the name."
