"""How many examples a property is tried on, and how many cases of a kind."""

import os
from collections.abc import Iterable

import pytest
from hypothesis import settings

from tests.peers import ALL_NEEDED

QUICK = 8
"""The quick run tries one in so many; all are tried where everything is tested, as CI does."""
FEWEST = 10


def examples(number: int, **others) -> settings:
    """At most ``number`` examples, however long one takes."""
    if os.environ.get(ALL_NEEDED) != "1":
        number = min(number, max(FEWEST, number // QUICK))
    return settings(max_examples=number, deadline=None, **others)


def a_few(cases: Iterable, every: int = 4) -> list:
    """The first case and every fourth, or so, after it; the others are ``slow``."""
    slow = pytest.mark.slow
    return [
        case if not number % every else pytest.param(case, marks=slow)
        for number, case in enumerate(cases)
    ]
