"""A day's plan: prints in groups, in the order in which they are printed, and what is held back."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labkit.files.checks.findings import Findings
from labkit.files.folder.jobs import Job
from labkit.files.folder.tally import TallyRow, sum_up
from labkit.files.record.entry import Entry
from labkit.geometry.length import Length
from labkit.room.route import Route, metres_text

RULE = (
    "Each printer prints one paper to its end before the next, the one that is due first in front; only "
    "what must be printed today, to be dry by its date, is never kept waiting by another paper."
)

WET = "not dry by then"


@dataclass(frozen=True, slots=True)
class Print:
    """A file that is to be printed: its ``job``, the way it goes, and the ``number`` of that day's ticket.

    ``latest`` is the last day on which it can be printed to be dry when it is due; date.max where it is
    not due.
    """

    job: Job
    found: Findings
    route: Route
    number: str
    owner: str
    title: str
    latest: date

    @property
    def price(self) -> Decimal | None:
        """Of all its copies."""
        return self.route.price(self.job.copies)

    def is_wet(self, day: date) -> bool:
        """Whether it will not be dry when it is due, printed on that ``day``."""
        return self.latest < day


@dataclass(frozen=True, slots=True)
class Group:
    """Prints that go one way, one after another; ``taken`` is what earlier groups take of the same stock.

    ``row`` is what they take together.
    """

    row: TallyRow
    prints: tuple[Print, ...]
    taken: int | Length

    @property
    def left(self) -> int | Length | None:
        """Sheets or length left when it is this group's turn; None where the room does not say."""
        left = self.row.route.stock.left
        return None if left is None else max(left - self.taken, left * 0)

    @property
    def is_enough(self) -> bool | None:
        """Whether that is enough; None where the room does not say."""
        needed = self.row.prints if self.row.metres is None else self.row.metres
        return None if self.left is None else needed <= self.left

    @property
    def left_text(self) -> str:
        """What is left, where the room says so: `` of 12 left``."""
        if self.left is None:
            return ""
        is_roll = self.row.metres is not None
        left = metres_text(self.left) if is_roll else str(self.left)
        return f" of {left} left" + ("" if self.is_enough else ": not enough")

    @property
    def due(self) -> date | None:
        """When the first of them is due."""
        return min((each.job.due for each in self.prints if each.job.due), default=None)

    def wet_text(self, day: date) -> str:
        """That its files, or how many of them, will not be dry when they are due, printed on that ``day``; ""
        for none."""
        wet = sum(each.is_wet(day) for each in self.prints)
        if not wet or wet == len(self.prints):
            return WET if wet else ""
        return f"{wet} of {len(self.prints)} {WET}"


@dataclass(frozen=True, slots=True)
class Held:
    """A file that is not printed now, with the ``message`` to its student, line by line.

    ``route`` is the way it would go, None where that is not known.
    """

    job: Job
    found: Findings
    route: Route | None
    owner: str
    message: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Printed:
    """A file that the record has already: so many good copies, and the last ``entry`` that tells of it."""

    job: Job
    entry: Entry
    copies: int


@dataclass(frozen=True, slots=True)
class Day:
    """All of it: ``groups`` in the order they are printed, printer by printer; what must be asked, what
    goes ``back``, what was ``printed`` before, and sentences on what is ``missing``."""

    day: date
    groups: tuple[Group, ...]
    ask: tuple[Held, ...]
    back: tuple[Held, ...]
    printed: tuple[Printed, ...]
    missing: tuple[str, ...]

    @property
    def printers(self) -> dict[str, tuple[Group, ...]]:
        """The groups of each printer by its name."""
        names = dict.fromkeys(group.row.route.printer.name for group in self.groups)
        return {
            name: tuple(g for g in self.groups if g.row.route.printer.name == name)
            for name in names
        }


# The order


def in_groups(prints: Sequence[Print], day: date) -> tuple[Group, ...]:
    """The prints of a day, printer by printer, those that go one way together, in the order of RULE."""
    return tuple(_with_stock(_ordered(prints, day)))


def _ordered(prints: Sequence[Print], day: date) -> Iterator[tuple[Print, ...]]:
    """The prints of each printer in turn, those that go one way together, in the order of RULE."""
    for printer in sorted({each.route.printer.name for each in prints}):
        own = [each for each in prints if each.route.printer.name == printer]
        for run in _runs(own, day):
            yield from _by(run, lambda each: (each.route.path, each.route.stock_name))


def _runs(prints: Sequence[Print], day: date) -> Iterator[list[Print]]:
    """One paper after another. Of the papers of which some must be printed today only that part goes
    ahead, but for the last of them, which is printed to its end."""
    papers = _by(prints, lambda each: each.route.paper.name)
    parts = [([p for p in paper if p.latest <= day], list(paper)) for paper in papers]
    urgent = sorted(
        (part for part in parts if part[0]), key=lambda part: len(part[0]) < len(part[1])
    )
    for part, _ in urgent[:-1]:
        yield part
    for _, whole in urgent[-1:]:
        yield whole
    later = [[p for p in whole if p.latest > day] for _, whole in urgent[:-1]]
    later += [whole for part, whole in parts if not part]
    yield from sorted(filter(None, later), key=_first)


def _by(prints: Iterable[Print], key) -> list[tuple[Print, ...]]:
    """Those of one key together, the one with the earliest date first; within it by date, owner, file."""
    groups: dict = {}
    for each in sorted(prints, key=lambda p: (p.latest, p.owner.casefold(), p.job.file)):
        groups.setdefault(key(each), []).append(each)
    return sorted(map(tuple, groups.values()), key=_first)


def _first(prints: Sequence[Print]) -> tuple:
    route = prints[0].route
    return min(p.latest for p in prints), route.paper.name, route.path, route.stock_name


def _with_stock(groups: Iterable[tuple[Print, ...]]) -> Iterator[Group]:
    """Each group with what those before it take of the same stock."""
    taken: dict = {}
    for prints in groups:
        (row,) = sum_up([(each.route, each.job.copies) for each in prints]).rows
        stock = row.route.paper.name, row.route.stock_name
        needed = row.prints if row.metres is None else row.metres
        before = taken.get(stock, needed * 0)
        taken[stock] = before + needed
        yield Group(row, prints, before)
