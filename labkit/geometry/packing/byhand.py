"""Rows that a person chose, told like those that the search finds."""

from collections.abc import Sequence

from labkit.errors import LabError
from labkit.geometry.length import Length
from labkit.geometry.packing.cutting import makeable, strokes
from labkit.geometry.packing.fitting import limit_of
from labkit.geometry.packing.job import in_whole_numbers
from labkit.geometry.packing.part import Part, join
from labkit.geometry.packing.result import Packing
from labkit.geometry.packing.stock import Cutter, Piece, Roll
from labkit.geometry.packing.told import laid


def pack_rows(
    pieces: Sequence[Piece],
    rows: Sequence[Sequence[tuple[int, bool]]],
    roll: Roll,
    *,
    gap: Length,
    cutter: Cutter = Cutter(),
) -> Packing:
    """Lay pieces out in the rows given: each piece by its place in ``pieces``, and whether it is turned.

    Rows follow each other along the roll, and pieces lie side by side in each, from the left. LabError
    where a row is wider than the roll prints, a piece may not be turned, one is not laid exactly once,
    or the cutter cannot cut it so.

    >>> from labkit.geometry.length import inches
    >>> two = [Piece("Boat", inches(8), inches(10)), Piece("Tide", inches(5), inches(7))]
    >>> pack_rows(two, [[(0, False), (1, False)]], Roll(inches(17)), gap=inches("1/4")).used
    Length('10 in')
    """
    each_once = sorted(number for row in rows for number, _ in row)
    if each_once != list(range(len(pieces))) or any(piece.copies > 1 for piece in pieces):
        raise LabError("every piece lies in one row, once: put each of them in.")
    job = in_whole_numbers(pieces, roll, gap, cutter)
    made = []
    for number, row in enumerate((row for row in rows if row), 1):
        parts = []
        for item, turned in row:
            ways = job.ways[item]
            if turned and not pieces[item].turn:
                raise LabError(f"{pieces[item].name} may not be turned on this paper.")
            parts.append(Part(*ways[-1 if turned else 0], item, turned and len(ways) > 1))
        part = join(False, parts)
        if part.width > job.width:
            over = job.length(part.width - job.width)
            raise LabError(
                f"row {number} is {over} wider than the {roll.width} that can be printed: turn a piece, or "
                "put one into another row."
            )
        made.append(part)
    sheet = join(True, made)
    if wrong := next((cut for cut in strokes([sheet], job) if not makeable(cut, job)), None):
        raise LabError(f"the cutter cannot cut it so: {limit_of(wrong, job)}")
    return laid([sheet], job, roll, gap, 2)
