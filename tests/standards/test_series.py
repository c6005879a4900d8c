"""The series of sheet sizes as the lesson on them folds and tells them.

Our own arithmetic on the sizes of papers.csv, which test_papers.py checks against their standards: that
each sheet is half the one before is the principle of halving of ISO 216 (not seen; as Wikipedia, “ISO
216”, tells it).
"""

from fractions import Fraction

import pytest

from labkit.geometry.folding import SERIES, folds
from labkit.geometry.holding import area
from labkit.geometry.paper import find_sheet


def pieces(series, times=10):
    return folds(find_sheet(SERIES[series]), times)


@pytest.mark.parametrize("series", ["A", "B", "JIS B"])
def test_ten_folds_give_the_series_of_that_name(series):
    assert [piece.name for piece in pieces(series)] == [f"{series}{number}" for number in range(11)]


@pytest.mark.parametrize(
    ("series", "names"),
    [
        ("ANSI", ["ANSI E", "ANSI D", "ANSI C", "tabloid", "letter", "statement", "4.25x5.5in"]),
        ("ARCH", ["ARCH E", "ARCH D", "ARCH C", "ARCH B", "ARCH A", "6x9in"]),
    ],
)
def test_inch_sheets_fold_into_the_next_letter(series, names):
    assert [piece.name for piece in pieces(series, len(names) - 1)] == names


def test_a0_is_a_square_metre_and_a4_a_sixteenth():
    """841 × 1189 mm are 0.999949 m²; rounding down at each fold leaves A4 at 0.06237."""
    a = pieces("A", 4)
    assert float(area(a[0].width, a[0].height)) == pytest.approx(1_000_000, rel=1e-4)
    assert area(a[4].width, a[4].height) == 62370
    assert float(area(a[4].width, a[4].height) * 16) == pytest.approx(1_000_000, rel=0.003)


@pytest.mark.parametrize("series", ["A", "B", "JIS B"])
def test_their_ratio_stays_the_root_of_two(series):
    """To what rounding to a millimetre does: a fiftieth in the smallest, less than 0.3 % to the sixth."""
    for number, piece in enumerate(pieces(series)):
        within = 0.02 if number > 6 else 0.008
        assert float(piece.height / piece.width) == pytest.approx(2**0.5, rel=within)


@pytest.mark.parametrize(
    ("series", "ratios"),
    [("ANSI", (Fraction(22, 17), Fraction(17, 11))), ("ARCH", (Fraction(4, 3), Fraction(3, 2)))],
)
def test_inch_ratios_take_turns(series, ratios):
    """And twice the one is the other upside down: 2 ÷ 22/17 = 17/11."""
    for number, piece in enumerate(pieces(series)):
        assert piece.height / piece.width == ratios[number % 2]
    assert 2 / ratios[0] == ratios[1]


@pytest.mark.parametrize("number", range(4))
def test_jis_b_is_about_three_per_cent_longer(number):
    """√(1.5/√2) = 1.0299 (CIP4, JDF issue 435); JIS B0 is 1.5 m², ISO B0 √2 m²."""
    ours, theirs = find_sheet(f"JIS B{number}"), find_sheet(f"B{number}")
    assert float(ours.height / theirs.height) == pytest.approx(1.0299, abs=0.0015)
    assert round((1.5 / 2**0.5) ** 0.5, 4) == 1.0299


def test_b_sheets_lie_between_a_sheets():
    """ISO 216: B is the geometric mean of neighbours in A."""
    for number in range(1, 9):
        lower, middle, upper = (
            area(sheet.width, sheet.height)
            for sheet in map(find_sheet, (f"A{number}", f"B{number}", f"A{number - 1}"))
        )
        assert lower < middle < upper
        assert float(middle**2 / (lower * upper)) == pytest.approx(1, abs=0.05)


def test_the_five_sheets_of_the_question_by_area():
    """Square centimetres, whole: 8.5 × 11 in is 215.9 × 279.4 mm, and so on."""
    names = ("letter", "A4", "11x17in", "A3", "13x19in")
    found = [round(area(each.width, each.height) / 100) for each in map(find_sheet, names)]
    assert found == [603, 624, 1206, 1247, 1594]
