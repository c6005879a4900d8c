"""Strip-packing problems with a known optimum, and two plain ways to lay them out.

Hopper & Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D packing
problem", European Journal of Operational Research 128(1), 2001, pp. 34–57: sets C1 to C7, three problems
each. hyperpack (Apache-2.0) carries them. Pieces may be turned; some optima cannot be cut straight.
"""

from typing import NamedTuple

from hyperpack.benchmarks.datasets import hopper_and_turton_2000

from labkit.geometry.length import inches
from labkit.geometry.packing import Packing, Piece, Roll, pack

OPTIMA = {"C1": 20, "C2": 15, "C3": 30, "C4": 60, "C5": 90, "C6": 120, "C7": 240}
"""The least length of each set's problems (Table 1)."""


class Problem(NamedTuple):
    """One problem: its name, the width of the strip, widths and heights, the least length."""

    name: str
    width: int
    sizes: list[tuple[int, int]]
    optimum: int

    def pack(self, *, turn: bool = True, **how) -> Packing:
        """Our own layout, an inch to the unit."""
        pieces = [
            Piece(f"{number}", inches(width), inches(height), turn=turn)
            for number, (width, height) in enumerate(self.sizes, 1)
        ]
        return pack(pieces, Roll(inches(self.width)), **how)

    def excess(self, length: float) -> float:
        """How much longer than the least length, as a share."""
        return length / self.optimum - 1


def problems() -> list[Problem]:
    """All 21, C1a to C7c."""
    found = []
    for name, optimum in OPTIMA.items():
        carried = getattr(hopper_and_turton_2000, name)
        for letter in "abc":
            items = getattr(carried, f"items_{letter}").values()
            sizes = [(item["w"], item["l"]) for item in items]
            width = carried.containers["container_0"]["W"]
            found.append(Problem(name + letter, width, sizes, optimum))
    return found


def levels(problem: Problem, *, first_fit: bool) -> int:
    """The height of level layouts without turning: NFDH, or with ``first_fit`` FFDH.

    Coffman, Garey, Johnson, Tarjan, "Performance bounds for level-oriented two-dimensional packing
    algorithms", SIAM Journal on Computing 9(4), 1980.
    """
    rows: list[list[int]] = []
    for width, height in sorted(problem.sizes, key=lambda size: (-size[1], -size[0])):
        open_rows = rows if first_fit else rows[-1:]
        row = next((each for each in open_rows if each[0] + width <= problem.width), None)
        if row is None:
            rows.append(row := [0, height])
        row[0] += width
    return sum(height for _, height in rows)
