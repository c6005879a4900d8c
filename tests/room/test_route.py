"""How a print goes: stock, printer, path and setting; what it costs and takes, against sums by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labkit.errors import LabError
from labkit.geometry.length import length
from labkit.geometry.paper import find_sheet, sheet_of
from labkit.room.rules import load_room

ROOM = load_room()


def route(sheet: str, paper: str | None = None, printer: str | None = None):
    return ROOM.route(find_sheet(sheet), paper, printer)


@pytest.mark.parametrize(
    ("asked", "paper", "stock", "printer", "path"),
    [
        (("A4",), "cotton matt 300", "A4", "Heron", "sheet"),
        (("A4", "pearl 260", "Bittern"), "pearl 260", "A4", "Bittern", "sheet"),
        (("19x13in", "rag board 450"), "rag board 450", "13x19in", "Heron", "hand"),
        # nobody names a paper: the first that is kept in the size
        (("44x96in",), "cotton matt 300", "44 in roll", "Bittern", "roll"),
        (("30x40in", "pearl 260"), "pearl 260", "44 in roll", "Bittern", "roll"),
        # no setting for its sheets on this printer, but one for the roll
        (("A4", "plain 120", "Bittern"), "plain 120", "36 in roll", "Bittern", "roll"),
        # no cut sheet of plain paper is as large
        (("13x19in", "plain 120"), "plain 120", "36 in roll", "Bittern", "roll"),
    ],
)
def test_which_way_a_print_goes(asked, paper, stock, printer, path):
    found = route(*asked)
    assert (found.paper.name, found.stock_name) == (paper, stock)
    assert (found.printer.name, found.path) == (printer, path)
    assert (found.setting.paper, found.setting.printer, found.setting.path) == (
        paper,
        printer,
        path,
    )


def test_what_is_not_kept_has_edges_but_no_price():
    found = route("A4", "rag board 450")
    assert (found.stock, found.setting, found.price()) == (None, None, None)
    assert found.unprintable.bottom == length("7mm")
    assert found.minutes() == 0


def test_a_printer_without_a_setting_for_the_paper_keeps_the_papers_price():
    """Rag board is kept in 13 × 19 in; nobody has set it up on the second printer."""
    found = route("13x19in", "rag board 450", "Bittern")
    assert (found.setting, found.price()) == (None, Decimal("12.00"))
    assert found.unprintable.bottom == length("12mm")


def test_what_a_path_does_not_take_goes_another_way():
    bittern = ROOM.printers[1]
    short = replace(bittern, roll=replace(bittern.roll, widest=length("24in")))
    room = replace(ROOM, printers=(ROOM.printers[0], short))
    # the 36 in roll is the cheapest only where the printer takes it
    assert ROOM.route(find_sheet("20x36in"), "pearl 260").stock_name == "36 in roll"
    assert room.route(find_sheet("20x36in"), "pearl 260").stock_name == "24 in roll"


def test_a_piece_lies_on_the_roll_so_that_it_takes_the_least():
    """36 × 20 in across a 36 in roll takes 20 in of it, its top first; 20 × 36 in goes in left edge first."""
    for size, first in (("36x20in", "top"), ("20x36in", "left")):
        found = route(size, "pearl 260")
        assert (found.stock_name, found.first_edge) == ("36 in roll", first)
        # 508 mm, 30 mm of leader and 50 mm of tail
        assert found.along == length("588mm")
    stiff = replace(ROOM.paper("pearl 260"), turn=False)
    room = replace(ROOM, papers=(stiff,))
    kept = room.route(find_sheet("20x36in"))
    assert (kept.first_edge, kept.along) == ("top", length("36in") + length("80mm"))


def test_a_piece_as_wide_as_its_roll_stays_on_it_when_it_is_rounded_to_pixels():
    """6857 pixels at 2000/7 ppi are 23.9995 in, 6858 are 24.003: it is the same print on the same roll."""
    roll = route("24x30in", "pearl 260")
    for width in ("23.9995in", "24.003in"):
        rounded = ROOM.route(sheet_of(length(width), length("30in")), "pearl 260")
        assert rounded.stock == roll.stock
        assert abs(rounded.price() - roll.price()) <= Decimal("0.01")
    assert route("24.25x30in", "pearl 260").stock_name == "36 in roll"


def test_a_cut_sheet_goes_in_with_a_short_side_first():
    assert (route("13x19in").first_edge, route("19x13in").first_edge) == ("top", "left")


@pytest.mark.parametrize(
    ("paper", "sheet", "copies", "price"),
    [
        ("cotton matt 300", "13x19in", 1, "6.20"),
        ("cotton matt 300", "19x13in", 3, "18.60"),
        ("cotton matt 300", "330.2x482.6mm", 1, "6.20"),
        ("cotton matt 300", "tabloid", 2, "9.60"),
        # off the 44 in roll at 38.00 a metre: 2438.4 + 80 mm are 2.5184 m, 95.6992
        ("cotton matt 300", "44x96in", 1, "95.70"),
        # off the 17 in roll at 11.00, 1270 + 80 mm: 14.85; the 24 in roll would be 20.25
        ("pearl 260", "8x50in", 2, "29.70"),
        # across the 44 in roll it takes 203.2 + 80 mm of it: 0.2832 m at 27.00 is 7.6464
        ("pearl 260", "8x40in", 1, "7.65"),
        # 482.6 mm across the 36 in roll, 330.2 + 80 mm along: 0.4102 m at 5.00 is 2.051
        ("plain 120", "13x19in", 1, "2.05"),
    ],
)
def test_price(paper, sheet, copies, price):
    assert str(route(sheet, paper).price(copies)) == price


def test_paper_used_off_a_roll_is_the_usable_width_by_the_whole_length():
    """8 × 40 in on a 17 in roll uses more than twice its area (common practice, no source)."""
    only = replace(ROOM.paper("pearl 260"), rolls=ROOM.paper("pearl 260").rolls[:1])
    found = replace(ROOM, papers=(only,)).route(find_sheet("8x40in"))
    # 431.8 − 10 mm by 1016 + 80 mm
    assert found.area() == pytest.approx(0.4218 * 1.096)
    assert found.area() > 2 * 8 * 40 * 0.00064516
    assert route("A3").area(2) == pytest.approx(2 * 0.297 * 0.42)


def test_minutes_at_the_printer_go_by_area_and_loading():
    # 297 × 420 mm are 0.12474 m²: 24 minutes a square metre, and half a minute a sheet
    assert route("A3").minutes(2) == pytest.approx(2 * (2.99376 + 0.5))
    # one square metre on the second printer, and five minutes to put the roll in, once
    assert route("1000x1000mm", "pearl 260").minutes(2) == pytest.approx(2 * 11 + 5)


@pytest.mark.parametrize("copies", [0, -1, 1.5])
def test_price_of_no_copies_is_refused(copies):
    with pytest.raises(LabError, match=f"{copies} copies have no price: give a whole number from"):
        route("A4").price(copies)


@settings(deadline=None)
@given(width=st.integers(10, 1100), height=st.integers(10, 2000), copies=st.integers(1, 500))
def test_price_is_the_same_turned_and_grows_by_copies(width, height, copies):
    sheet = sheet_of(length(f"{width}mm"), length(f"{height}mm"), unit="mm")
    one = ROOM.price("pearl 260", sheet)
    assert ROOM.price("pearl 260", sheet.turned()) == one > 0
    assert ROOM.price("pearl 260", sheet, copies) == one * copies


def test_more_copies_than_paper_is_told_with_what_is_left():
    sheet = route("13x19in", "cotton matt 300")
    sheet = replace(sheet, stock=replace(sheet.stock, left=25))
    assert sheet.more_than_left(25) == ""
    assert sheet.more_than_left(30) == (
        f"30 sheets of cotton matt 300, {sheet.stock_name}, is more than is left (25)."
    )
    roll = route("24x36in", "pearl 260")
    roll = replace(roll, stock=replace(roll.stock, left=roll.along * 2))
    assert roll.more_than_left(2) == ""
    assert "is more than is left" in roll.more_than_left(3)
    assert replace(sheet, stock=replace(sheet.stock, left=None)).more_than_left(1000) == ""
