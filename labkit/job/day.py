"""The day's work: what of the hand-ins is printed, what is asked, what goes back."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import ceil

from labkit.files.checks.findings import Findings
from labkit.files.checks.message import message
from labkit.files.checks.name_parts import read_file_name
from labkit.files.folder.jobs import Job
from labkit.files.folder.plan import Day, Held, Print, Printed, in_groups
from labkit.files.record.entry import Entry
from labkit.job.log import fingerprint
from labkit.job.number import job_number
from labkit.job.ticket import route_doubts
from labkit.room.route import Route
from labkit.room.rules import Room


def plan_day(
    jobs: Sequence[Job],
    checked: Sequence[Findings],
    room: Room,
    day: date,
    *,
    record: Iterable[Entry] = (),
    missing: Sequence[str] = (),
) -> Day:
    """What is to be done on a ``day`` with files that were ``checked``; each has a job or several.

    Fine files are printed, as many copies as the ``record`` does not have yet; of the others nothing is
    printed before it was asked, or mended.
    """
    by_file = {found.file: found for found in checked}
    before = _Before(record, jobs)
    prints, ask, back, printed = [], [], [], []
    for job in jobs:
        found = by_file[job.file]
        named = read_file_name(job.file, room) or {}
        owner = named.get("owner", "") or job.student
        route = room.route(found.layout.sheet, job.paper) if found.layout else None
        if done := before.of(job, found):
            printed.append(done)
        if done and done.copies >= job.copies:
            continue
        doubts = _doubts(found, route, room)
        if found.verdict == "fine" and route and not doubts:
            number = job_number(job.file, day)
            title = named.get("title", "") or job.file.stem
            left = _less(job, done)
            prints.append(
                Print(left, found, route, number, owner, title, _latest(left, route, room))
            )
        else:
            held = Held(job, found, route, owner, tuple(message(found, room, doubts)))
            (back if found.verdict == "stop" else ask).append(held)
    return Day(day, in_groups(prints, day), tuple(ask), tuple(back), tuple(printed), tuple(missing))


def _doubts(found: Findings, route: Route | None, room: Room) -> list[str]:
    """What is to be asked because of the way it would go."""
    if route is None:
        return []
    told = route_doubts(found, route, room)
    if route.stock and not route.setting:
        told.append(
            f"“{route.paper.name}” in {route.stock_name} goes through no printer here. Choose another paper."
        )
    return told


class _Before:
    """How many good copies the record has of a file, on the paper that is asked for, or on any that no other
    job of it asks for: by its bytes; of a file that prints share by theirs."""

    def __init__(self, record: Iterable[Entry], jobs: Sequence[Job]):
        self._good = [entry for entry in record if entry.result == "good"]
        self._asked = {(job.file, _key(job.paper)) for job in jobs if job.paper}

    def of(self, job: Job, found: Findings) -> Printed | None:
        if not self._good or found.facts is None:
            return None
        owned = found.seen.owned if found.seen else ()
        own = [each.fingerprint for each in owned] or [fingerprint(job.file)]
        lines = [each for each in self._good if each.fingerprint in own and self._is_on(each, job)]
        if owned:
            whole = str(job.file.resolve())
            lines = [each for each in lines if each.file == whole]
        copies = sum(each.copies for each in lines) // len(own)
        return Printed(job, lines[-1], copies) if copies else None

    def _is_on(self, entry: Entry, job: Job) -> bool:
        paper = _key(entry.paper)
        return paper == _key(job.paper) if job.paper else (job.file, paper) not in self._asked


def _key(paper: str) -> str:
    return paper.strip().casefold()


def _less(job: Job, done: Printed | None) -> Job:
    return replace(job, copies=job.copies - done.copies) if done else job


def _latest(job: Job, route: Route, room: Room) -> date:
    """The last day on which it can be printed to be dry when it is due."""
    hours = route.setting.drying_hours
    days = ceil(hours / 24) if hours > room.handling.same_day_hours else 0
    return job.due - timedelta(days) if job.due else date.max
