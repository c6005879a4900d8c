"""Lengths: reading them as people write them, telling them, exact sums, and the one rounding."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.geometry.length import (
    MM_PER_INCH,
    ZERO,
    Length,
    decimal,
    inches,
    length,
    millimetres,
    nearest,
    pair,
    size_text,
)
from tests.geometry.refused import refusal
from tests.geometry.strategies import lengths, thorough


def test_an_inch_is_25_4_mm():
    # PNG 1.2 §4.2.4.2 (ISO 15948): "one inch is equal to exactly 0.0254 meters".
    assert inches(1).mm == Fraction(254, 10)
    assert millimetres(Fraction(254, 10)) == inches(1)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("12in", 12),
        ("12 in", 12),
        ("12 in.", 12),
        ("12 inches", 12),
        ("1 INCH", 1),
        ('12.5"', Fraction(25, 2)),
        ("12″", 12),
        ("1/2 in", Fraction(1, 2)),
        ("12 1/2 in", Fraction(25, 2)),
        ("12  1/2in", Fraction(25, 2)),
        ("12½in", Fraction(25, 2)),
        ("12 ½ in", Fraction(25, 2)),
        ("¼in", Fraction(1, 4)),
        ("2¾ in", Fraction(11, 4)),
        ("⅓ in", Fraction(1, 3)),
        ("⅜ in", Fraction(3, 8)),
        ("1⅞″", Fraction(15, 8)),
        (".5in", Fraction(1, 2)),
        ("12,5 in", Fraction(25, 2)),
        ("0,125 in", Fraction(1, 8)),
        ("25.4mm", 1),
        ("2,54 cm", 1),
        ("  30mm  ", Fraction(300, 254)),
        ("0in", 0),
    ],
)
def test_reads_a_length(text, expected):
    assert length(text).inches == expected


def test_reads_a_length_that_is_one_already():
    assert length(inches(3)) == inches(3)


@pytest.mark.parametrize(
    ("given_text", "sentence"),
    [
        ("12", "the width of “12” has no unit: write 12in or 12mm."),
        (12, "the width of “12” has no unit: write 12in or 12mm."),
        (12.5, "the width of “12.5” has no unit: write 12.5in or 12.5mm."),
        ("12½", "the width of “12½” has no unit: write 12 1/2in or 12 1/2mm."),
        ("1/0 in", "the width of “1/0 in” divides by nothing: write it like 1/2 in."),
    ],
)
def test_refuses_a_length_without_its_unit_or_its_number(given_text, sentence):
    assert refusal(length, given_text, "the width") == sentence


@pytest.mark.parametrize(
    "text",
    ["", "in", "a foot", "12 feet", "12 pt", "-3mm", "1.2.3in", "12 1/2 1/2 in", "nan in", True],
)
def test_refuses_what_is_no_length(text):
    assert refusal(length, text) == (
        f"a length of “{text}” is not a length: write it like 12in, 12 1/2 in or 300mm."
    )


@pytest.mark.parametrize("text", ["1,200mm", "12,000 in", "1,200"])
def test_refuses_a_comma_that_may_part_thousands(text):
    """1,200 mm is 1.2 mm to some and twelve hundred to others."""
    assert "is not a length" in refusal(length, text)
    assert pair(f"{text} x 900mm") is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("13x19in", ("13in", "19in")),
        ("13 × 19 in", ("13in", "19in")),
        ("13 X 19in", ("13in", "19in")),
        ("13*19in", ("13in", "19in")),
        ("8 1/2 x 11 in", ("8.5in", "11in")),
        ("8½x11in", ("8.5in", "11in")),
        ("329mm x 483mm", ("329mm", "483mm")),
        ("13in x 483mm", ("13in", "483mm")),
        ("13in x 19", ("13in", "19in")),
    ],
)
def test_reads_a_size(text, expected):
    assert pair(text) == tuple(length(side) for side in expected)


@pytest.mark.parametrize("text", ["A4", "13in", "13x19x2in", "x", "13x", "wide x high", ""])
def test_what_is_no_size_is_none(text):
    assert pair(text) is None


def test_refuses_a_size_without_a_unit():
    assert refusal(pair, "13 x 19") == ("the size “13 x 19” has no unit: write 13x19in or 13x19mm.")
    for text, side in (("1/0x19in", "width"), ("13x1/0in", "height")):
        assert refusal(pair, text) == (
            f"the {side} of “1/0 in” divides by nothing: write it like 1/2 in."
        )


@pytest.mark.parametrize(
    ("size", "in_inches", "in_mm"),
    [
        ("13in", "13 in", "330.2 mm"),
        ("12 1/2 in", "12 1/2 in", "317.5 mm"),
        ("1/16 in", "1/16 in", "1.6 mm"),  # 1.5875 mm
        ("1/32 in", "0.031 in", "0.8 mm"),  # 0.79375 mm
        ("0.05mm", "0.002 in", "0.1 mm"),  # a half away from zero
        ("0mm", "0 in", "0 mm"),
    ],
)
def test_tells_a_length_in_both_units(size, in_inches, in_mm):
    found = length(size)
    assert found.inch_text() == in_inches
    assert found.mm_text() == in_mm
    assert found.both() == f"{in_inches} ({in_mm})" == str(found)
    assert found.both("mm") == f"{in_mm} ({in_inches})"
    assert repr(found) == f"Length('{in_inches}')"


@pytest.mark.parametrize(
    ("size", "inches_first", "mm_first"),
    [
        ("297mm", "297 mm (11.69 in)", "297 mm (11.69 in)"),  # 11.692913 in
        ("3mm", "3 mm (0.12 in)", "3 mm (0.12 in)"),
        ("2mm", "2 mm (0.079 in)", "2 mm (0.079 in)"),
        ("30cm", "30 cm (11.81 in)", "300 mm (11.81 in)"),
        ("100cm", "1 m (39.37 in)", "1 m (39.37 in)"),
        ("150cm", "1.5 m (59.06 in)", "1500 mm (59.06 in)"),
        ("3000cm", "30 m (98 ft)", "30 m (98 ft)"),  # 1181.1 in
        ("254mm", "10 in (254 mm)", "254 mm (10 in)"),  # whole in both
        ("40in", "40 in (1016 mm)", "1016 mm (40 in)"),
        ("143.239in", "143.2 in (3.64 m)", "3638.3 mm (143.24 in)"),
    ],
)
def test_a_round_figure_is_told_first(size, inches_first, mm_first):
    assert length(size).both() == inches_first
    assert length(size).both("mm") == mm_first


@pytest.mark.parametrize(
    ("size", "inches_first", "mm_first"),
    [
        ("210x297mm", "210 × 297 mm (8.27 × 11.69 in)", "210 × 297 mm (8.27 × 11.69 in)"),
        ("300x400mm", "300 × 400 mm (11.81 × 15.75 in)", "300 × 400 mm (11.81 × 15.75 in)"),
        ("13x19in", "13 × 19 in (330.2 × 482.6 mm)", "330.2 × 482.6 mm (13 × 19 in)"),
    ],
)
def test_both_sides_of_a_size_are_told_in_one_unit(size, inches_first, mm_first):
    assert size_text(pair(size)) == inches_first
    assert size_text(pair(size), "mm") == mm_first


def test_tells_a_length_below_zero():
    assert str(-length("1/2 in")) == "-1/2 in (-12.7 mm)"
    assert str(-length("1 1/2 in")) == "-1 1/2 in (-38.1 mm)"
    assert str(-length("0.0001in")) == "0 in (0 mm)"


def test_sums_are_exact():
    assert length("1/16 in") * 16 == 16 * length("1/16 in") == inches(1)
    assert length("1mm") * 254 == inches(10)
    assert length("13in") - length("12in") == inches(1)
    assert length("13in") + -length("12in") == inches(1)
    assert length("1in") / 3 * 3 == inches(1)
    assert length("3in") / length("2in") == Fraction(3, 2)
    assert abs(-length("3in")) == length("3in") == abs(length("3in"))
    assert sum([inches(1)] * 3, ZERO) == inches(3)


def test_a_factor_with_a_point_counts_as_it_is_written():
    assert inches(10) * 0.1 == inches(1)
    assert inches(1) / 0.1 == inches(10)


@pytest.mark.parametrize("other", [2, 2.5, "2in"])
def test_a_length_and_a_bare_number_do_not_add_up(other):
    with pytest.raises(TypeError):
        inches(1) + other
    with pytest.raises(TypeError):
        inches(1) - other


def test_lengths_are_told_apart_by_size():
    assert length("25mm") < length("1in") < length("26mm")
    assert length("25.4mm") == length("1in")
    assert len({length("25.4mm"), length("1in")}) == 1
    assert not ZERO
    assert length("0.001mm")
    assert float(length("1/2in")) == 0.5


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (0.1, Fraction(1, 10)),
        (np.float64(0.1), Fraction(1, 10)),
        ("0.1", Fraction(1, 10)),
        (Decimal("0.1"), Fraction(1, 10)),
        (3, Fraction(3)),
        (Fraction(1, 3), Fraction(1, 3)),
    ],
)
def test_a_number_is_taken_as_it_is_written(value, expected):
    assert inches(value).inches == expected
    assert millimetres(value).mm == expected


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "wide"])
def test_refuses_what_is_no_number(value):
    sentence = f"“{value}” is no number: give one such as 12.5."
    assert refusal(inches, value) == sentence
    assert refusal(millimetres, value) == sentence


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (Fraction(5, 2), 3),  # 2.5: Python's own round gives 2
        (Fraction(7, 2), 4),
        (Fraction(-5, 2), -2),
        (Fraction(2499, 1000), 2),
        (Fraction(2501, 1000), 3),
        (Fraction(0), 0),
    ],
)
def test_a_half_is_rounded_upwards(value, expected):
    assert nearest(value) == expected
    assert inches(1).pixels(value) == expected
    assert Length(value).pixels(1) == expected


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [
        (Fraction(2, 3), 3, "0.667"),
        (Fraction(1, 2), 0, "1"),
        (Fraction(-1, 2), 0, "-1"),
        (Fraction(100), 3, "100"),
        (Fraction(1001, 100), 1, "10"),
        (Fraction(1005, 100), 1, "10.1"),
        (Fraction(-1, 10000), 3, "0"),
    ],
)
def test_a_decimal_has_no_more_places_than_it_needs(value, places, expected):
    assert decimal(value, places) == expected


@thorough
@given(st.integers(0, 16 * 200))
def test_sixteenths_come_back_from_their_text(count):
    size = inches(Fraction(count, 16))
    assert length(size.inch_text()) == size


@thorough
@given(st.integers(0, 50_000))
def test_tenths_of_a_millimetre_come_back_from_their_text(count):
    size = millimetres(Fraction(count, 10))
    assert length(size.mm_text()) == size


@thorough
@given(st.fractions(0, 200, max_denominator=5000))
def test_any_length_comes_back_within_the_places_it_is_told_in(value):
    size = inches(value)
    assert abs(length(size.inch_text()) - size) <= inches("0.0005")
    assert abs(length(size.mm_text()) - size) <= millimetres("0.05")


@thorough
@given(lengths(), lengths())
def test_a_size_comes_back_from_its_text(width, height):
    text = f"{decimal(width.mm, 9)}mm x {decimal(height.mm, 9)}mm"
    assert pair(text) == (width, height)


@thorough
@given(lengths(), st.integers(1, 2880))
def test_pixels_are_never_more_than_half_of_one_off(size, ppi):
    off = size.pixels(ppi) - size.inches * ppi
    assert -Fraction(1, 2) < off <= Fraction(1, 2)


@thorough
@given(lengths(), lengths())
def test_a_sum_taken_back_is_the_length_itself(one, other):
    assert one + other - other == one
    assert (one + other).mm == one.mm + other.mm == (one.inches + other.inches) * MM_PER_INCH
