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
    longer,
    offset_across,
    offset_along,
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


TRUE = scale_error(read("12in"))
WIDE, HIGH, INSET, BETWEEN = inches(13), inches(19), inches(1), inches(17)


def test_offset_is_half_of_what_two_edges_differ():
    """25.9 mm left and 24.9 mm right: the print lies 0.5 mm to the right. A scale that shortens both sides
    alike changes nothing."""
    moved = offset_across([length("25.9mm")], [length("24.9mm")], TRUE, WIDE)
    assert moved.mean * Fraction("25.4") == Fraction(1, 2)
    assert float(moved.ruler) == pytest.approx(0.25 / 25.4)
    wider = offset_across([length("26.4mm")], [length("25.4mm")], TRUE, WIDE)
    assert wider.mean == moved.mean


@pytest.mark.parametrize("origin", [0, 6.5, 13])
def test_a_scale_across_about_any_point_is_no_offset(origin):
    """0.5 % too short about the left edge, the middle or the right edge of 13 in: the middle comes out
    0.005 × 6.5 = 0.0325 in (0.83 mm) to the left, in place, or as much to the right. Nobody knows which."""
    near = origin + (1 - origin) * 0.995
    far = 13 - (origin + (12 - origin) * 0.995)
    short = scale_error(read("11.94in"))
    moved = offset_across([length(f"{near}in")], [length(f"{far}in")], short, WIDE)
    assert float(moved.mean) == pytest.approx((origin - 6.5) * 0.005)
    assert short.is_seen
    assert not moved.is_seen
    further = offset_across([length(f"{near + 0.1}in")], [length(f"{far - 0.1}in")], short, WIDE)
    assert further.is_seen, "0.1 in more to the right is more than 0.042 in of doubt"


def test_a_feed_error_adds_up_from_the_edge_that_goes_in_first_and_is_no_offset():
    """0.5 % too short on 19 in: a mark at 1 in comes out at 0.995 in, one at 18 in at 17.91 in, which is
    1.09 in from the far edge. The print begins in its place."""
    feed = scale_error(read("17.91in", asked=inches(18)))
    begun = offset_along([length("0.995in")], INSET, feed)
    assert begun.mean == 0
    assert float(begun.ruler) == pytest.approx(sqrt(2) * 0.25 / 25.4)
    assert longer([length("0.995in")], [length("1.09in")], BETWEEN, feed, HIGH).mean == 0


def test_a_print_that_begins_too_low_is_an_offset_with_a_feed_error_or_without():
    """1 mm down: 26.4 mm above. With the feed 0.5 % short 25.4 × 0.995 + 1 = 26.273 mm."""
    for along, top in (("18in", "26.4mm"), ("17.91in", "26.273mm")):
        begun = offset_along([length(top)], INSET, scale_error(read(along, asked=inches(18))))
        assert begun.mean * Fraction("25.4") == 1
        assert begun.is_seen


def test_a_sheet_cut_long_shows_at_the_far_edge_alone():
    """19 in and 2 mm: 25.4 mm above, 27.4 mm below, bars true. The doubt: two distances of √2 × 0.25 mm
    each and 17 in of a scale of √2 × 0.25 in 457.2 mm, 0.601 mm by the sum of squares."""
    sound = scale_error(read("18in", asked=inches(18)))
    over = longer([length("25.4mm")], [length("27.4mm")], BETWEEN, sound, HIGH)
    assert over.mean * Fraction("25.4") == 2
    assert float(over.ruler) * 25.4 == pytest.approx(0.6012, abs=1e-4)
    assert offset_along([length("25.4mm")], INSET, sound).mean == 0


def test_skew_is_what_a_mark_moves_going_down():
    """25.4 mm above and 26.4 mm below, 17 in (431.8 mm) apart: 1 in 431.8, 0.13°."""
    leans = skew([length("25.4mm")], [length("26.4mm")], inches(17))
    assert leans.mean == Fraction(10, 4318)
    assert float(leans.ruler) == pytest.approx(0.5 / 431.8)
    assert degrees_text(leans.mean) == f"{degrees(atan(1 / 431.8)):.2f}°" == "0.13°"
    assert leans.is_seen


def test_refusals():
    assert "check the unit" in refusal(lambda: scale_error(read("11.71mm")))
    assert "3 and 1 distances" in refusal(lambda: offset_across([TWELVE] * 3, [TWELVE], TRUE, WIDE))
    assert "2 and 1 distances from the edge that goes in first" in refusal(
        lambda: offset_along([INSET] * 2, INSET, TRUE)
    )
    assert "1 and 2 distances from opposite edges" in refusal(
        lambda: longer([INSET], [INSET] * 2, BETWEEN, TRUE, HIGH)
    )
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
