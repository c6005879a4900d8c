"""What was measured of ruler sheets, as it is typed in, and what it comes to, in words."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length, length
from labkit.geometry.measured import (
    EACH_END,
    ENOUGH,
    Errors,
    Estimate,
    Reading,
    degrees_text,
    fine_text,
    longer,
    offset_across,
    offset_along,
    percent,
    scale_error,
    skew,
)
from labkit.geometry.ruler import Bar, unit_of
from labkit.room.ruling import Ruling

EDGES = ("left", "left-below", "right", "top", "bottom")
MEASURED = ("across", "along", *EDGES)
"""What is measured of a print, by name."""
_UNIT, _PART = r"[A-Za-z\"″]", r"\d+/\d|[¼-¾⅐-⅞]"
_BETWEEN = re.compile(rf"(?<={_UNIT}|\.)[\s,;]+(?=\S)(?!{_UNIT})|\s+(?=\S)(?!{_UNIT}|{_PART})")
"""What parts two lengths: white that stands before no unit and, but after a unit, before no part of an inch;
after a unit also a comma."""
ENDS = ("top", "bottom")
"""What is measured from the two ends of the paper: of sheets only."""
NO_EDGE = (
    "Offset along the feed is not read of a roll: where its end lies depends on the last cut and on the "
    "leader, so no edge of the paper says where the print should begin."
)
"""Why :data:`ENDS` say nothing there."""
NOTHING = (
    "Nothing to mend: no error is larger than what the ruler can tell, or than what the prints differ "
    "by."
)


def errors_of(
    given: Mapping[str, Sequence[str]],
    ruling: Ruling,
    each_end: str | None = None,
    called: str = "--{}",
) -> Errors:
    """The errors of what was measured: by each name of :data:`MEASURED` a length for each print, as text, in
    one piece or in several (``11.71 in 11.72in``, or ``11.71``, ``in``, ``11.72in``).

    ``each_end`` is how far a reading may be off, ``called`` how a name stands in a refusal. LabError for what
    is missing or does not go together.
    """
    given = {name: _figures(" ".join(texts)) for name, texts in given.items()}
    counts = {name: len(values) for name, values in given.items() if values}
    for name in ("across", "along"):
        if name not in counts:
            raise LabError(
                f"{called.format(name)} is missing: give it for each print, such as "
                f"{_like(getattr(ruling.ruler, name))}."
            )
    if len(set(counts.values())) > 1:
        told_counts = ", ".join(
            f"{count} of {called.format(name)}" for name, count in counts.items()
        )
        raise LabError(f"there are {told_counts}: give each measure once for each print.")
    _refuse_alone(counts, ruling, called)
    end = EACH_END if each_end is None else length(each_end, "what a reading may be off")
    inset = ruling.ruler.inset
    sides = {
        name: [length(text, called.format(name)) for text in given[name]]
        for name in EDGES
        if given.get(name)
    }
    for name, sizes in sides.items():
        for size in sizes:
            if abs(size - inset) > inset:
                raise LabError(
                    f"{called.format(name)} {size.both()} is far from the {inset.both()} it should be: "
                    "check the unit."
                )
    across = _scale(given["across"], ruling.ruler.across, called.format("across"), end)
    along = _scale(given["along"], ruling.ruler.along, called.format("along"), end)
    found = Errors(across, along, skew=_skew(sides, ruling.ruler.between, end))
    if "left" in sides and "right" in sides:
        moved = offset_across(sides["left"], sides["right"], across, ruling.ruler.width, end)
        found = replace(found, offset_across=moved)
    return found if ruling.is_roll else _with_ends(found, sides, ruling, end)


def _figures(typed: str) -> list[str]:
    """Each length of a line, with its unit."""
    return [each for each in _BETWEEN.split(typed.strip(" ,;")) if each]


def _with_ends(found: Errors, sides: dict, ruling: Ruling, end: Length) -> Errors:
    """With what is measured from the two ends of a sheet."""
    ruler, (first, last) = ruling.ruler, ENDS
    if first not in sides:
        return found
    found = replace(found, offset_along=offset_along(sides[first], ruler.inset, found.along, end))
    if last not in sides:
        return found
    over = longer(sides[first], sides[last], ruler.between, found.along, ruler.height, end)
    return replace(found, longer=over)


_PARTNERS = {
    "left": ("right", "left-below"),
    "left-below": ("left",),
    "right": ("left",),
    "top": ("bottom",),
    "bottom": ("top",),
}
"""What must be measured too, one or another, so that a distance from an edge says anything."""


def _refuse_alone(given: Mapping[str, int], ruling: Ruling, called: str) -> None:
    """LabError for a distance that would count for nothing."""
    counting = EDGES[:3] if ruling.is_roll else EDGES  # the ends of a roll say nothing either way
    for name in counting:
        if name in given and not given.keys() & set(_PARTNERS[name]):
            partners = " or ".join(called.format(other) for other in _PARTNERS[name])
            raise LabError(
                f"{called.format(name)} alone says nothing, for paper may be cut a little large: measure "
                f"{partners} as well, or leave it out."
            )


def _scale(texts: Sequence[str], bar: Bar, name: str, end: Length) -> Estimate:
    return scale_error(
        [Reading(bar.asked(unit_of(text)), length(text, name)) for text in texts], end
    )


def _skew(sides: dict, between: Length, end: Length) -> Estimate | None:
    both = "left" in sides and "left-below" in sides
    return skew(sides["left"], sides["left-below"], between, end) if both else None


def _like(bar: Bar) -> str:
    return bar.in_inches.inch_text().replace(" ", "")


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
            f"{percent(1 + found.mean, signed=False)} ± {percent(found.doubt, signed=False)}{comes_to}; "
            f"prints differ by {percent(found.spread, signed=False)}{_unseen(found)}",
        )
    for name, ways in (
        ("offset_across", ("left", "right")),
        ("offset_along", ("up where the print begins", "down where the print begins")),
    ):
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
    if errors.longer is not None:
        found, over = errors.longer, Length(errors.longer.mean)
        yield (
            "sheet",
            f"{fine_text(abs(over))} {'shorter' if over < ZERO else 'longer'} than its name "
            f"± {fine_text(Length(found.doubt))}{_unseen(found)}",
        )


def _unseen(found: Estimate) -> str:
    return "" if found.is_seen else " (not more than can be told)"
