"""Totals of a term against sums worked by hand."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from labkit.files.record.totals import Total, totals
from tests.files.record.test_record import BOAT

TERM = [
    BOAT,  # 2 prints, 0.32 m², 8.40
    replace(BOAT, course="photo 2 ", copies=1, area_m2=Decimal("0.16"), price=Decimal("4.20")),
    replace(
        BOAT, copies=1, area_m2=Decimal("0.16"), waste_m2=Decimal("0.16"), price=Decimal("4.20"),
        result="spoiled", why="paper went in askew",
    ),
    replace(BOAT, course="Drawing", date=date(2031, 6, 1), price=None, copies=3),
]  # fmt: skip


def test_a_course_is_one_however_it_is_typed_and_spoiled_prints_cost_nothing():
    drawing, photo = totals(TERM, "course")
    assert photo == Total(
        "Photo 2",
        3,
        1,
        Decimal("0.64"),
        Decimal("0.16"),
        Decimal("12.60"),
        unpriced=0,
        spoiled_price=Decimal("4.20"),
    )
    assert drawing == Total("Drawing", 3, 0, Decimal("0.32"), Decimal(0), Decimal(0), unpriced=3)


def test_since_a_day_counts_that_day_too():
    assert [each.name for each in totals(TERM, "course", since=date(2031, 6, 1))] == ["Drawing"]
    assert len(totals(TERM, "course", since=date(2031, 5, 12))) == 2
