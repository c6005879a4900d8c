"""What the measures of a ruler sheet mean, as it is told on a screen."""

import textwrap
from collections.abc import Iterator, Sequence

from labkit.geometry.causes import Cause
from labkit.geometry.length import ZERO, Length
from labkit.geometry.measured import ENOUGH, Errors, Estimate, degrees_text, fine_text, percent
from labkit.room.ruling import Ruling

_WIDE = 96
NOTHING = (
    "Nothing to mend: no error is larger than what the ruler can tell, or than what the prints differ "
    "by."
)


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


def verdict(errors: Errors) -> str:
    """In a sentence, whether anything is to be mended."""
    if not any(each.is_seen for each in errors.found):
        return NOTHING
    if not errors.is_enough:
        return f"Print and measure {ENOUGH} before you change anything: sheets differ."
    return "Something is to be mended."


def figures(errors: Errors, ruling: Ruling, units: str) -> Iterator[tuple[str, str]]:
    """Each error by its name: its mean, what may be off of it, and how far the prints differ."""
    for name in ("across", "along"):
        found: Estimate = getattr(errors, name)
        side = getattr(ruling.sheet, "width" if name == "across" else "height")
        off = side * found.mean
        comes_to = f", {abs(off).both(units)} on the sheet" if found.is_seen else ""
        yield (
            name,
            f"{percent(1 + found.mean).lstrip('+')} ± {percent(found.doubt).lstrip('+')}{comes_to}; "
            f"prints differ by {percent(found.spread).lstrip('+')}{_unseen(found)}",
        )
    for name, ways in (("offset_across", ("left", "right")), ("offset_along", ("up", "down"))):
        found = getattr(errors, name)
        if found is not None:
            off = Length(found.mean)
            way = f" {ways[off > ZERO]}" if off else ""
            yield (
                "offset",
                f"{fine_text(abs(off))}{way} ± {fine_text(Length(found.doubt))}{_unseen(found)}",
            )
    if errors.skew is not None:
        found, long = errors.skew, ruling.ruler.between
        off = long * found.mean
        yield (
            "skew",
            f"{fine_text(abs(off))} over {long.both(units)}, {degrees_text(found.mean)} "
            f"± {degrees_text(found.doubt)}{_unseen(found)}",
        )


def _unseen(found: Estimate) -> str:
    return "" if found.is_seen else " (not more than can be told)"
