"""What does not fit on the stock, or cannot be cut out by itself, and why."""

from collections.abc import Sequence

from labkit.geometry.length import Length
from labkit.geometry.packing.cutting import Stroke, makeable, strokes
from labkit.geometry.packing.job import Job, in_whole_numbers
from labkit.geometry.packing.part import Part
from labkit.geometry.packing.result import LeftOut
from labkit.geometry.packing.stock import Cutter, Piece, Roll, Sheets


def those_that_fit(
    pieces: Sequence[Piece], stock: Roll | Sheets, gap: Length, cutter: Cutter
) -> tuple[list[Piece], list[LeftOut]]:
    """The pieces that can be cut out of the stock, and the others with the reason."""
    fitting, left_out = [], []
    for piece in pieces:
        reason = _too_large(piece, stock) or _cannot_be_cut(piece, stock, gap, cutter)
        if reason:
            left_out.append(LeftOut(piece, piece.copies, reason))
        else:
            fitting.append(piece)
    return fitting, left_out


def _too_large(piece: Piece, stock: Roll | Sheets) -> str | None:
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


def _cannot_be_cut(piece: Piece, stock: Roll | Sheets, gap: Length, cutter: Cutter) -> str | None:
    """Why the cutter cannot cut it out where it lies alone; None if it can."""
    job = in_whole_numbers([piece], stock, gap, cutter)
    wrong: Stroke | None = None
    for width, height in job.ways[0]:
        if width <= job.width and height <= job.height:
            cuts = strokes([Part(width, height, 0)], job)
            wrong = next((cut for cut in cuts if not makeable(cut, job)), None)
            if wrong is None:
                return None
    return f"{piece.name} cannot be cut out: {limit_of(wrong, job)}" if wrong else None


def limit_of(cut: Stroke, job: Job) -> str:
    """Which of the cutter's limits a cut is beyond, in a sentence."""
    return job.cutter.limit(*map(job.length, (cut.line, cut.distance, cut.depth)))
