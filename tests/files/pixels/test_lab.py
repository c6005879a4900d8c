"""CIE L*a*b* and XYZ, against another library."""

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.files.pixels.lab import D50, lab_of_xyz, xyz_of_lab

LABS = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120)).map(np.array)
WHITE = colour.XYZ_to_xy(D50)


def test_a_thousand_colours_by_another_library():
    """colour-science, ``XYZ_to_Lab`` and ``Lab_to_XYZ``."""
    xyz = np.random.default_rng(1).random((10, 100, 3))
    lab = colour.XYZ_to_Lab(xyz, WHITE)
    assert lab_of_xyz(xyz) == pytest.approx(lab, abs=1e-9)
    assert xyz_of_lab(lab) == pytest.approx(xyz, abs=1e-9)


def test_white_black_and_the_grey_of_half_the_lightness():
    """CIE 15: the joint lies at L = 8, where both formulas meet; L 50 has Y 0.1842."""
    assert lab_of_xyz(D50) == pytest.approx([100, 0, 0])
    assert lab_of_xyz((0, 0, 0)) == pytest.approx([0, 0, 0], abs=1e-12)
    assert xyz_of_lab((8, 0, 0)) == pytest.approx(D50 * (6 / 29) ** 3)
    assert xyz_of_lab((50, 0, 0)) == pytest.approx(D50 * 0.1842, abs=5e-5)


@given(LABS)
def test_there_and_back(lab):
    assert lab_of_xyz(xyz_of_lab(lab)) == pytest.approx(lab, abs=1e-9)
