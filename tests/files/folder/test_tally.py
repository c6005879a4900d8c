"""What a run of hand-ins takes."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from labkit.errors import LabError
from labkit.files.checks.findings import Findings, tell
from labkit.files.folder.tally import tally
from labkit.geometry.box import Box
from labkit.geometry.layout import Layout
from labkit.geometry.length import ZERO
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


def test_prints_are_counted_by_stock():
    run = [checked("A3"), checked("420x297mm"), checked("13x19in"), checked("24x36in")]
    totals = tally(run, ROOM)
    assert [(row.stock, row.prints) for row in totals.rows] == [
        ("13x19in", 1),
        ("24 in roll", 1),
        ("A3", 2),
    ]
    # 2 × 297 × 420 mm; 2 × 4.80; 24 minutes a square metre
    a3 = totals.rows[2]
    assert a3.area_m2 == pytest.approx(0.24948)
    assert a3.price == Decimal("9.60")
    assert a3.minutes == pytest.approx(0.24948 * 24)
    assert (totals.prints, totals.left_out) == (4, 0)
    assert totals.price == sum(row.price for row in totals.rows)


def test_what_is_not_printed_is_left_out():
    totals = tally([checked("A3", "damaged"), checked(None), checked("A3")], ROOM)
    assert (totals.prints, totals.left_out) == (1, 2)


def test_without_a_price_there_is_no_sum():
    totals = tally([checked("A3"), checked("24x36in")], _unpriced(), "plain 120")
    assert [row.price for row in totals.rows] == [None, Decimal("0.60")]
    assert totals.price is None


def _unpriced():
    from dataclasses import replace

    papers = tuple(replace(paper, price_per_square_metre=None) for paper in ROOM.papers)
    return replace(ROOM, papers=papers)


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
    assert Fraction(totals.prints) == 3
