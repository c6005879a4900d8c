"""A cut list carried out on paper: what the tests believe of a layout comes from here, not from it."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, Length
from labkit.geometry.packing import Cut, Cutter, Packing, Roll


@dataclass
class Scrap:
    """Paper on the table: its sheet, its box, and the directions of the cuts that parted pieces."""

    sheet: int
    box: Box
    parted: list[bool] = field(default_factory=list)


def cut_up(packing: Packing) -> list[Scrap]:
    """Make every cut in order; fails if the paper in hand is not on the table just as the cut has it."""
    table = [Scrap(sheet, paper(packing)) for sheet in range(1, packing.sheets + 1)]
    for number, cut in enumerate(packing.cuts, 1):
        assert cut.number == number
        for sheet, box in cut.at:
            (hand,) = [scrap for scrap in table if (scrap.sheet, scrap.box) == (sheet, box)]
            table.remove(hand)
            table += _halves(hand, cut, packing)
    return table


def paper(packing: Packing) -> Box:
    """A whole sheet, or the length cut off the roll, with its margins."""
    stock, margins = packing.stock, packing.stock.margins
    high = packing.used if isinstance(stock, Roll) else stock.height
    return Box(
        -margins.left,
        -margins.top,
        stock.width + margins.left + margins.right,
        high + margins.top + margins.bottom,
    )


def _halves(hand: Scrap, cut: Cut, packing: Packing) -> list[Scrap]:
    box, far = hand.box, cut.distance
    assert ZERO < far < (box.height if cut.across else box.width)
    assert cut.line == (box.width if cut.across else box.height)
    if cut.across:
        boxes = [
            Box(box.left, box.top, box.width, far),
            Box(box.left, box.top + far, box.width, box.height - far),
        ]
    else:
        boxes = [
            Box(box.left, box.top, far, box.height),
            Box(box.left + far, box.top, box.width - far, box.height),
        ]
    parts = all(pieces_in(hand.sheet, each, packing) for each in boxes)
    parted = [*hand.parted, cut.across] if parts else hand.parted
    return [Scrap(hand.sheet, each, parted) for each in boxes]


def pieces_in(sheet: int, box: Box, packing: Packing) -> int:
    """How many pieces lie at least partly in a box."""
    clips = [each.box.clipped(box) for each in packing.placed if each.sheet == sheet]
    return sum(min(clip.size) > ZERO for clip in clips)


def stages_of(scrap: Scrap) -> int:
    """How often the direction changed on the way to it, counted from cuts across."""
    stages, last = 0, None
    for across in scrap.parted:
        if last is None and not across:
            stages += 1
        stages += across != last
        last = across
    return stages


def assert_sound(packing: Packing, cutter: Cutter = Cutter()) -> None:
    """Every placed piece comes out of the cut list as it is, no other paper holds any of one, pieces lie
    within what can be printed and a gap apart, and the cutter can make each cut."""
    for printed in _as_printed(packing):
        table = cut_up(printed)
        for placed in printed.placed:
            (scrap,) = [
                each for each in table if (each.sheet, each.box) == (placed.sheet, placed.box)
            ]
            if packing.stages is not None:
                assert stages_of(scrap) <= packing.stages
            table.remove(scrap)
        assert not any(pieces_in(scrap.sheet, scrap.box, printed) for scrap in table)
    _assert_placed(packing)
    for cut in packing.cuts:
        _assert_makeable(cut, cutter)


def _as_printed(packing: Packing) -> Iterator[Packing]:
    """The layout itself; of a roll that the printer parts each row by itself, as it comes out, with the cuts
    that follow on it."""
    stock = packing.stock
    if not (isinstance(stock, Roll) and stock.parted):
        yield packing
        return
    cuts, pieces = list(packing.cuts), 0
    for row in packing.rows:
        placed = [each for each in packing.placed if row.top <= each.box.top < row.bottom]
        alone = replace(
            packing,
            placed=tuple(replace(each, box=_up(each.box, row.top)) for each in placed),
            used=row.bottom - row.top,
        )
        whole, own = paper(alone), []
        while cuts and _is_within(_up(cuts[0].at[0][1], row.top), whole):
            cut = cuts.pop(0)
            at = tuple((sheet, _up(box, row.top)) for sheet, box in cut.at)
            own.append(replace(cut, number=len(own) + 1, at=at))
        pieces += len(placed)
        yield replace(alone, cuts=tuple(own))
    assert (cuts, pieces) == ([], len(packing.placed))


def _up(box: Box, by: Length) -> Box:
    return Box(box.left, box.top - by, box.width, box.height)


def _is_within(box: Box, outer: Box) -> bool:
    return all(size >= ZERO for _, size in box.within(outer).items())


def _assert_placed(packing: Packing) -> None:
    stock, gap = packing.stock, packing.gap
    high = packing.used if isinstance(stock, Roll) else stock.height
    for number, one in enumerate(packing.placed):
        size = one.piece.width, one.piece.height
        assert one.box.size == (size[::-1] if one.turned else size)
        assert one.piece.turn or not one.turned
        assert 1 <= one.sheet <= packing.sheets
        assert one.box.left >= ZERO
        assert one.box.top >= ZERO
        assert one.box.right <= stock.width
        assert one.box.bottom <= high
        for other in packing.placed[:number]:
            if other.sheet == one.sheet:
                assert _apart(one.box, other.box) >= gap


def _apart(one: Box, other: Box) -> Length:
    """How far two boxes are apart across or along, whichever is more; below zero where they overlap."""
    return max(
        other.left - one.right, one.left - other.right,
        other.top - one.bottom, one.top - other.bottom,
    )  # fmt: skip


def _assert_makeable(cut: Cut, cutter: Cutter) -> None:
    assert cut.at_once <= cutter.stack
    for _, box in cut.at:
        depth = box.height if cut.across else box.width
        assert cutter.longest is None or cut.line <= cutter.longest
        assert cutter.least is None or min(box.size) >= cutter.least
        assert cutter.hold is None or max(cut.distance, depth - cut.distance) >= cutter.hold


def assert_nothing_missing(packing: Packing, pieces) -> None:
    """Every copy is placed once, or told of as left out."""
    for piece in pieces:
        copies = [placed.copy for placed in packing.placed if placed.piece is piece]
        left = sum(each.copies for each in packing.left_out if each.piece is piece)
        assert len(copies) == len(set(copies)) == piece.copies - left
        assert set(copies) <= set(range(1, piece.copies + 1))


def assert_together(packing: Packing) -> None:
    """Groups and copies follow one another in the order in which they come off the cutter."""
    keys = [placed.piece.group or id(placed.piece) for placed in packing.placed]
    runs = [key for key, before in zip(keys, [None, *keys], strict=False) if key != before]
    assert len(runs) == len(set(runs))
    for key in set(keys):
        members = [p for p, own in zip(packing.placed, keys, strict=True) if own == key]
        order = [(p.piece.name, p.copy) for p in members]
        assert order == sorted(order)
