"""A print that was made becomes lines of the record; and a job of the record is printed again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from hashlib import file_digest
from pathlib import Path

from labkit.errors import LabError, system_reason
from labkit.files.checks.check import check
from labkit.files.checks.findings import Findings
from labkit.files.checks.name_parts import read_file_name
from labkit.files.child.guarded import Child
from labkit.files.gang.owned import Owned
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
    """The lines for one print file: its good ``copies``, and those that were ``spoiled``, if any; of a file
    that prints share a line for each print, with its part of the paper and its share of the price.

    Paper (where none is given), area and price are those of its ticket, or of the page that prints were laid
    out with; ``number`` is the one printed there (None: that of a
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
    route = room.route(found.layout.sheet, paper or _paper_told(found, room), printer)
    common = {
        "job": number or job_number(file, day),
        "date": day,
        "file": str(file.resolve()),
        "course": course,
        "printer": route.printer.name,
        "paper": route.paper.name,
        "profile": profile_of(route),
    }
    prints = _prints_on(file, found, route, room)
    made = _lines(common, prints, route, copies) if copies else []
    if spoiled:
        lost = _lines(common | {"result": "spoiled", "why": why.strip()}, prints, route, spoiled)
        made += [replace(each, waste_m2=each.area_m2) for each in lost]
    return made


@dataclass(frozen=True, slots=True)
class _OnFile:
    """A print on a file: what a line says of it, how many there are of it, their area in pixels, and what one
    sheet of them was said to cost (None: a share by area)."""

    told: dict
    count: int = 1
    area: int = 1
    price: Decimal | None = None


def _paper_told(found: Findings, room: Room) -> str | None:
    """The paper that prints were laid out on together, where the room has it."""
    names = [each.paper for each in found.seen.owned] if found.seen else []
    return next((each.name for each in room.papers if each.name in names), None)


def _prints_on(file: Path, found: Findings, route: Route, room: Room) -> list[_OnFile]:
    """The prints that share a file, each once; or the one that it is."""
    apart: dict[tuple, list[Owned]] = {}
    for each in found.seen.owned if found.seen else ():
        apart.setdefault((each.owner, each.title, each.size, each.fingerprint), []).append(each)
    if not apart:
        named = read_file_name(file, room) or {}
        return [
            _OnFile(
                {
                    "owner": named.get("owner", ""),
                    "title": named.get("title", "") or file.stem,
                    "size": route.sheet.label,
                    "fingerprint": fingerprint(file),
                }
            )
        ]
    return [
        _OnFile(
            dict(zip(("owner", "title", "size", "fingerprint"), key, strict=True)),
            len(pieces),
            sum(each.area for each in pieces),
            _price_told(pieces, route),
        )
        for key, pieces in apart.items()
    ]


def _price_told(pieces: Sequence[Owned], route: Route) -> Decimal | None:
    """The share told when they were laid out; None where there is none, or on another paper."""
    is_told = all(each.price and each.paper == route.paper.name for each in pieces)
    return sum(Decimal(each.price) for each in pieces) if is_told else None


def _lines(common: dict, prints: Sequence[_OnFile], route: Route, copies: int) -> list[Entry]:
    """A line for each print of a file that was printed so often."""
    from labkit.files.gang.gang import share_by_area

    areas = [Fraction(each.area) for each in prints]
    shares = share_by_area(route.price(copies), areas)
    if all(each.price is not None for each in prints):
        shares = [each.price * copies for each in prints]
    whole, used = sum(areas), route.area(copies)
    return [
        Entry(
            **common | each.told,
            copies=each.count * copies,
            area_m2=Decimal(str(round(used * float(area / whole), 4))),
            price=price,
        )
        for each, area, price in zip(prints, areas, shares, strict=True)
    ]


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
    good = [each for each in jobs if each.result == "good" and each.file == was.file]
    on_file = _shared(file, was, room)
    copies = sum(each.copies for each in good or [was]) // max(1, len(on_file))
    ticketed = write_ticket(
        file,
        room=room,
        day=was.date,
        copies=max(1, copies),
        paper=was.paper,
        printer=was.printer,
        course=was.course,
        out=out,
        replace_it=replace_it,
        number=was.job,
        page=page,
    )
    return Reprint(ticketed, was.job, tuple(_changed(was, file, on_file, ticketed.route)))


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


def _shared(file: Path, was: Entry, room: Room) -> list[str]:
    """The fingerprints of the prints that share a file, of which a line of the record is one; else none."""
    if fingerprint(file) == was.fingerprint:
        return []
    seen = check(file, room=room).seen
    prints = [each.fingerprint for each in seen.owned] if seen else []
    return prints if was.fingerprint in prints else []


def _changed(was: Entry, file: Path, on_file: Sequence[str], route: Route) -> Iterator[str]:
    day = was.date.isoformat()
    if was.fingerprint not in (on_file or [fingerprint(file)]):
        yield f"{file.name} is not the file that was printed on {day}: it has been saved since."
    if (now := profile_of(route)) != was.profile:
        yield (
            f"the profile of {was.paper} was {was.profile or 'none'} on {day}, and is {now or 'none'} now: "
            "colours may differ."
        )
