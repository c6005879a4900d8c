"""Lay pieces out on a roll or on sheets, so that straight cuts part them."""

from collections.abc import Callable, Sequence

from labkit.errors import LabError
from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing.fitting import limit_of, those_that_fit
from labkit.geometry.packing.job import in_whole_numbers
from labkit.geometry.packing.result import Packing
from labkit.geometry.packing.search import Budget, Search
from labkit.geometry.packing.spaces import ANY
from labkit.geometry.packing.stock import Cutter, Piece, Roll, Sheets
from labkit.geometry.packing.told import packing

MOST_PIECES = 400
"""How many pieces of paper are laid out at a time."""


def pack(
    pieces: Sequence[Piece],
    stock: Roll | Sheets,
    *,
    gap: Length = ZERO,
    stages: int | None = 2,
    cutter: Cutter = Cutter(),
    seconds: float | None = 0.2,
    steps: int | None = None,
    seed: int = 0,
    progress: Callable[[float], None] | None = None,
) -> Packing:
    """Lay ``pieces`` out on ``stock`` with at least ``gap`` between them, on the least of it.

    Of a roll the least length, of sheets the fewest and then the least of the last. The direction of
    the cuts changes at most ``stages`` times: with 2, rows across the stock and then each row; with
    None as often as it saves paper. Trimming a piece that is smaller than its place is not counted.
    Every cut is straight, goes through all the paper in hand, and is one the ``cutter`` can make.

    The search ends when ``seconds`` are over or ``steps`` layouts were tried; with steps alone the
    same job gives the same layout for the same ``seed``. ``progress`` is told the share of it that is
    over, from 0 to 1. What does not fit is in ``left_out`` of the result, with the reason; LabError
    where that is everything, where nothing is given, or where the cutter cannot part the pieces.

    >>> from labkit.geometry.length import inches
    >>> boats = Piece("Boats", inches(8), inches(10), copies=4)
    >>> print(pack([boats], Roll(inches(17)), seconds=None, steps=100))
    4 pieces on 20 in (508 mm) of a roll that prints 17 in (431.8 mm) wide, parted by 5 straight cuts; 6% \
is waste. No layout with these cuts takes less.
    """
    _refuse(pieces, gap, stages, seconds, steps)
    fitting, left_out = those_that_fit(pieces, stock, gap, cutter)
    if not fitting:
        raise LabError(" ".join(each.reason for each in left_out))
    job = in_whole_numbers(fitting, stock, gap, cutter)
    search = Search(job, ANY if stages is None else stages, Budget(seconds, steps, progress), seed)
    search.run()
    if search.found is None:
        reason = limit_of(search.refused, job)
        raise LabError(f"no layout was found that the cutter can cut: {reason}")
    return packing(search, stock, gap, stages, left_out)


def _refuse(
    pieces: Sequence[Piece],
    gap: Length,
    stages: int | None,
    seconds: float | None,
    steps: int | None,
) -> None:
    total = sum(piece.copies for piece in pieces)
    if not total:
        raise LabError("there is nothing to lay out: give one or more pieces.")
    if total > MOST_PIECES:
        raise LabError(
            f"{total} pieces are too many to lay out at a time: give {MOST_PIECES} or fewer."
        )
    if gap < ZERO:
        raise LabError(f"a gap of {gap} is less than none: give zero or more.")
    if stages is not None and stages < 2:
        raise LabError(f"stages of {stages} make no layout: give 2, 3, or none for any number.")
    if not (seconds or 0) > 0 and not (steps or 0) > 0:
        raise LabError("the search needs an end: give seconds or steps above zero.")
