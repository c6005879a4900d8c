"""Pixels per inch; figures from published tables are in tests/standards/test_resolution.py."""

from dataclasses import FrozenInstanceError, fields, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.resolution import (
    FloorRow,
    distance_for_eye,
    floor_for,
    largest_at_floor,
    ppi_at,
    ppi_for_eye,
    ppi_for_screen,
    ppi_text,
    rgb_bytes,
    scan_ppi,
)
from tests.geometry.refused import refusal
from tests.geometry.strategies import thorough

SMALL = FloorRow(inches(12), 300, length("30cm"))
MIDDLE = FloorRow(inches(24), 200, length("60cm"))
LARGE = FloorRow(None, 180, length("120cm"))
TABLE = (SMALL, MIDDLE, LARGE)


def test_pixels_spread_over_a_size():
    assert ppi_at(3600, inches(12)) == 300
    assert ppi_at(2480, length("210mm")) == Fraction(2480 * 254, 2100)
    assert ppi_at(0, inches(12)) == 0


def test_refuses_pixels_spread_over_nothing():
    assert refusal(ppi_at, 3600, ZERO) == (
        "3600 pixels cannot be spread over 0 in (0 mm): give a size above zero."
    )
    assert "-1 in (-25.4 mm)" in refusal(ppi_at, 3600, -inches(1))


def test_twice_as_far_needs_half_the_ppi():
    near, far = ppi_for_eye(inches(12)), ppi_for_eye(inches(24))
    assert near == pytest.approx(2 * far)


@pytest.mark.parametrize(
    ("distance", "acuity", "told"),
    [
        (ZERO, 1.0, "an eye of acuity 1 at 0 in (0 mm) sees nothing: give both above zero."),
        (
            inches(12),
            0,
            "an eye of acuity 0 at 12 in (304.8 mm) sees nothing: give both above zero.",
        ),
    ],
)
def test_refuses_an_eye_that_sees_nothing(distance, acuity, told):
    assert refusal(ppi_for_eye, distance, acuity) == told


@pytest.mark.parametrize(
    ("long_side", "row"),
    [("1in", SMALL), ("12in", SMALL), ("12.01in", MIDDLE), ("24in", MIDDLE), ("24.01in", LARGE)],
)
def test_the_floor_holds_up_to_its_long_side(long_side, row):
    assert floor_for(length(long_side), TABLE) is row


@pytest.mark.parametrize(
    ("pixels", "longest"),
    [
        (2400, 8),  # 2400 / 300; 200 ppi would do only past 12 in, and is just not reached
        (2399, Fraction(2399, 300)),
        (2500, Fraction(25, 2)),  # past 12 in, where 200 is enough: 2500 / 200
        (3600, 18),
        (4320, Fraction(108, 5)),  # 4320 / 200; 180 ppi would do only past 24 in
        (4321, Fraction(4321, 180)),
        (9000, 50),
    ],
)
def test_the_longest_print_at_the_floor(pixels, longest):
    assert largest_at_floor(pixels, TABLE) == inches(longest)


def test_the_longest_print_where_a_row_is_out_of_reach():
    """2400 pixels reach 200 ppi only up to 12 in, which the first row takes at 300."""
    assert largest_at_floor(2400, (SMALL, MIDDLE)) == inches(8)


def test_the_longest_print_stops_where_a_stricter_row_begins():
    strict = (FloorRow(inches(12), 100, length("30cm")), FloorRow(None, 300, length("30cm")))
    assert largest_at_floor(2400, strict) == inches(12)


@pytest.mark.parametrize(
    ("ppi", "text"),
    [
        (300, "300 ppi"),
        (Fraction(800, 3), "266.7 ppi"),
        (299.9994, "300 ppi"),  # 11811 pixels a metre
        (Fraction(2999, 10), "299.9 ppi"),
        (0.04, "0 ppi"),
        (0.25, "0.3 ppi"),
    ],
)
def test_a_resolution_in_words(ppi, text):
    assert ppi_text(ppi) == text


@st.composite
def tables(draw) -> tuple[FloorRow, ...]:
    """Floors of one to four rows, the last for every longer print."""
    steps = draw(st.dictionaries(st.integers(1, 60), st.integers(50, 600), min_size=1, max_size=4))
    *rows, last = (FloorRow(inches(up), ppi, inches(12)) for up, ppi in sorted(steps.items()))
    return (*rows, replace(last, up_to=None))


@thorough
@given(st.integers(1, 30_000), tables())
def test_the_longest_print_is_at_its_floor_and_none_longer_is(pixels, table):
    longest = largest_at_floor(pixels, table)
    assert ppi_at(pixels, longest) >= floor_for(longest, table).ppi
    for more in (Fraction(1, 1000), Fraction(1), Fraction(5), Fraction(30)):
        longer = longest + inches(more)
        assert ppi_at(pixels, longer) < floor_for(longer, table).ppi


@thorough
@given(st.integers(1, 30_000), tables(), st.integers(1, 80))
def test_none_longer_is_at_its_floor_up_to_what_was_asked(pixels, table, asked):
    longest = largest_at_floor(pixels, table, at_most=inches(asked))
    assert longest <= inches(asked)
    assert ppi_at(pixels, longest) >= floor_for(longest, table).ppi
    for share in (Fraction(1, 1000), Fraction(1, 2), 1):
        longer = longest + (inches(asked) - longest) * share
        if longer > longest:
            assert ppi_at(pixels, longer) < floor_for(longer, table).ppi


def test_a_row_of_the_floor_cannot_be_altered():
    for field in fields(SMALL):
        with pytest.raises(FrozenInstanceError):
            setattr(SMALL, field.name, None)


def test_the_largest_is_looked_for_among_prints_no_larger_than_asked():
    # 17 in of 4400 px have 259 ppi. The next row would let them be 22 in; 300 ppi lets them be 14.67 in.
    rows = (
        FloorRow(length("20in"), 300, length("30cm")),
        FloorRow(length("36in"), 200, length("50cm")),
    )
    assert largest_at_floor(4400, rows, at_most=inches(17)) == inches(Fraction(4400, 300))
    assert largest_at_floor(4400, rows) == inches(22)
    # 25 in of 3750 px have 150 ppi: too few for the second row, and 18.75 in belongs to the first.
    assert largest_at_floor(3750, rows, at_most=inches(25)) == inches(Fraction(25, 2))


@given(st.integers(1, 5000), st.sampled_from([0.5, 1.0, 2.0]))
def test_the_eye_is_asked_both_ways(ppi, acuity):
    assert ppi_for_eye(distance_for_eye(ppi, acuity), acuity) == pytest.approx(ppi)


@pytest.mark.parametrize(("ppi", "acuity"), [(0, 1.0), (300, 0)])
def test_refuses_a_distance_for_nothing(ppi, acuity):
    assert refusal(distance_for_eye, ppi, acuity) == (
        f"{ppi} ppi and an acuity of {acuity:g} give no distance: give both above zero."
    )


@pytest.mark.parametrize(
    ("lpi", "pixels_a_line", "ppi"), [(150, 2, 300), (150, Fraction(3, 2), 225), (85, 2, 170)]
)
def test_pixels_for_a_screen(lpi, pixels_a_line, ppi):
    assert ppi_for_screen(lpi, pixels_a_line) == ppi


def test_a_scan_has_the_pixels_of_the_print():
    original, printed = length("36mm"), length("12in")
    assert scan_ppi(300, original, printed) == 2540  # 300 × 304.8 / 36
    assert original.pixels(scan_ppi(300, original, printed)) == printed.pixels(300) == 3600


def test_a_scan_of_the_same_size_is_at_the_prints_own_ppi():
    assert scan_ppi(240, inches(5), inches(5)) == 240


def test_refuses_to_scan_nothing():
    assert refusal(scan_ppi, 300, ZERO, inches(5)) == (
        "an original 0 in (0 mm) wide cannot be scanned for a print 5 in (127 mm) wide: "
        "give two sizes above zero."
    )


def test_three_bytes_a_pixel():
    assert rgb_bytes((4500, 3000)) == 40_500_000
    assert rgb_bytes((1, 1)) == 3
