"""Why a print came out wrong: what is known to make such errors, compared with what was measured."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from labkit.geometry.box import Edges
from labkit.geometry.length import Length
from labkit.geometry.measured import Errors, Estimate, percent
from labkit.geometry.size import Size

_USUAL_PPI = (240, 300, 360)
"""Resolutions that programs take where they do not read the file's own: from memory."""
_ROUNDING = Fraction(1, 1000)
"""By how much a program that scales may be off its own figure, for it rounds to pixels and to percent
(our own judgement)."""
_LEAST_SET = Fraction(5, 1000)
"""A smaller error both ways is rather the paper's than a scale that somebody set (our own judgement)."""
_LARGEST_SPREAD = Fraction(6, 100)
"""By how much a print without borders is enlarged, at most, so that none is left: from memory."""


@dataclass(frozen=True, slots=True)
class Cause:
    """A likely cause: its ``name``, what was compared, and what to set. ``is_set``: somebody set it so, and
    it is no property of printer and paper."""

    name: str
    told: str
    mend: str
    is_set: bool = True

    def __str__(self) -> str:
        return f"{self.name}: {self.told} {self.mend}"


def reach(size: Size, edges: Edges) -> Size:
    """What can be printed of paper of that size."""
    return size[0] - edges.left - edges.right, size[1] - edges.top - edges.bottom


def fitted_scale(size: Size, edges: Edges) -> Fraction:
    """The scale at which a file as large as the paper is fitted into what can be printed of it."""
    return min(side / whole for side, whole in zip(reach(size, edges), size, strict=True))


def middle_moved(edges: Edges) -> Size:
    """How far right and down the middle of what can be printed lies from that of the paper."""
    return (edges.left - edges.right) / 2, (edges.top - edges.bottom) / 2


def likely_causes(
    errors: Errors,
    size: Size,
    edges: Edges,
    *,
    papers: Mapping[str, Size] | None = None,
    ppi: int | None = None,
    is_roll: bool = False,
) -> list[Cause]:
    """The likely causes of what was measured on paper of that ``size``, the likeliest first; none where
    nothing is seen.

    A scale that somebody set is about a point that nobody knows, so the place is judged once it is 100 %.
    ``edges`` are those the printer does not reach, ``papers`` other sizes that a sheet may be taken for,
    ``ppi`` the ruler file's own.
    """
    scales = list(_of_scale(errors, size, edges, papers or {}, ppi))
    is_set = any(each.is_set for each in scales)
    places = [] if is_set else _of_place(errors, edges, is_roll=is_roll)
    return [*scales, *places, *_of_skew(errors)]


def _of_scale(errors: Errors, size: Size, edges: Edges, papers, ppi) -> Iterator[Cause]:
    across, along = errors.across, errors.along
    if not (across.is_seen or along.is_seen):
        return
    alike = abs(across.mean - along.mean) <= across.doubt + along.doubt
    if across.is_seen and along.is_seen and alike:
        yield from _scaled(errors, size, edges, papers, ppi)
        return
    if along.is_seen:
        yield Cause(
            "the feed",
            f"along the feed lengths are {percent(along.mean)} off, across it "
            f"{percent(across.mean)}: the paper moves too {_little_or_much(along.mean)} for each line.",
            "Set the thickness of this paper, or the feed adjustment, in the printer's own menu for this "
            "paper, and print the ruler sheets again.",
            is_set=False,
        )
    if across.is_seen:
        yield _paper_moved("across the feed", across.mean)


def _paper_moved(where: str, mean: Fraction) -> Cause:
    return Cause(
        "the paper has moved",
        f"{where} lengths are {percent(mean)} off: paper grows in damp air and shrinks in dry air, most of "
        "all across its grain.",
        "Let the paper lie in the room for a day, print again, and measure when the print is dry.",
        is_set=False,
    )


def _scaled(errors: Errors, size: Size, edges: Edges, papers, ppi) -> Iterator[Cause]:
    """The wrong scales that are known, those nearest to the mean first; else just the scale."""
    found = sorted(
        (
            (off, number, cause)
            for number, (ratio, cause) in enumerate(_ratios(size, edges, papers, ppi))
            if (off := _off(errors, ratio)) is not None
        ),
        key=lambda each: each[:2],
    )
    yield from (cause for *_, cause in found)
    if found:
        return
    mean = (errors.across.mean + errors.along.mean) / 2
    if abs(mean) <= _LEAST_SET:
        yield _paper_moved("both ways", mean)
        return
    if 0 < mean <= _LARGEST_SPREAD:
        yield Cause(
            "enlarged to print without borders",
            f"both ways the print is {percent(mean)} too large.",
            "Switch printing without borders off, and every enlarging with it.",
        )
        return
    yield Cause(
        "a scale is set",
        f"both ways lengths are {percent(mean)} off, so somewhere "
        f"{percent(1 + mean, 1, signed=False)} is set.",
        "Set 100 % in the program and in the printer's own dialogue: there are two places.",
    )


def _ratios(size: Size, edges: Edges, papers, ppi) -> Iterator[tuple[Fraction, Cause]]:
    wide, high = size
    reached = reach(size, edges)
    ratio = fitted_scale(size, edges)
    yield (
        ratio,
        Cause(
            "scaled to the printable area",
            f"{_by(reached)} can be printed of {_by(size)}, and fitting the sheet into that is "
            f"{percent(ratio, 1, signed=False)}.",
            "Switch every fitting to the page off, in the program and in the printer's dialogue; set 100 %.",
        ),
    )
    for name, (other_wide, other_high) in papers.items():
        ratio = min(other_wide / wide, other_high / high)
        yield (
            ratio,
            Cause(
                f"scaled to {name}",
                f"fitting {_by(size)} into {name} is {percent(ratio, 1, signed=False)}.",
                "Choose the size of the sheet that lies in the printer, and no fitting.",
            ),
        )
    for other in _USUAL_PPI if ppi else ():
        yield (
            Fraction(ppi, other),
            Cause(
                "the file's resolution was not read",
                f"its {ppi} pixels an inch were printed as {other}.",
                "Use a program that keeps the size the file states, and set 100 %.",
            ),
        )


def _off(errors: Errors, ratio: Fraction) -> Fraction | None:
    """How far both scales are off a ratio, None where one is further off than it can be told."""
    offs = [(abs(1 + each.mean - ratio), each.doubt) for each in (errors.across, errors.along)]
    if ratio == 1 or any(off > doubt + _ROUNDING for off, doubt in offs):
        return None
    return max(off for off, _ in offs)


def _of_place(errors: Errors, edges: Edges, *, is_roll: bool) -> Iterator[Cause]:
    across, along = errors.offset_across, errors.offset_along
    seen = [each for each in (across, along) if each is not None and each.is_seen]
    if not seen:
        return
    corner = edges.left, edges.top
    for place, name, told, mend in (
        (
            middle_moved(edges),
            "centred on what can be printed",
            "the middle of the print lies in the middle of what the printer reaches, not of the sheet.",
            "Switch centring off: the file is the whole sheet, and lies where it is.",
        ),
        (
            corner,
            "begun where printing begins",
            "the corner of the file was put where the printer begins to reach, not on the paper's corner.",
            "Set the printer's own borders to none, or choose the size that counts them in.",
        ),
    ):
        if _is_at(across, place[0]) and _is_at(along, place[1]) and any(place):
            yield Cause(name, told, mend)
            return
    yield Cause(
        "loaded to one side",
        "the print as a whole lies beside its place.",
        "Load against the guide, and set the guide to the paper; hand-fed sheets land 0.5 to 1 mm apart. "
        + ("" if is_roll else "If it stays, set the printer's own offset, if it has one."),
        is_set=False,
    )


def _is_at(moved: Estimate | None, place: Length) -> bool:
    return moved is None or abs(moved.mean - place.inches) <= moved.doubt


def _of_skew(errors: Errors) -> Iterator[Cause]:
    if errors.skew is not None and errors.skew.is_seen:
        yield Cause(
            "gone in askew",
            "one edge of the print is nearer to the paper's edge below than above.",
            "Load against the guide with both hands, edges of the stack flush; on a roll, wind it straight.",
            is_set=False,
        )


def _little_or_much(error: Fraction) -> str:
    return "little" if error < 0 else "much"


def _by(size: Size) -> str:
    return f"{size[0].said()} × {size[1].said()}"
