"""What the measures of a ruler sheet mean, as it is told on a screen."""

import textwrap
from collections.abc import Sequence

from labkit.geometry.causes import Cause
from labkit.geometry.measured import Errors
from labkit.room.measures import figures, verdict
from labkit.room.ruling import Ruling

_WIDE = 96


def told(errors: Errors, causes: Sequence[Cause], ruling: Ruling, units: str) -> list[str]:
    """Lines: each error with its doubt, then the causes, or that there is nothing to mend."""
    prints = "1 print" if errors.prints == 1 else f"{errors.prints} prints"
    lines = [f"{ruling}: {prints} measured."]
    lines += [f"  {name:8} {figure}" for name, figure in figures(errors, ruling, units)]
    sentences = [verdict(errors)] if not causes else [f"Likely: {each}" for each in causes]
    if causes and not errors.is_enough:
        sentences.append(verdict(errors))
    for sentence in sentences:
        lines += textwrap.wrap(sentence, _WIDE)
    return lines
