"""What a run of hand-ins takes."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from labkit.errors import LabError
from labkit.files.checks.findings import Findings, tell
from labkit.files.folder.tally import sum_up, tally
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO, length
from labkit.geometry.paper import find_sheet
from tests.files.sheets import shipped

ROOM = shipped()


def checked(sheet: str | None, *codes: str) -> Findings:
    """A hand-in on a sheet, with some findings."""
    layout = None
    if sheet:
        found = find_sheet(sheet)
        layout = Layout(found, Box(ZERO, ZERO, found.width, found.height))
    items = tuple(tell(code, refusal="it is gone") for code in codes)
    return Findings(Path(f"{sheet}.tif"), items, layout)


def test_prints_are_counted_by_printer_paper_and_size():
    run = [checked(size) for size in ("A3", "420x297mm", "13x19in", "24x36in", "20x30in")]
    totals = tally(run, ROOM)
    rows = {row.route.stock_name: row for row in totals.rows}
    assert {
        name: (row.route.printer.name, row.prints, row.needed) for name, row in rows.items()
    } == {
        "A3": ("Heron", 2, "2 sheets"),
        "13x19in": ("Heron", 1, "1 sheet"),
        # 914.4 + 80 and 762 + 80 mm; across the 44 in roll each would take less of it, and cost more
        "24 in roll": ("Bittern", 2, "1.84 m"),
    }
    a3 = rows["A3"]
    # 2 × 297 × 420 mm; 2 × 4.80; 24 minutes a square metre, half a minute a sheet
    assert a3.area_m2 == pytest.approx(0.24948)
    assert a3.price == Decimal("9.60")
    assert a3.minutes == pytest.approx(0.24948 * 24 + 1)
    roll = rows["24 in roll"]
    # 0.9944 m and 0.842 m at 20.00
    assert roll.price == Decimal("19.89") + Decimal("16.84")
    assert roll.metres == length("1836.4mm")
    # 609.6 × 914.4 and 508 × 762 mm at 12 minutes a square metre; the roll is put in once
    assert roll.minutes == pytest.approx((0.6096 * 0.9144 + 0.508 * 0.762) * 12 + 5)
    assert (totals.prints, totals.left_out) == (5, 0)
    assert totals.price == sum(row.price for row in totals.rows)
    assert totals.minutes == pytest.approx(sum(row.minutes for row in totals.rows))


def test_what_is_needed_against_what_is_left():
    """25 sheets of board are left, and 9 m of the wide cotton roll: 3 × 2.5184 m are less, 4 × more."""
    board, wide = find_sheet("13x19in"), find_sheet("44x96in")
    for sheet, paper, copies, is_enough in (
        (board, "rag board 450", 25, True),
        (board, "rag board 450", 26, False),
        (wide, "cotton matt 300", 3, True),
        (wide, "cotton matt 300", 4, False),
        (board, "pearl 260", 1000, None),
    ):
        [row] = sum_up([(ROOM.route(sheet, paper), copies)]).rows
        assert row.is_enough is is_enough, (paper, copies)


def test_what_is_not_printed_is_left_out():
    totals = tally([checked("A3", "damaged"), checked(None), checked("A3")], ROOM)
    assert (totals.prints, totals.left_out) == (1, 2)


def test_without_a_price_there_is_no_sum():
    totals = tally([checked("A3"), checked("11x17in")], ROOM, "rag board 450")
    assert {row.route.stock_name: row.price for row in totals.rows} == {
        "11x17in, not kept": None,
        "A3": Decimal("9.00"),
    }
    assert totals.price is None


def test_a_named_printer_prints_them():
    [row] = tally([checked("A3")], ROOM, "pearl 260", "Bittern").rows
    assert row.route.printer.name == "Bittern"


def test_nothing_takes_nothing():
    totals = tally([], ROOM)
    assert (totals.rows, totals.prints, totals.price, totals.minutes) == ((), 0, Decimal(0), 0)


def test_a_paper_nobody_knows_is_refused():
    with pytest.raises(LabError, match="no paper here is called “birch bark”"):
        tally([], ROOM, "birch bark")


def test_prints_and_what_is_left_out_are_all():
    run = [checked(size) for size in ("A4", "letter", "50x50in", None)]
    totals = tally(run, ROOM)
    assert totals.prints + totals.left_out == len(run)
    assert totals.prints == 3


def test_the_sum_does_not_hang_on_the_order():
    run = [checked(size) for size in ("A4", "8x40in", "A4", "24x36in", "8x40in")]
    assert tally(run, ROOM) == tally(run[::-1], replace(ROOM))
