"""The search: one engine after another, each from the best that is known, until the budget is spent."""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import permutations
from operator import itemgetter
from time import monotonic

from labkit.geometry.packing.blocks import blocks_of
from labkit.geometry.packing.cutting import Stroke, makeable, strokes
from labkit.geometry.packing.exact import MOST_ITEMS, best_of_all
from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part, join, tidied
from labkit.geometry.packing.rows import NEVER, Rows
from labkit.geometry.packing.spaces import ANY, Genes, Spaces

MOST_UNITS = 6
"""Up to so many units, rows are broken in every order of them."""
ROWS_SHARE = {2: 0.7, ANY: 0.1}
"""The share of the budget after which rows are left for other layouts, by the number of stages."""
THREE_SHARE = 0.2
"""The share after which any number of stages is tried instead of three."""
OTHERWISE = 0.05
"""The share of rows for every other number of stages."""
HEAT = 0.03
"""How much longer a layout may be, as a share, that is taken on the way to a better one; over the root
of the number of units."""


@dataclass(slots=True)
class Budget:
    """How long to search: until ``seconds`` are over or ``steps`` layouts were tried, whichever is first."""

    seconds: float | None
    steps: int | None
    progress: Callable[[float], None] | None = None
    _began: float = field(default_factory=monotonic)
    _taken: int = 0

    def step(self) -> float:
        """Count one layout; the share of the budget that is spent."""
        self._taken += 1
        share = self._taken / self.steps if self.steps else 0.0
        if self.seconds:
            share = max(share, (monotonic() - self._began) / self.seconds)
        if self.progress and not self._taken % 64:
            self.progress(min(share, 1.0))
        return share


@dataclass(frozen=True, slots=True)
class Found:
    """A layout the cutter can make: what it takes along the stock, sheet after sheet, and its sheets."""

    used: int
    sheets: tuple[Part, ...]


class Search:
    """Searches for the best layout of a job in so many stages; ``found`` is the best so far, if any.

    The best is the shortest, and of equally short ones that with the fewest cuts. ``refused`` is a cut
    for which the cutter could not make a layout.
    """

    def __init__(self, job: Job, stages: int, budget: Budget, seed: int):
        self.job, self.stages, self.budget = job, stages, budget
        self.found: Found | None = None
        self.refused: Stroke | None = None
        self.proven = False
        self.bound = job.bound()
        self._chance = random.Random(seed)

    def run(self) -> None:
        """Search until the budget is spent or nothing better is possible."""
        rows = Rows(self.job)
        self._search(rows)
        if self.found is None:
            self._offer(self._one_by_one())
        if self.found:
            self.proven = self.proven or self._is_least()
            self.found = Found(self.found.used, self._made_easy(self.found.sheets))
            if self.job.roll and len(self.found.sheets) > 1:
                self._fill_one_length(rows)

    def _fill_one_length(self, rows: Rows) -> None:
        """Of a job that is too long for a roll keep the layout that holds most of it."""
        best = self.found.sheets[0]
        for order in self._orders():
            for part in self._made_easy(rows.first_sheet(order)):
                if self.job.area(part.items()) > self.job.area(best.items()):
                    best = part
        self.found, self.proven = Found(best.height, (best,)), False

    def _search(self, rows: Rows) -> None:
        self.proven = self._all_rows(rows) or self._exact()
        if self.proven:
            return
        until = ROWS_SHARE.get(self.stages, OTHERWISE)
        self._climb_rows(rows, until)
        if self.stages == ANY:
            self._climb_spaces(3, THREE_SHARE)
        self._climb_spaces(self.stages, 1)

    def _one_by_one(self) -> tuple[Part, ...]:
        """Each piece in a row or on a sheet of its own, as given."""
        pieces = []
        for item in [item for items in self.job.units for item in items]:
            ways = self.job.ways[item]
            way = next(
                way for way in ways if way[0] <= self.job.width and way[1] <= self.job.height
            )
            pieces.append(Part(*way, item, way != ways[0]))
        return (join(True, pieces),) if self.job.one_length else tuple(pieces)

    def _is_least(self) -> bool:
        return self.found is not None and self.found.used == self.bound

    def _used(self, sheets: tuple[Part, ...]) -> int:
        return (len(sheets) - 1) * self.job.height + sheets[-1].height

    def _offer(self, sheets: tuple[Part, ...]) -> bool:
        """Keep a layout if it is the best; whether the cutter can make it."""
        if not sheets:
            return False
        used, best = self._used(sheets), self.found
        if self.job.limited or (best and used == best.used):
            sheets = self._made_easy(sheets)
        if not sheets:
            return False
        better = best is None or used < best.used
        if better or (used == best.used and self._work(sheets) < self._work(best.sheets)):
            self.found = Found(used, sheets)
        return True

    def _made_easy(self, sheets: tuple[Part, ...]) -> tuple[Part, ...]:
        """The layout with equal parts side by side, or as it is; none if the cutter can make neither."""
        tidy = tuple(tidied(sheet, self.job.unit_of, self.job.units) for sheet in sheets)
        for each in (tidy, sheets):
            cuts = strokes(each, self.job) if self.job.limited else []
            refused = next((cut for cut in cuts if not makeable(cut, self.job)), None)
            if refused is None:
                return each
            self.refused = refused
        return ()

    def _work(self, sheets: tuple[Part, ...]) -> int:
        return len(strokes(sheets, self.job))

    # A few pieces

    def _all_rows(self, rows: Rows) -> bool:
        """Try every order of a few units; whether that proves the best there is."""
        units = range(len(self.job.units))
        if len(units) > MOST_UNITS:
            return False
        order = min(permutations(units), key=rows.cost)
        made = self._offer(rows.sheets(order))
        free = not self.job.limited and not rows.divides_less
        return self._is_least() or (made and free and self.stages == 2)

    def _exact(self) -> bool:
        """Try every layout of a few pieces; whether the cutter can make the best."""
        return len(self.job.ways) <= MOST_ITEMS and self._offer(best_of_all(self.job, self.stages))

    # Many

    def _climb_rows(self, rows: Rows, until: float) -> None:
        """Change an order again and again, and take the change for what is not much longer."""
        order, now = [], NEVER + 1
        for given in self._orders():
            cost = rows.cost(given)
            if cost < now:
                order, now = given, cost
            if self.budget.step() >= until:
                break
        best = now
        self._offer(rows.sheets(order))
        count = len(order)
        heat = HEAT * now / math.sqrt(count) if now < NEVER else 0
        while (share := self.budget.step()) < until and count > 1 and not self._is_least():
            changed = self._changed(order)
            cost = rows.cost(changed)
            if cost <= now + int(heat * (1 - share / until) * self._chance.random()):
                order, now = changed, cost
                if cost < best and self._offer(rows.sheets(order)):
                    best = cost

    def _orders(self) -> list[list[int]]:
        """Orders to begin with: as given, the highest first as they lie flat or stand, the largest first."""
        job, given = self.job, range(len(self.job.units))
        flat, upright = (
            [max(min(job.ways[item], key=side)[::-1] for item in items) for items in job.units]
            for side in (itemgetter(1), itemgetter(0))
        )
        areas = [job.area(items) for items in job.units]
        keys = (flat, upright, areas)
        return [list(given), *(sorted(given, key=key.__getitem__, reverse=True) for key in keys)]

    def _changed(self, order: list[int]) -> list[int]:
        """The order with two units exchanged, or a run of up to five put elsewhere."""
        order, draw = order[:], self._chance
        one, other = draw.randrange(len(order)), draw.randrange(len(order))
        how = draw.random()
        if how < 0.5:
            order[one], order[other] = order[other], order[one]
            return order
        run = 1 if how < 0.8 else draw.randrange(1, 6)
        moved = order[one : one + run]
        del order[one : one + run]
        order[other:other] = moved
        return order

    def _climb_spaces(self, stages: int, until: float) -> None:
        """Change an order again and again until all fits into less than the best; then into less yet."""
        blocks = [blocks_of(items, self.job, stages) for items in self.job.units]
        if not all(blocks):
            return
        spaces = Spaces(blocks, stages, self.job.longest, self.job.parted)
        areas = [self.job.area(items) for items in self.job.units]
        genes = Genes(self._orders()[-1], [self._chance.random() < 0.5 for _ in areas])
        now, fitting = sum(areas), True
        while not self._is_least():
            if fitting:
                changed = genes
            elif self.budget.step() < until:
                changed = self._mutated(genes)
            else:
                return
            left, sheets = spaces.fill(self._sizes(), changed)
            fitting = not left and self._allowed(sheets, stages)
            missing = sum([areas[unit] for unit in left]) if left else sum(areas)
            if fitting or missing <= now:
                genes, now = changed, missing

    def _allowed(self, sheets: tuple[Part, ...], stages: int) -> bool:
        within = stages == ANY or all(sheet.stages_from_across() <= stages for sheet in sheets)
        return within and self._offer(sheets)

    def _sizes(self) -> list[tuple[int, int]]:
        """Spaces to fill that are one unit less than the best takes."""
        wide, high = self.job.width, self.job.height
        if self.found is None:
            return [(wide, high)] * (1 if self.job.one_length else len(self.job.units))
        full, last = divmod(self.found.used - 1, high)
        return [(wide, high)] * full + ([(wide, last)] if last else [])

    def _mutated(self, genes: Genes) -> Genes:
        """Two units exchanged, one put elsewhere, or one cut off in the other direction first."""
        order, across, draw = genes.order[:], genes.across, self._chance
        one, other = draw.randrange(len(order)), draw.randrange(len(order))
        how = draw.random()
        if how < 0.4:
            order[one], order[other] = order[other], order[one]
        elif how < 0.7:
            order.insert(other, order.pop(one))
        else:
            across = across[:]
            across[one] = not across[one]
        return Genes(order, across)
