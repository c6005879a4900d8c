"""What measured ruler sheets say, against figures worked by hand."""

from fractions import Fraction
from math import atan, degrees, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.length import ZERO, inches, length, millimetres
from labkit.geometry.measured import (
    Estimate,
    Reading,
    degrees_text,
    offset,
    percent,
    scale_error,
    skew,
)
from tests.geometry.refused import refusal
from tests.geometry.strategies import thorough

TWELVE = inches(12)


def read(*lengths, asked=TWELVE):
    return [Reading(asked, length(each)) for each in lengths]


def test_a_ruler_sees_018_percent_of_200_mm():
    """Common practice, no source: 200 mm read to ± 0.25 mm at both ends is ± 0.18 %. By the square root of
    the sum of squares (JCGM 100:2008, 5.1.2), √2 × 0.25 / 200 = 0.1768 %."""
    seen = scale_error(read("200mm", asked=millimetres(200)))
    assert float(seen.ruler) == pytest.approx(0.001768, abs=1e-6)
    assert percent(seen.ruler, signed=False) == "0.18 %"


def test_the_longer_the_bar_the_finer():
    metre = scale_error(read("1000mm", asked=millimetres(1000)))
    assert float(metre.ruler) == pytest.approx(0.0003536, abs=1e-7)


def test_three_prints_worked_by_hand():
    """12 in came out 11.71, 11.72 and 11.71 in: mean 11.7133, so -0.2867 / 12 = -2.389 %; the prints
    differ by 0.01 / 12 = 0.083 %, the ruler sees √2 × 0.25 / 304.8 = 0.116 %."""
    seen = scale_error(read("11.71in", "11.72in", "11.71in"))
    assert seen.mean == Fraction("-0.86") / 36
    assert float(seen.spread) == pytest.approx(0.000833, abs=1e-6)
    assert float(seen.ruler) == pytest.approx(sqrt(2) * 0.25 / 304.8, rel=1e-9)
    assert seen.doubt == seen.ruler
    assert seen.is_seen


def test_nothing_to_mend_inside_the_spread_or_the_ruler():
    assert not scale_error(read("12.01in")).is_seen, "0.083 % of 0.116 %"
    spread = scale_error(read("12.02in", "12.06in", "12.01in"))
    assert float(spread.mean) > float(spread.ruler), "the ruler would see it"
    assert not spread.is_seen, "but the prints differ by more"


def test_more_prints_do_not_make_the_ruler_better():
    one, ten = scale_error(read("11.9in")), scale_error(read(*["11.9in"] * 10))
    assert one.ruler == ten.ruler
    assert one.mean == ten.mean


def test_offset_is_half_of_what_two_edges_differ():
    """25.9 mm left and 24.9 mm right: the print lies 0.5 mm to the right. A scale that shortens both sides
    alike, or a sheet 1 mm too wide, changes nothing."""
    moved = offset([length("25.9mm")], [length("24.9mm")])
    assert moved.mean * Fraction("25.4") == Fraction(1, 2)
    assert float(moved.ruler) == pytest.approx(0.25 / 25.4)
    wider = offset([length("26.4mm")], [length("25.4mm")])
    assert wider.mean == moved.mean


def test_skew_is_what_a_mark_moves_going_down():
    """25.4 mm above and 26.4 mm below, 17 in (431.8 mm) apart: 1 in 431.8, 0.13°."""
    leans = skew([length("25.4mm")], [length("26.4mm")], inches(17))
    assert leans.mean == Fraction(10, 4318)
    assert float(leans.ruler) == pytest.approx(0.5 / 431.8)
    assert degrees_text(leans.mean) == f"{degrees(atan(1 / 431.8)):.2f}°" == "0.13°"
    assert leans.is_seen


def test_refusals():
    assert "check the unit" in refusal(lambda: scale_error(read("11.71mm")))
    assert "3 and 1 distances" in refusal(lambda: offset([TWELVE] * 3, [TWELVE]))
    assert "above and below" in refusal(lambda: skew([TWELVE], [], TWELVE))
    assert "zero or more" in refusal(lambda: scale_error(read("12in"), each_end=-TWELVE))


@thorough
@given(st.lists(st.fractions(-1, 1), min_size=1, max_size=6), st.fractions(0, 1))
def test_what_is_seen_lies_outside_the_doubt_whatever_the_order(values, ruler):
    seen = Estimate(tuple(values), ruler)
    again = Estimate(tuple(reversed(values)), ruler)
    assert (seen.mean, seen.spread, seen.is_seen) == (again.mean, again.spread, again.is_seen)
    assert min(values) <= seen.mean <= max(values)
    assert seen.is_seen == (abs(seen.mean) > max(ruler, max(values) - min(values)))


def test_a_perfect_print_has_no_error():
    seen = scale_error(read("12in"), each_end=ZERO)
    assert (seen.mean, seen.is_seen) == (0, False)
