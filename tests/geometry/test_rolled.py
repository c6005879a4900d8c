"""What is left on a roll, by its diameter and by its weight."""

import pytest

from labkit.errors import LabError
from labkit.geometry.length import inches, length, millimetres
from labkit.geometry.rolled import diameter_of, length_by_weight, length_left, paper_kg

CORE = millimetres(80)


def test_worked_example():
    """A ring from 80 to 120 mm across: π (120² − 80²) / 4 = 6283.19 mm², and 0.3 mm to a sheet."""
    assert length_left(millimetres(120), CORE, millimetres("0.3")) == millimetres(20944)


def test_length_of_rings_wound_one_by_one():
    """The same strip added up turn after turn, each at the diameter of its middle."""
    thick, turns = 0.3, 67
    wound = sum(3.141592653589793 * (80 + (2 * turn + 1) * thick) for turn in range(turns))
    outside = millimetres(round(80 + 2 * turns * thick, 3))
    assert abs(float(length_left(outside, CORE, millimetres("0.3")).mm) - wound) < 1


def test_nothing_is_left_on_a_bare_core():
    assert length_left(CORE, CORE, millimetres("0.3")) == millimetres(0)


def test_diameter_and_back():
    left = millimetres(15000)
    outside = diameter_of(left, CORE, millimetres("0.5"))
    found = length_left(outside, CORE, millimetres("0.5"))
    assert abs(float(found.mm - left.mm)) < 40  # a tenth of a millimetre of diameter


def test_weight_of_a_known_roll():
    """1.1176 m × 30 m × 300 g/m² = 10.058 kg, worked by hand."""
    assert paper_kg(inches(44), millimetres(30000), 300) == pytest.approx(10.0584)


def test_weight_and_back():
    kg = paper_kg(inches(24), length("9m"), 260)
    assert length_by_weight(kg, inches(24), 260) == length("9m")


@pytest.mark.parametrize(
    ("outside", "core", "thickness"), [("70mm", "80mm", "0.3mm"), ("120mm", "80mm", "0mm")]
)
def test_refuses_what_cannot_be(outside, core, thickness):
    with pytest.raises(LabError, match=r"measure both again|above zero"):
        length_left(length(outside), length(core), length(thickness))


def test_refuses_paper_lighter_than_nothing():
    with pytest.raises(LabError, match="less than none"):
        length_by_weight(-0.1, inches(24), 260)
