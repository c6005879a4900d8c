"""Hand-ins with known faults, for practice at the counter: what is wrong, and what a technician would say."""

from labkit.teaching.faults.cases import Case, cases, draw_case, make_case, with_another
from labkit.teaching.faults.own import read_cases
from labkit.teaching.faults.sorts import ANSWERS, Fault, Good
from labkit.teaching.faults.table import FAULTS, GOOD, ODDITIES

__all__ = [
    "ANSWERS",
    "FAULTS",
    "GOOD",
    "ODDITIES",
    "Case",
    "Fault",
    "Good",
    "cases",
    "draw_case",
    "make_case",
    "read_cases",
    "with_another",
]
