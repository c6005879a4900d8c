"""The ruler sheet drawn as it came out: where its script moves a mark, by hand."""

import re

import pytest

from labkit.drawing.ruler import CameOut, draw_ruler
from labkit.geometry.box import Edges
from labkit.geometry.length import inches
from labkit.geometry.ruler import ruler_sheet

RULER = ruler_sheet(inches(13), inches(19))


def moved(came: CameOut, x: float, y: float) -> tuple[float, float]:
    """Where a point of the sheet, in inches, lies on the drawing of the print, in inches."""
    svg = draw_ruler(RULER, Edges(), prefix="r", title="t", words="w", printed=came)
    scale = float(re.search(r'data-unit-scale="([\d.]+)"', svg)[1])
    a, b, c, d, e, f = map(float, re.search(r"matrix\(([^)]*)\)", svg)[1].split())
    return a * x + c * y + e / scale, b * x + d * y + f / scale


def test_a_true_print_covers_the_lines_it_should():
    assert moved(CameOut(), 1, 1) == pytest.approx((1, 1), abs=1e-3)


def test_a_smaller_print_keeps_its_middle_across_and_the_edge_that_goes_in_first():
    came = CameOut(across=0.9, along=0.9)
    assert moved(came, 6.5, 0) == pytest.approx((6.5, 0), abs=1e-3)
    assert moved(came, 0.5, 19) == pytest.approx((1.1, 17.1), abs=1e-3)


def test_small_errors_are_drawn_larger_and_it_says_so():
    """0.02 in to the right, ten times: 0.2 in. A slope of 1 in 1000 over the 8 1/2 in down from the middle,
    ten times: 0.085 in."""
    assert moved(CameOut(right=0.02, larger=10), 1, 1) == pytest.approx((1.2, 1), abs=1e-3)
    lower = moved(CameOut(slope=0.001, larger=10), 6.5, 18)
    assert lower == pytest.approx((6.585, 18), abs=1e-3)
    svg = draw_ruler(RULER, Edges(), prefix="r", title="t", words="w", printed=CameOut(larger=10))
    assert "errors 10 times as large" in svg


def test_every_measure_is_named_on_it():
    svg = draw_ruler(RULER, Edges(), prefix="r", title="t", words="w")
    for name in ("left", "left below", "right", "top", "bottom", "across", "along"):
        assert f">{name}</text>" in svg
    assert "came out" not in svg
