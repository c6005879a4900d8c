"""A print that was made becomes lines of the record; and a job of the record is printed again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from hashlib import file_digest
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.files.checks.check import check
from labkit.files.checks.name_parts import read_file_name
from labkit.files.child.guarded import Child
from labkit.files.record.entry import Entry
from labkit.job.number import job_number, same_job
from labkit.job.ticket import Ticketed, write_ticket
from labkit.room.route import Route
from labkit.room.rules import Room


def entries_of(
    file: Path,
    *,
    room: Room,
    day: date,
    copies: int = 1,
    spoiled: int = 0,
    why: str = "",
    paper: str | None = None,
    printer: str | None = None,
    course: str = "",
    number: str | None = None,
    page: int | None = None,
    child: Child | None = None,
) -> list[Entry]:
    """The lines for one print file: its good ``copies``, and those that were ``spoiled``, if any.

    Paper, area and price are those of its ticket; ``number`` is the one printed there (None: that of a
    ticket written on ``day``), ``page`` the one that was printed of several. LabError for counts below
    zero or none at all, for spoiled prints without a reason, and for a file that is no sheet.
    """
    if min(copies, spoiled) < 0 or copies + spoiled == 0:
        raise LabError(
            f"{copies} good and {spoiled} spoiled prints make no line: give how many came out, with "
            "--copies, --spoiled or both."
        )
    if spoiled and not why.strip():
        raise LabError("say with --why what spoiled them: next year's orders are reckoned from it.")
    found = check(file, room=room, page=page, child=child)
    if found.layout is None:
        told = " ".join(item.sentence() for item in found.faults)
        raise LabError(f"“{file.name}” is no finished sheet, so it was not printed as one. {told}")
    route = room.route(found.layout.sheet, paper, printer)
    named = read_file_name(file, room) or {}
    common = {
        "job": number or job_number(file, day),
        "date": day,
        "file": str(file.resolve()),
        "fingerprint": fingerprint(file),
        "owner": named.get("owner", ""),
        "title": named.get("title", "") or file.stem,
        "course": course,
        "printer": route.printer.name,
        "paper": route.paper.name,
        "size": route.sheet.label,
        "profile": profile_of(route),
    }
    made = []
    if copies:
        price = route.price(copies)
        made.append(Entry(**common, copies=copies, area_m2=_area(route, copies), price=price))
    if spoiled:
        area = _area(route, spoiled)
        made.append(
            Entry(
                **common,
                copies=spoiled,
                area_m2=area,
                price=route.price(spoiled),
                result="spoiled",
                waste_m2=area,
                why=why.strip(),
            )
        )
    return made


@dataclass(frozen=True, slots=True)
class Reprint:
    """A job's ticket made again under the ``number`` that the record has, and what is not as it was, in
    sentences."""

    ticketed: Ticketed
    number: str
    changed: tuple[str, ...]


def print_again(
    number: str,
    entries: Sequence[Entry],
    *,
    room: Room,
    file: Path | None = None,
    paper: str | None = None,
    out: Path | None = None,
    replace_it: bool = False,
    page: int | None = None,
) -> Reprint:
    """Write the ticket of a job of the record again: same file, paper, printer, copies and number.

    ``file`` is where the print file lies now (None: where it lay), ``paper`` the one meant where the job
    was printed on several, ``page`` that of several. LabError for a number that the record does not know,
    a job of several papers of which none is said, or a file that is not there.
    """
    jobs = _on_one_paper(_lines_of(number, entries), paper)
    was = jobs[-1]
    file = file or Path(was.file)
    if not file.is_file():
        raise LabError(
            f"{file} is not there any more: say with --file where the print file lies now."
        )
    good = [each for each in jobs if each.result == "good"]
    ticketed = write_ticket(
        file,
        room=room,
        day=was.date,
        copies=sum(each.copies for each in good) or was.copies,
        paper=was.paper,
        printer=was.printer,
        course=was.course,
        out=out,
        replace_it=replace_it,
        number=was.job,
        page=page,
    )
    return Reprint(ticketed, was.job, tuple(_changed(was, file, ticketed.route)))


def copies_before(made: Sequence[Entry], record: Sequence[Entry]) -> Iterator[str]:
    """For each line of good prints that is to be added, a sentence where the record has good copies of that
    file on that paper already, under whichever day's number."""
    for line in made:
        same = [
            each
            for each in record
            if each.result == line.result == "good"
            and (each.fingerprint, each.paper, each.owner, each.title)
            == (line.fingerprint, line.paper, line.owner, line.title)
        ]
        if same:
            count = sum(each.copies for each in same)
            copies = "1 copy" if count == 1 else f"{count} copies"
            yield (
                f"the record had {copies} of {line.title} on {line.paper} already, the last of "
                f"{same[-1].date.isoformat()} under {same[-1].job}. If these are the same prints, delete the "
                "new line."
            )


def _lines_of(number: str, entries: Sequence[Entry]) -> Sequence[Entry]:
    """The lines of a job: those of its whole number, else those of the same file on another day."""
    wanted = number.strip().casefold()
    jobs = [each for each in entries if each.job.casefold() == wanted]
    jobs = jobs or [each for each in entries if same_job(each.job, wanted)]
    if not jobs:
        raise LabError(
            f"the record has no job {number}: `labkit log show --all` lists the numbers it has."
        )
    numbers = list(dict.fromkeys(each.job for each in jobs))
    if len(numbers) > 1:
        raise LabError(
            f"the record has no job {number}, but that file on other days: say which, {' or '.join(numbers)}."
        )
    return jobs


def _on_one_paper(jobs: Sequence[Entry], paper: str | None) -> Sequence[Entry]:
    """The lines of a job that are one ticket: those on one paper."""
    number = jobs[-1].job
    papers = list(dict.fromkeys(each.paper for each in jobs))
    if paper is None and len(papers) > 1:
        raise LabError(
            f"job {number} was printed on {len(papers)} papers, and a ticket is for one: say which with "
            f"--paper, {' or '.join(f'“{name}”' for name in papers)}."
        )
    chosen = [
        each for each in jobs if paper is None or each.paper.casefold() == paper.strip().casefold()
    ]
    if not chosen:
        raise LabError(f"job {number} was not printed on “{paper}”, but on {', '.join(papers)}.")
    return chosen


def fingerprint(file: Path) -> str:
    """Sixteen signs that tell whether the bytes of a file are still the same (SHA-256)."""
    try:
        with file.open("rb") as opened:
            return file_digest(opened, "sha256").hexdigest()[:16]
    except OSError as error:
        raise LabError(f"{file} cannot be read ({system_reason(error)}): ask its owner.") from None


def profile_of(route: Route) -> str:
    """The paper's profile by its name, and eight signs that tell whether it is still the same; "" where
    there is none."""
    profile = route.setting and route.setting.profile
    return profile_mark(profile) if profile else ""


def profile_mark(profile: Path) -> str:
    """A paper's profile as the record has it."""
    return f"{profile.name} {fingerprint(profile)[:8]}"


def _area(route: Route, copies: int) -> Decimal:
    return Decimal(str(round(route.area(copies), 4)))


def _changed(was: Entry, file: Path, route: Route) -> Iterator[str]:
    day = was.date.isoformat()
    if fingerprint(file) != was.fingerprint:
        yield f"{file.name} is not the file that was printed on {day}: it has been saved since."
    if (now := profile_of(route)) != was.profile:
        yield (
            f"the profile of {was.paper} was {was.profile or 'none'} on {day}, and is {now or 'none'} now: "
            "colours may differ."
        )
