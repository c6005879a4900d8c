"""Lay pieces out on a roll or on sheets, so that straight cuts part them."""

from collections.abc import Callable, Sequence
from itertools import count

from labkit.errors import LabError
from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing.cutting import Hand, Place, Stroke, makeable, strokes
from labkit.geometry.packing.job import Job, in_whole_numbers
from labkit.geometry.packing.part import Part
from labkit.geometry.packing.result import Cut, LeftOut, Packing, Placed, joined
from labkit.geometry.packing.search import Budget, Search
from labkit.geometry.packing.spaces import ANY
from labkit.geometry.packing.stock import Cutter, Piece, Roll, Sheet

MOST_PIECES = 400
"""How many pieces of paper are laid out at a time."""


def pack(
    pieces: Sequence[Piece],
    stock: Roll | Sheet,
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
    4 pieces on 20 in (508 mm) of a roll that prints 17 in (431.8 mm) wide, parted by 4 straight cuts; 6% \
is waste. No layout with these cuts takes less.
    """
    _refuse(pieces, gap, stages, seconds, steps)
    fitting, left_out = _those_that_fit(pieces, stock, gap, cutter)
    if not fitting:
        raise LabError(" ".join(each.reason for each in left_out))
    job = in_whole_numbers(fitting, stock, gap, cutter)
    search = Search(job, ANY if stages is None else stages, Budget(seconds, steps, progress), seed)
    search.run()
    if search.found is None:
        raise LabError(
            "no layout was found that the cutter can cut: lay fewer pieces out at a time, widen the gap, "
            "or check the cutter's limits."
        )
    return _packing(search, stock, gap, stages, left_out)


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


# What does not fit


def _those_that_fit(
    pieces: Sequence[Piece], stock: Roll | Sheet, gap: Length, cutter: Cutter
) -> tuple[list[Piece], list[LeftOut]]:
    fitting, left_out = [], []
    for piece in pieces:
        reason = _too_large(piece, stock) or _cannot_be_cut(piece, stock, gap, cutter)
        if reason:
            left_out.append(LeftOut(piece, piece.copies, reason))
        else:
            fitting.append(piece)
    return fitting, left_out


def _too_large(piece: Piece, stock: Roll | Sheet) -> str | None:
    for width, height in piece.ways():
        if width <= stock.width and (stock.height is None or height <= stock.height):
            return None
    room = f"{stock.width} wide"
    if stock.height is not None:
        room += f" and {stock.height} {'long' if isinstance(stock, Roll) else 'high'}"
    turning = ", even turned" if piece.turn else " and may not be turned"
    return (
        f"{piece.name} does not fit: it is {piece.size_text()}{turning}, and what can be printed of "
        f"{stock.name} is {room}. Make it smaller or choose larger paper."
    )


def _cannot_be_cut(piece: Piece, stock: Roll | Sheet, gap: Length, cutter: Cutter) -> str | None:
    """Why the cutter cannot cut it out where it lies alone; None if it can."""
    job = in_whole_numbers([piece], stock, gap, cutter)
    wrong: Stroke | None = None
    for width, height in job.ways[0]:
        if width <= job.width and height <= job.height:
            cuts = strokes([Part(width, height, 0)], job)
            wrong = next((cut for cut in cuts if not makeable(cut, job)), None)
            if wrong is None:
                return None
    return f"{piece.name} cannot be cut out: {_limit(wrong, job)}" if wrong else None


def _limit(cut: Stroke, job: Job) -> str:
    """Which of the cutter's limits a cut is beyond, in a sentence."""
    if cut.line > job.longest:
        return (
            f"that takes a cut {job.length(cut.line)} long, and the longest is "
            f"{job.length(job.longest)}. Use narrower paper or another cutter."
        )
    if min(cut.line, cut.depth) < job.least:
        return (
            f"it leaves paper only {job.length(min(cut.line, cut.depth))} wide to cut, and the least is "
            f"{job.length(job.least)}. Cut it by hand, or make it larger."
        )
    held = max(cut.distance, cut.depth - cut.distance)
    return (
        f"only {job.length(held)} of paper would lie under the clamp, which has to hold "
        f"{job.length(job.hold)}. Cut it by hand, or make it larger."
    )


# From whole numbers to lengths


def _packing(
    search: Search, stock: Roll | Sheet, gap: Length, stages: int | None, left_out: list[LeftOut]
) -> Packing:
    job = search.job
    sheets, proven = search.found.sheets, search.proven
    if isinstance(stock, Roll) and len(sheets) > 1:
        left_out = left_out + _beyond(sheets[1:], job, stock)
        sheets, proven = sheets[:1], False
    return Packing(
        stock=stock,
        gap=gap,
        stages=stages,
        placed=tuple(_placed(sheets, job)),
        cuts=tuple(_Names(job, sheets).cuts(strokes(sheets, job))),
        used=job.length(sheets[-1].height - job.gap),
        sheets=len(sheets),
        bound=job.length(search.bound - job.gap),
        proven=proven,
        left_out=tuple(left_out),
    )


def _beyond(sheets: Sequence[Part], job: Job, stock: Roll) -> list[LeftOut]:
    """The pieces for which the roll is not long enough."""
    beyond = [job.piece_of[item] for sheet in sheets for item in sheet.items()]
    told = []
    for index in sorted(set(beyond)):
        piece, copies = job.pieces[index], beyond.count(index)
        some = piece.name if copies == piece.copies else f"{copies} of {piece.copies} {piece.name}"
        reason = (
            f"No room is left for {some} on {stock.max_length} of the roll. "
            "Lay out another length for what is left."
        )
        told.append(LeftOut(piece, copies, reason))
    return told


def _placed(sheets: Sequence[Part], job: Job) -> list[Placed]:
    found = []
    for number, sheet in enumerate(sheets, 1):
        for part, left, top in sheet.placed():
            sides = (left, top, part.width - job.gap, part.height - job.gap)
            box = Box(*(job.length(side) for side in sides))
            piece = job.pieces[job.piece_of[part.item]]
            found.append(Placed(piece, job.copy_of[part.item], number, box, part.turned))
    return found


class _Names:
    """Puts cuts in words."""

    def __init__(self, job: Job, sheets: Sequence[Part]):
        self.job, self.sheets = job, sheets

    def cuts(self, found: Sequence[Stroke]) -> list[Cut]:
        return [self._cut(number, stroke) for number, stroke in zip(count(1), found)]

    def _cut(self, number: int, stroke: Stroke) -> Cut:
        job, hand = self.job, stroke.hand
        left, top = job.length(hand.left), job.length(hand.top)
        size = job.length(hand.right - hand.left), job.length(hand.bottom - hand.top)
        waste_first = stroke.off is None and stroke.kept is None
        kept = self._hand(stroke.kept or hand) if stroke.off is None else "the rest"
        return Cut(
            number=number,
            sheet=hand.places[0][0],
            hand=self._hand(hand),
            box=Box(left, top, *size),
            at_once=len(hand.parts),
            across=stroke.across,
            distance=job.length(stroke.distance),
            line=job.length(stroke.line),
            off="waste" if stroke.off is None else self._hand(stroke.off),
            kept=kept,
            off_far=stroke.off is None and not waste_first,
        )

    def _hand(self, hand: Hand) -> str:
        return joined(
            [self._one(part, at) for part, at in zip(hand.parts, hand.places, strict=True)]
        )

    def _one(self, part: Part, place: Place) -> str:
        """A piece by its name, other paper by where it comes from."""
        if part.is_piece:
            piece, copy = self.job.pieces[self.job.piece_of[part.item]], self.job.copy_of[part.item]
            return f"{piece.name} ({copy} of {piece.copies})" if piece.copies > 1 else piece.name
        sheet, *inner = place
        several = len(self.sheets) > 1
        if not inner:
            return f"sheet {sheet}" if several else "the whole paper"
        first, *more = inner
        words = [f"{'row' if self.sheets[sheet - 1].across else 'column'} {first}"]
        words = [f"part {number}" for number in reversed(more)] + words
        return " of ".join(words + [f"sheet {sheet}"] * several)
