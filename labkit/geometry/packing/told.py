"""From whole numbers back to lengths and names: what the search found, as people read it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from labkit.geometry.box import Box
from labkit.geometry.length import Length
from labkit.geometry.packing.cutting import Hand, Place, Stroke, rows_of, strokes
from labkit.geometry.packing.job import Job
from labkit.geometry.packing.part import Part
from labkit.geometry.packing.result import Cut, LeftOut, Packing, Placed, Row
from labkit.geometry.packing.search import Search
from labkit.geometry.packing.stock import Roll, Sheets


def packing(
    search: Search, stock: Roll | Sheets, gap: Length, stages: int | None, left_out: list[LeftOut]
) -> Packing:
    """The layout that was found; what lies beyond the end of a roll is left out."""
    job, sheets = search.job, search.found.sheets
    told = laid(sheets, job, stock, gap, stages)
    return replace(
        told,
        bound=job.length(search.bound - job.gap),
        proven=search.proven,
        left_out=(*left_out, *_beyond(sheets, job, stock)),
    )


def laid(
    sheets: Sequence[Part], job: Job, stock: Roll | Sheets, gap: Length, stages: int | None
) -> Packing:
    """A layout as it stands, whoever made it."""
    return Packing(
        stock=stock,
        gap=gap,
        stages=stages,
        placed=tuple(_placed(sheets, job)),
        cuts=tuple(_cuts(sheets, job)),
        used=job.length(sheets[-1].height - job.gap),
        sheets=len(sheets),
        bound=job.length(job.bound() - job.gap),
        proven=False,
        rows=tuple(_rows(sheets, job)) if job.roll else (),
    )


def _beyond(sheets: Sequence[Part], job: Job, stock: Roll | Sheets) -> list[LeftOut]:
    """The pieces for which the roll is not long enough."""
    held = {item for sheet in sheets for item in sheet.items()}
    beyond = [index for item, index in enumerate(job.piece_of) if item not in held]
    told = []
    for index in sorted(set(beyond)):
        piece, copies = job.pieces[index], beyond.count(index)
        some = (
            piece.name
            if copies == piece.copies
            else f"{copies} of {piece.copies} copies of {piece.name}"
        )
        reason = (
            f"No room is left for {some} on {stock.height} of {stock.name}. "
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


def _rows(sheets: Sequence[Part], job: Job) -> Iterator[Row]:
    names = _Names(job, sheets)
    for top, row, place in rows_of(sheets[0]):
        name = names.hand(Hand(0, 0, 0, 0, (), (row,), (place,)))
        yield Row(name, job.length(top), job.length(top + row.height - job.gap))


def _cuts(sheets: Sequence[Part], job: Job) -> list[Cut]:
    told = _Names(job, sheets)
    return [_cut(number, stroke, told) for number, stroke in enumerate(strokes(sheets, job), 1)]


def _cut(number: int, stroke: Stroke, told: "_Names") -> Cut:
    hand, length = stroke.hand, told.job.length
    last = stroke.kept is not None
    boxes = [Box(*(length(side) for side in sides)) for sides in hand.boxes()]
    sheets = [place[0] for place in hand.places]
    return Cut(
        number=number,
        hand=told.hand(hand),
        at=tuple(zip(sheets, boxes, strict=True)),
        across=stroke.across,
        distance=length(stroke.distance),
        line=length(stroke.line),
        off=told.hand(stroke.off) if stroke.off else "waste",
        kept=told.hand(stroke.kept) if last else "the rest",
        off_far=last,
    )


class _Names:
    """What paper in hand is called."""

    def __init__(self, job: Job, sheets: Sequence[Part]):
        self.job, self._sheets = job, sheets

    def hand(self, hand: Hand) -> str:
        """One name, or those of all in a stack: pieces by their own, other paper by where it is from."""
        if hand.parts[0].is_piece:
            return self._pieces([part.item for part in hand.parts])
        names = [self._place(place) for place in hand.places]
        return joined(names) if len(names) < 4 else f"{names[0]} and {len(names) - 1} more like it"

    def _pieces(self, items: Sequence[int]) -> str:
        names = []
        for index, copies in groupby(items, key=lambda item: self.job.piece_of[item]):
            piece = self.job.pieces[index]
            numbers = joined([str(self.job.copy_of[item]) for item in copies])
            names.append(f"{piece.name} {numbers}" if piece.copies > 1 else piece.name)
        return joined(names)

    def _place(self, place: Place) -> str:
        sheet, *inner = place
        several = len(self._sheets) > 1
        if not inner:
            return f"sheet {sheet}" if several else "the paper"
        first, *more = inner
        rows = self._sheets[sheet - 1].across
        words = [f"part {number}" for number in reversed(more)]
        words.append(f"{'row' if rows else 'column'} {first}")
        return " of ".join([*words, f"sheet {sheet}"] if several else words)


def joined(names: Sequence[str]) -> str:
    """Names in one phrase.

    >>> joined(["row 1", "row 2", "row 3"])
    'row 1, row 2 and row 3'
    """
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else names[0]
