"""Two stages: rows across the stock, and each row cut into pieces that lie side by side.

Pieces are taken in an order, and broken into rows as words into lines, in the best of all ways.
"""

from collections.abc import Sequence
from itertools import groupby

from labkit.geometry.packing.cutting import makeable, row_strokes
from labkit.geometry.packing.job import ENDLESS, Job
from labkit.geometry.packing.part import Part, join

WORK = 1 << 20
"""A cost is the length used times this, plus the work of cutting: so the shorter layout always wins."""
NEVER = WORK << 60
"""The cost of what cannot be done."""

Spans = list[tuple[int, int]]
"""Rows that lie on one sheet: of each the first of its pieces in the order, and the one after its last."""


class Rows:
    """Breaks orders of a job's units into rows, and remembers every row it has looked at."""

    def __init__(self, job: Job):
        self.job = job
        kinds: dict[tuple, int] = {}
        self._kind = [kinds.setdefault(ways, len(kinds)) for ways in job.ways]
        self._standing = [min(ways) for ways in kinds]
        self._flat = [min(ways, key=lambda way: way[1]) for ways in kinds]
        self._known: dict[tuple[int, ...], tuple[int, int]] = {}
        self._kept: dict[int, tuple[int, int, Spans]] = {}
        if not job.one_length:
            for unit in range(len(job.units)):
                self._keep(unit)

    @property
    def divides_less(self) -> bool:
        """Whether a unit that takes several rows has to have them for itself."""
        return bool(self._kept)

    def cost(self, order: Sequence[int]) -> int:
        """What the best rows cost in this order of units; NEVER if there are none."""
        return self._break(order, self.job.height)[0][-1]

    def sheets(self, order: Sequence[int]) -> tuple[Part, ...]:
        """The best rows in this order, sheet after sheet; none if there are none."""
        best, came = self._break(order, self.job.height)
        return self._sheets(order, came, len(came) - 1) if best[-1] < NEVER else ()

    def first_sheet(self, order: Sequence[int]) -> tuple[Part, ...]:
        """As much of this order, from its beginning, as one sheet takes; none if it takes nothing."""
        best, came = self._break(order, self.job.height)
        end = max(end for end, cost in enumerate(best) if cost // WORK <= self.job.height)
        return self._sheets(order, came, end)

    def _sheets(
        self, order: Sequence[int], came: list[tuple[int, int | None]], end: int
    ) -> tuple[Part, ...]:
        items = self._items(order)
        sheets: list[list[Part]] = [[]]
        for spans in self._trace(came, end):
            rows = [self._row(items[start:after]) for start, after in spans]
            if sum(row.height for row in sheets[-1] + rows) > self.job.height:
                sheets.append([])
            sheets[-1] += rows
        return tuple(join(True, rows) for rows in sheets if rows)

    def _items(self, order: Sequence[int]) -> list[int]:
        return [item for unit in order for item in self.job.units[unit]]

    def _keep(self, unit: int) -> None:
        """Find the rows of its own of a unit that is not divided between sheets, if it fits on one."""
        if self.job.whole[unit]:
            best, came = self._break([unit], ENDLESS)
            if best[-1] // WORK <= self.job.height:
                rows = [span for spans in self._trace(came, len(came) - 1) for span in spans]
                self._kept[unit] = best[-1] // WORK, best[-1], rows

    def _break(
        self, order: Sequence[int], high: int
    ) -> tuple[list[int], list[tuple[int, int | None]]]:
        """The least cost of as many pieces from the beginning, and where the last row of each begins.

        With that stands the unit whose own rows end there, if they do.
        """
        kinds = [self._kind[item] for item in self._items(order)]
        kept, inside = self._places_of_kept(order, len(kinds))
        standing, wide, known = self._standing, self.job.width, self._known
        best: list[int] = [0] + [NEVER] * len(kinds)
        came: list[tuple[int, int | None]] = [(0, None)] * len(best)
        for start in range(len(kinds)):
            base = best[start]
            if base >= NEVER:
                continue
            room = -(base // WORK) % high
            if start in kept:
                unit = kept[start]
                height, cost, _ = self._kept[unit]
                cost += base if height <= room else base + room * WORK
                end = start + len(self.job.units[unit])
                if cost < best[end]:
                    best[end], came[end] = cost, (start, unit)
            across = 0
            for end in range(start + 1, len(best)):
                across += standing[kinds[end - 1]][0]
                if across > wide:
                    break
                if end in inside:
                    continue
                row = tuple(kinds[start:end])
                if row not in known:
                    known[row] = self._measure(row)
                height, cost = known[row]
                cost += base if height <= room else base + room * WORK
                if cost < best[end]:
                    best[end], came[end] = cost, (start, None)
        return best, came

    def _places_of_kept(self, order: Sequence[int], count: int) -> tuple[dict[int, int], set[int]]:
        """Where in the order the units begin that are not divided; the places inside them."""
        begins, inside, at = {}, set(), 0
        for unit in order if self._kept else ():
            after = at + len(self.job.units[unit])
            if unit in self._kept:
                begins[at] = unit
                inside.update(range(at + 1, after))
            at = after
        return begins, inside

    def _trace(self, came: list[tuple[int, int | None]], end: int) -> list[Spans]:
        found = []
        while end:
            start, unit = came[end]
            spans = [(0, end - start)] if unit is None else self._kept[unit][2]
            found.append([(start + first, start + last) for first, last in spans])
            end = start
        return found[::-1]

    def _measure(self, row: tuple[int, ...]) -> tuple[int, int]:
        """The height and the cost of a row of pieces of these kinds."""
        height = self._height(row)
        if height > self.job.height or (self.job.limited and not self._can_cut(row, height)):
            return NEVER, NEVER
        ways = [self._way(kind, height) for kind in row]
        runs = [way for way, _ in groupby(ways)]
        work = 1 + len(runs) + sum(high < height for _, high in runs)
        return height, height * WORK + work

    def _height(self, row: tuple[int, ...]) -> int:
        """The least height at which they lie side by side.

        As many lie flat as there is room for; where there is none, those are stood up first that need
        the least height for it.
        """
        least = max([self._flat[kind][1] for kind in row])
        across, flat = 0, []
        for kind in row:
            narrow, high = self._standing[kind]
            if high > least:
                flat.append((high, self._flat[kind][0] - narrow))
                narrow = self._flat[kind][0]
            across += narrow
        flat.sort()
        for high, saved in flat:
            if across <= self.job.width:
                break
            across -= saved
            least = high
        return least

    def _way(self, kind: int, height: int) -> tuple[int, int]:
        """How a piece lies in a row so high: upright, if the row is high enough."""
        standing = self._standing[kind]
        return standing if standing[1] <= height else self._flat[kind]

    def _row(self, items: Sequence[int]) -> Part:
        kinds = [self._kind[item] for item in items]
        height = self._height(tuple(kinds))
        parts = []
        for item, kind in zip(items, kinds, strict=True):
            way = self._way(kind, height)
            parts.append(Part(*way, item, way != self.job.ways[item][0]))
        return join(False, parts)

    def _can_cut(self, row: tuple[int, ...], height: int) -> bool:
        part = join(False, [Part(*self._way(kind, height), 0) for kind in row])
        return all(makeable(stroke, self.job) for stroke in row_strokes(part, self.job))
