"""How many examples a property is tried on."""

import os

from hypothesis import settings

from tests.peers import ALL_NEEDED

QUICK = 5
"""The quick run tries one in so many; all are tried where everything is tested, as CI does."""
FEWEST = 12


def examples(number: int, **others) -> settings:
    """At most ``number`` examples, however long one takes."""
    if os.environ.get(ALL_NEEDED) != "1":
        number = min(number, max(FEWEST, number // QUICK))
    return settings(max_examples=number, deadline=None, **others)
