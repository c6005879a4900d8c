"""What the measures of a ruler sheet mean, as it is told on a screen."""

import json
import textwrap
from collections.abc import Sequence
from fractions import Fraction

from labkit.geometry.causes import Cause
from labkit.geometry.length import MM_PER_INCH
from labkit.geometry.measured import Errors, Estimate
from labkit.room.measures import NO_EDGE, figures, verdict
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
    if ruling.is_roll:
        sentences.append(NO_EDGE)
    for sentence in sentences:
        lines += textwrap.wrap(sentence, _WIDE)
    return lines


def as_json(
    errors: Errors, causes: Sequence[Cause], ruling: Ruling, kept: dict[str, str] | None = None
) -> str:
    """The same for other programs. Scales and skew are parts of one (-0.024: 2.4 % too short); offsets, to
    the right and down, and by how much the sheet is longer than its name, are millimetres; null is what was
    not measured. ``kept`` is where it was kept."""
    told = {
        "printer": ruling.printer.name,
        "path": ruling.path,
        "paper": ruling.paper.name,
        "stock": ruling.name,
        "prints": errors.prints,
        "enough": errors.is_enough,
        "across": _estimate(errors.across),
        "along": _estimate(errors.along),
        "offset_across": _estimate(errors.offset_across, MM_PER_INCH),
        "offset_along": _estimate(errors.offset_along, MM_PER_INCH),
        "skew": _estimate(errors.skew),
        "sheet_longer": _estimate(errors.longer, MM_PER_INCH),
        "causes": [
            {"name": each.name, "why": each.told, "mend": each.mend, "is_setting": each.is_set}
            for each in causes
        ],
        "verdict": verdict(errors),
        "not_read": NO_EDGE if ruling.is_roll else "",
        "kept": kept,
    }
    return json.dumps(told, ensure_ascii=False, indent=1)


def _estimate(found: Estimate | None, unit: Fraction = Fraction(1)) -> dict | None:
    """Its figures in units of which an inch, or one, has so many."""
    if found is None:
        return None
    return {
        "mean": float(found.mean * unit),
        "doubt": float(found.doubt * unit),
        "spread": float(found.spread * unit),
        "values": [float(each * unit) for each in found.values],
        "is_seen": found.is_seen,
    }
