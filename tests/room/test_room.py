"""What the shipped room holds, and what a room answers."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from labkit.errors import LabError
from labkit.geometry.box import Edges
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet
from labkit.geometry.resolution import floor_for, ppi_for_eye
from labkit.room.rules import load_room
from tests.files.sheets import keeping
from tests.geometry.refused import refusal

ROOM = load_room()


# The room that is shipped


def test_shipped_room_holds_what_its_file_says():
    assert ROOM.name == "Quillmarsh College Print Room"
    assert (ROOM.units, ROOM.currency, ROOM.working_ppi) == ("in", "£", 300)
    assert (ROOM.border, ROOM.bleed) == (length("1/2in"), length("1/8in"))
    cotton, *_, board = ROOM.papers
    assert cotton.sheet(find_sheet("A3")).price == Decimal("4.80")
    assert cotton.rolls[1].left == length("900cm")
    assert (cotton.turn, board.turn, board.rolls) == (True, False, ())
    assert ROOM.printers[0].roll is None
    first = ROOM.settings[0]
    assert (first.path, first.default, first.profile) == ("sheet", True, None)
    assert (first.measured.across, first.measured.along) == (1, Fraction(999, 1000))
    assert first.measured.offset_along == -length("0.2mm")
    assert ROOM.settings[-1].measured is None
    assert (ROOM.colour.depth, ROOM.colour.packing_16) == (8, "Deflate")
    assert ROOM.colour.untagged_cmyk is None
    assert (ROOM.cutter.longest_cut, ROOM.handling.help_above_kg) == (length("44in"), 9)
    assert ROOM.floor[-1].up_to is None
    assert hash(ROOM) == hash(load_room())


def test_shipped_sheets_are_those_a_small_print_room_keeps():
    # 8.5 × 11, A3, 11 × 17 and 13 × 19 in: common practice, no source
    for name in ("8.5x11in", "A3", "11x17in", "13x19in"):
        assert ROOM.find_stock(find_sheet(name)), name
    assert [sheet.name for sheet in ROOM.sheets] == ["letter", "A4", "A3", "11x17in", "13x19in"]


def test_shipped_rolls_have_widths_that_are_sold():
    # 17, 24, 36 and 44 in are 431.8, 609.6, 914.4 and 1117.6 mm: common practice, no standard
    assert [roll.width.mm for roll in ROOM.rolls] == [
        Fraction(width) for width in ("431.8", "609.6", "914.4", "1117.6")
    ]
    # 300 g/m² papers often come at half the length of thin ones: common practice, no source
    assert {roll.length.mm for roll in ROOM.papers[0].rolls} == {15_000}
    assert {roll.length.mm for roll in ROOM.papers[1].rolls} == {30_000}


def test_shipped_floor_is_at_or_above_what_an_eye_resolves():
    # one arc-minute, the gap of the ring for acuity 1.0: ISO 8596, clauses 3 and 4
    for row in ROOM.floor:
        need = ppi_for_eye(row.distance)
        assert need <= row.ppi <= need * 1.2


@pytest.mark.parametrize(
    ("long_side", "ppi"),
    [("20in", 300), ("20.001in", 200), ("36in", 200), ("60in", 150), ("96in", 100)],
)
def test_shipped_floor_by_long_side(long_side, ppi):
    assert floor_for(length(long_side), ROOM.floor).ppi == ppi


def test_shipped_border_can_be_printed_on_every_sheet():
    for printer in ROOM.printers:
        for sheet in ROOM.sheets:
            edges = ROOM.unprintable(sheet, printer.name)
            assert all(size <= ROOM.border for _, size in edges.items())


def test_thick_paper_by_hand_has_far_wider_ends():
    # far larger than a sheet feed's: common practice, no source
    a3 = find_sheet("A3")
    by_hand, fed = ROOM.unprintable(a3, paper="rag board 450"), ROOM.unprintable(a3)
    assert (by_hand.top, by_hand.bottom) == (length("20mm"), length("20mm"))
    assert (fed.top, fed.bottom) == (length("3mm"), length("7mm"))


def test_shipped_limit_on_pixels_admits_the_largest_sheet():
    # 44 × 96 in at 300 ppi
    assert ROOM.limits.pixels >= 13_200 * 28_800


def test_shipped_tolerances_in_pixels_at_300_ppi():
    assert ROOM.tolerance.size * 300 == length("2in")
    assert 4 < ROOM.tolerance.place.inches * 300 < 5


def test_shipped_room_tells_apart_a_mistyped_inch_size_only_when_it_matters():
    # A4 is 210 × 297 mm (ISO 216): 8.27 × 11.69 in is that, 8.5 × 11 in is not
    a4 = find_sheet("A4")
    assert find_sheet("8.27x11.69in").same_size(a4, ROOM.tolerance.size)
    assert not find_sheet("letter").same_size(a4, ROOM.tolerance.size)


# What a room answers


@pytest.mark.parametrize(
    ("asked", "stock"),
    [
        ("13x19in", "13x19in"),
        ("19x13in", "13x19in"),
        ("tabloid", "11x17in"),
        ("11.7x16.5in", "A3"),  # as the counter calls it: common practice, no source
        ("329x483mm", "13x19in"),
        ("12x18in", None),
        ("A2", None),
    ],
)
def test_find_stock_either_way_round_and_by_size(asked, stock):
    found = ROOM.find_stock(find_sheet(asked))
    assert (found and found.name) == stock


def test_the_nearer_of_two_like_sheets_is_found():
    both = keeping(ROOM, "329x483mm", "13x19in").papers[0]
    assert both.sheet(find_sheet("13x19in")).name == "13x19in"
    assert both.sheet(find_sheet("483x329mm")).name == "329x483mm"


def test_paper_and_printer_by_name_or_the_first():
    assert ROOM.paper().name == "cotton matt 300"
    assert ROOM.paper(" Pearl 260 ").weight_gsm == 260
    assert ROOM.paper(ROOM.papers[2]) is ROOM.papers[2]
    with pytest.raises(LabError, match="no paper here is called “gloss”: use one of cotton matt"):
        ROOM.paper("gloss")
    with pytest.raises(LabError, match="no printer here is called “Crane”: use one of Heron, Bit"):
        ROOM.printer("Crane")


@pytest.mark.parametrize(
    ("size", "width"),
    [
        ("17x22in", "17in"),
        ("22x17in", "17in"),
        ("30x36in", "36in"),
        ("44x44in", "44in"),
        ("45x45in", None),
        ("44x1200in", None),
    ],
)
def test_the_narrowest_roll_that_holds_a_sheet(size, width):
    # the longest is 30 m, 1181 in
    found = ROOM.roll_for(find_sheet(size))
    assert (found and found.width) == (width and length(width))


def test_the_smallest_sheet_on_which_the_printer_reaches_all_of_a_picture():
    """The first printer's edges are 4, 3, 4 and 7 mm: a print in the centre of letter has 8.185 by 10.449 in,
    since 7 mm are needed on both sides of it."""
    for size, name, turned in (
        ("5x4in", "letter", True),
        ("10x5in", "letter", True),
        ("5x10.5in", "A4", False),  # letter would do if a print were not centred
        ("8.4x10in", "11x17in", False),  # 187 square inches; A3 has 193
        ("12x18in", "13x19in", False),
    ):
        sheet = ROOM.sheet_for(find_sheet(size).sides)
        wanted = find_sheet(name).turned() if turned else find_sheet(name)
        assert (sheet.width, sheet.height) == (wanted.width, wanted.height), size
    assert ROOM.sheet_for(find_sheet("30x40in").sides) is None


def test_unprintable_edges_turn_with_the_sheet():
    upright = Edges(length("4mm"), length("3mm"), length("4mm"), length("7mm"))
    sheet = find_sheet("13x19in")
    assert ROOM.unprintable(sheet) == upright
    # the edge that goes in first, 3 mm, lies on the left
    assert ROOM.unprintable(sheet.turned()) == Edges(
        length("3mm"), length("4mm"), length("7mm"), length("4mm")
    )


# What is not to be had


def test_a_size_a_paper_is_not_kept_in_is_told_with_the_papers_that_are():
    told = ROOM.not_kept(ROOM.route(find_sheet("13x19in"), "plain 120"))
    # 13 × 19 in comes off a roll of plain 36 in wide
    assert told == ""
    told = ROOM.not_kept(ROOM.route(find_sheet("11x17in"), "rag board 450"))
    assert told.startswith(
        "“rag board 450” is not kept in 11x17in, so it has no price here. Kept in"
    )
    assert "cotton matt 300 (£4.80), pearl 260 (£3.20), plain 120 (£" in told
    nowhere = replace(ROOM, papers=ROOM.papers[3:])
    told = nowhere.not_kept(nowhere.route(find_sheet("letter")))
    assert told.endswith("No other paper is, either: choose another size, or ask at the counter.")


def test_what_is_too_large_is_refused_with_the_usable_width_and_both_ways_out():
    """44 in less twice 5 mm are 1107.6 mm."""
    told = refusal(ROOM.refuse_unstocked, find_sheet("50x60in"))
    for part in ("50 × 60 in", "the widest roll is 44 in", "1107.6 mm", "smaller", "in parts"):
        assert part in told
    told = refusal(ROOM.refuse_unstocked, find_sheet("44x1200in"))
    assert told.startswith("no roll here that is as wide as 44 × 1200 in")
    ROOM.refuse_unstocked(find_sheet("44x96in"))
    cut_only = keeping(ROOM, "A4", rolls=False)
    assert "there is no roll" in refusal(cut_only.refuse_unstocked, find_sheet("A3"))
    cut_only.refuse_unstocked(find_sheet("A4"))


def test_money():
    assert ROOM.money(Decimal("4.8")) == "£4.80"
    assert ROOM.money(None) == "not priced"
    assert replace(ROOM, currency="EUR").money(Decimal(6)) == "EUR\N{NO-BREAK SPACE}6.00"
