"""Layouts worked out by hand, and what is refused."""

import pytest

from labkit.geometry.box import Box, Edges
from labkit.geometry.length import ZERO, inches, millimetres
from labkit.geometry.packing import Cutter, Piece, Roll, Sheets, pack
from tests.geometry.packing.cutting_up import assert_sound
from tests.geometry.refused import refusal


def piece(name, width, height, **more):
    return Piece(name, inches(width), inches(height), **more)


def packed(*pieces, on, **more):
    return pack(pieces, on, **({"seconds": None, "steps": 100} | more))


def boxes(packing):
    """Name, left, top, width and height in inches of each."""
    return [
        (each.name, *(float(side) for side in (each.box.left, each.box.top, *each.box.size)))
        for each in packing.placed
    ]


def distances(packing):
    return [(cut.edge, float(cut.distance)) for cut in packing.cuts]


# On a roll


def test_two_prints_lie_side_by_side_with_a_gap():
    # 8 + 1/4 + 8 in of 17 in: both fit across, and the row is 10 in high.
    boats = [piece("boat", 8, 10), piece("barn", 8, 10)]
    packing = packed(*boats, on=Roll(inches(17)), gap=inches("1/4"))
    assert packing.used == inches(10)
    assert packing.proven
    assert boxes(packing) == [("boat", 0, 0, 8, 10), ("barn", 8.25, 0, 8, 10)]
    # 8 in to the first, 1/4 in of gap, and 3/4 in of waste beyond the second.
    assert distances(packing) == [("left", 8), ("left", 0.25), ("left", 8)]


def test_two_12_inch_prints_do_not_lie_side_by_side_on_a_24_inch_roll():
    # 24 in less 5 mm on either side are 23.6 in, so they lie one below the other: 12 + 12 in.
    roll = Roll(inches(24) - millimetres(10))
    squares = [piece("one", 12, 12), piece("two", 12, 12)]
    assert packed(*squares, on=roll, stages=None).used == inches(24)
    assert packed(*squares, on=Roll(inches(24))).used == inches(12)


def test_a_print_is_turned_only_where_it_saves_paper_and_it_may():
    # Across a 24 in roll a 12 × 20 in print takes 20 in of length upright, 12 in on its side.
    on_side = packed(piece("boat", 12, 20), on=Roll(inches(24)))
    assert on_side.used == inches(12)
    assert on_side.placed[0].turned
    upright = packed(piece("boat", 12, 20, turn=False), on=Roll(inches(24)))
    assert upright.used == inches(20)
    assert not upright.placed[0].turned


def test_margins_are_cut_away_from_straight_edges():
    # Leader 1 in above and 2 in below, 1/2 in at the sides of 8 × 10 in on a roll that prints 9 in.
    margins = Edges(inches("1/2"), inches(1), inches("1/2"), inches(2))
    packing = packed(piece("boat", 8, 10, turn=False), on=Roll(inches(9), margins=margins))
    assert distances(packing) == [("top", 1), ("top", 10), ("left", 0.5), ("left", 8)]
    assert packing.cuts[0].at == ((1, Box(-inches("1/2"), -inches(1), inches(10), inches(13))),)
    assert packing.waste == 1 - inches(80) / inches(130)


def test_three_stages_put_two_small_prints_beside_a_high_one():
    # 10 × 10 beside two of 5 × 5, one on the other: 15 × 10. In rows: 10 × 10 and 5 × 5, then 5 × 5.
    prints = [piece("large", 10, 10), piece("one", 5, 5), piece("two", 5, 5)]
    three = packed(*prints, on=Roll(inches(15)), stages=3)
    two = packed(*prints, on=Roll(inches(15)))
    assert (three.used, two.used) == (inches(10), inches(15))
    assert three.proven
    assert two.proven


def test_a_pinwheel_cannot_be_cut_straight():
    # Four of 3 × 2 turn round a 1 × 1 to fill 5 × 5, but no line goes right through; with straight cuts
    # a 3 × 2 and a 2 × 3 lie side by side, twice: 6 high.
    pinwheel = [piece(str(number), 3, 2) for number in range(4)] + [piece("mid", 1, 1)]
    packing = packed(*pinwheel, on=Roll(inches(5)), stages=None)
    assert (packing.bound, packing.used) == (inches(5), inches(6))
    assert packing.proven


# What stays together


def test_a_triptych_lies_in_order_between_other_prints():
    parts = [piece(name, 6, 9, group="sea") for name in ("left", "middle", "right")]
    packing = packed(piece("boat", 5, 9), *parts, piece("barn", 5, 9), on=Roll(inches(12)))
    names = [each.name for each in packing.placed]
    first = names.index("left")
    assert names[first : first + 3] == ["left", "middle", "right"]


def test_repeats_are_stacked_and_cut_together():
    # Twelve cards of 4 × 6 in, three across 12 in: four rows, which lie on one another to be cut.
    cards = piece("card", 4, 6, copies=12, turn=False)
    packing = packed(cards, on=Roll(inches(12)), cutter=Cutter(stack=4))
    assert packing.used == inches(24)
    assert [(cut.edge, cut.at_once) for cut in packing.cuts] == [
        *[("top", 1)] * 3, *[("left", 4)] * 2,
    ]  # fmt: skip
    assert_sound(packing, Cutter(stack=4))
    assert str(packing.cuts[3]) == (
        "4. Row 1 and 3 more like it (4 stacked): cut 4 in from the left edge. "
        "Off comes card 1, 4, 7 and 10; in hand stays the rest."
    )
    assert packing.settings == 2  # 6 in from the top and 4 in from the left
    by_two = packed(cards, on=Roll(inches(12)), cutter=Cutter(stack=2))
    assert [cut.at_once for cut in by_two.cuts] == [1, 1, 1, 2, 2, 2, 2]


def test_a_group_is_not_divided_between_sheets():
    # Three of 6 × 9 fill three quarters of a 12 × 18 in sheet; two more are left for the next.
    parts = [piece(f"part {number}", 6, 9, group="sea", turn=False) for number in (1, 2, 3)]
    others = [piece(f"other {number}", 6, 9, turn=False) for number in (1, 2)]
    packing = packed(*others, *parts, on=Sheets(inches(12), inches(18)))
    assert packing.sheets == 2
    assert len({each.sheet for each in packing.placed if each.piece.group}) == 1


# On sheets


def test_as_few_sheets_as_possible_then_the_least_of_the_last():
    # Nine cards of 4 × 6 in fill 12 × 18 in; of the tenth and eleventh turned, a row of 6 + 6 is 4 high.
    packing = packed(piece("card", 4, 6, copies=11), on=Sheets(inches(12), inches(18)))
    assert (packing.sheets, packing.used) == (2, inches(4))
    # 11 × 24 sq in of pieces are 61 % of two sheets of 216 sq in.
    assert packing.sentence() == (
        "11 pieces on 2 sheets, of the last of which 4 in (101.6 mm) is used, parted by "
        f"{len(packing.cuts)} straight cuts; 39% is waste. No layout with these cuts takes less."
    )
    assert_sound(packing)


def test_progress_is_told():
    shares = []
    prints = [piece(f"{number}", 4 + number, 9) for number in range(9)]
    packed(*prints, on=Roll(inches(17)), stages=None, steps=640, progress=shares.append)
    assert shares == sorted(shares)
    assert 0 < shares[0] < shares[-1] <= 1


# What the cutter can do


def test_a_layout_the_cutter_cannot_cut_is_not_offered():
    # Side by side on 5 in, two strips of 2 in leave 2 in and 1 in on either side of the last cut. A clamp
    # that has to hold 3 in takes them one below the other: 2 in come off, and 3 in are held.
    strips = [piece("one", 2, 10, turn=False), piece("two", 2, 10, turn=False)]
    roll = Roll(inches(5))
    assert packed(*strips, on=roll).used == inches(10)
    assert packed(*strips, on=roll, cutter=Cutter(hold=inches(2))).used == inches(10)
    assert packed(*strips, on=roll, cutter=Cutter(hold=inches(3))).used == inches(20)


def test_paper_wider_than_the_longest_cut_is_refused():
    boat, sun = piece("boat", 40, 20), piece("sun", 12, 12)
    assert refusal(packed, boat, sun, on=Roll(inches(44)), cutter=Cutter(longest=inches(36))) == (
        "no layout was found that the cutter can cut: that takes a cut 44 in (1117.6 mm) long, and the "
        "longest is 36 in (914.4 mm). Use narrower paper or another cutter."
    )


def test_a_piece_too_small_for_the_clamp_is_told():
    roll, cutter = Roll(inches(4)), Cutter(hold=inches(3), least=inches(1))
    small = piece("stamp", 2, 10, turn=False)
    assert refusal(packed, small, on=roll, cutter=cutter) == (
        "stamp cannot be cut out: only 2 in (50.8 mm) of paper would lie under the clamp, which has to "
        "hold 3 in (76.2 mm). Cut it by hand, or make it larger."
    )
    thin = piece("strip", 3, "1/2", turn=False)
    assert refusal(packed, thin, on=roll, cutter=cutter) == (
        "strip cannot be cut out: it leaves paper only 1/2 in (12.7 mm) wide to cut, and the least is "
        "1 in (25.4 mm). Cut it by hand, or make it larger."
    )


def test_what_does_not_fit_is_left_out_with_the_reason():
    packing = packed(piece("wall", 30, 40), piece("boat", 8, 10), on=Roll(inches(24)))
    assert [each.name for each in packing.placed] == ["boat"]
    (left,) = packing.left_out
    assert (left.piece.name, left.copies) == ("wall", 1)
    assert left.reason == (
        "wall does not fit: it is 30 in (762 mm) wide and 40 in (1016 mm) high, even turned, and what "
        "can be printed of the roll is 24 in (609.6 mm) wide. Make it smaller or choose larger paper."
    )
    assert left.reason in packing.sentence()


def test_what_is_beyond_the_end_of_a_roll_is_told():
    packing = packed(piece("card", 10, 10, copies=5), on=Roll(inches(20), inches(25)))
    assert len(packing.placed) == 4
    assert [(each.copies, each.reason) for each in packing.left_out] == [
        (
            1,
            "No room is left for 1 of 5 copies of card on 25 in (635 mm) of the roll. "
            "Lay out another length for what is left.",
        )
    ]


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"gap": -inches(1)}, "a gap of -1 in (-25.4 mm) is less than none: give zero or more."),
        ({"stages": 1}, "stages of 1 make no layout: give 2, 3, or none for any number."),
        ({"steps": None}, "the search needs an end: give seconds or steps above zero."),
    ],
)
def test_refuses_a_search_that_makes_no_sense(changed, sentence):
    assert refusal(packed, piece("boat", 8, 10), on=Roll(inches(24)), **changed) == sentence


def test_refuses_nothing_and_too_much():
    assert refusal(packed, on=Roll(inches(24))) == (
        "there is nothing to lay out: give one or more pieces."
    )
    assert refusal(packed, piece("card", 4, 6, copies=401), on=Roll(inches(24))) == (
        "401 pieces are too many to lay out at a time: give 400 or fewer."
    )


def test_refuses_sizes_that_are_none():
    assert refusal(piece, "boat", 0, 10) == (
        "boat is 0 in (0 mm) wide and 10 in (254 mm) high: give a width and a height above zero."
    )
    assert refusal(piece, "boat", 8, 10, copies=0) == (
        "boat is wanted 0 times: give 1 or more copies."
    )
    assert refusal(Roll, ZERO) == (
        "the roll has a width of 0 in (0 mm) to print on: give one above zero."
    )
    assert refusal(Sheets, inches(13), inches(19), Edges(top=-inches(1))) == (
        "the sheet has a top margin of -1 in (-25.4 mm): give zero or more."
    )
    assert refusal(Cutter, hold=ZERO) == (
        "the cutter's hold is 0 in (0 mm): give a length above zero, or none."
    )
    assert refusal(Cutter, stack=0) == "the cutter's stack is 0 sheets: give 1 or more."
