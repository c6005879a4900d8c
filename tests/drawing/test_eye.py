import re
from itertools import pairwise

import pytest

from labkit.drawing.eye import FARTHEST, draw_eye, draw_true_scale
from labkit.geometry.length import length
from labkit.geometry.resolution import ppi_for_eye
from tests.drawing.drawn import Drawn


def eye(distance="12in", units="in"):
    far = length(distance)
    return Drawn(draw_eye(far, ppi_for_eye(far), units=units, prefix="eye"), "eye")


def true(dots=100, thick=2, units="in"):
    return Drawn(draw_true_scale(dots, thick, units=units, prefix="true"), "true")


def lines(drawn) -> list[tuple[int, int]]:
    """Left and width of each black line."""
    found = re.findall(r"M(\d+) 64h(\d+)v", drawn.by_id["lines"].get("d"))
    return [(int(left), int(wide)) for left, wide in found]


@pytest.mark.parametrize("distance", ["6in", "12in", "1000mm", "3000mm"])
def test_the_distance_and_the_sheet_are_to_scale(distance):
    made, far = eye(distance), length(distance)
    scale = float(made.root.get("data-unit-scale"))
    left, _, _, high = made.box("sheet")
    assert (left - 60) / scale == pytest.approx(float(far), abs=0.01)
    assert high / scale == pytest.approx(11, abs=0.01)  # a letter sheet, upright
    assert f"H{left:.2f}" in made.by_id["distance"].get("d")


def test_the_farthest_stays_on_the_drawing():
    left, _, wide, _ = eye("3000mm").box("sheet")
    assert length("3000mm") == FARTHEST
    assert left + wide < 640


@pytest.mark.parametrize("distance", ["6in", "300mm", "1000mm"])
def test_the_patches_are_magnified_alike(distance):
    """176 units are 2 mm."""
    made = eye(distance)
    for ident, ppi in (("seen", ppi_for_eye(length(distance))), ("usual", 300)):
        two = float(made.by_id[f"{ident}-two"].get("width"))
        assert two / 2 / 176 * 2 == pytest.approx(25.4 / ppi, abs=1e-4)


def test_what_the_eye_sees_is_told():
    assert eye("300mm").words == (
        "A letter sheet seen from 30 cm (11.81 in). The eye just tells pixels apart that are "
        "0.0034 in (0.087 mm) wide: 291 ppi."
    )
    assert "300 mm (11.81 in)" in eye("300mm", "mm").words
    assert "0.087 mm (0.0034 in)" in eye("300mm", "mm").words


@pytest.mark.parametrize("dots", [20, 96, 150])
def test_the_card_has_its_size_in_screen_dots(dots):
    """85.60 × 53.98 mm (ISO/IEC 7810, from memory)."""
    made = true(dots)
    left, top, wide, high = made.box("card")
    assert wide == pytest.approx(85.60 / 25.4 * dots, abs=0.01)
    assert high == pytest.approx(53.98 / 25.4 * dots, abs=0.01)
    assert left + wide < made.size[0]
    assert top + high < made.size[1]


def test_it_is_never_scaled_to_the_page():
    width, height = true().size
    style = true().root.get("style")
    assert style == f"width:{width:.0f}px;max-width:none;height:{height:.0f}px"
    assert true(150).size == true(20).size


@pytest.mark.parametrize("thick", [1, 2, 8])
def test_lines_and_gaps_are_whole_dots(thick):
    drawn = lines(true(thick=thick))
    assert {wide for _, wide in drawn} == {thick}
    starts = [left for left, _ in drawn]
    assert {b - a for a, b in pairwise(starts)} == {2 * thick}
    assert starts[-1] + thick < true().size[0]


def test_lines_are_told_in_both_units():
    assert "each 0.0200 in (0.508 mm) wide" in true(100, 2).words
    assert "each 0.508 mm (0.0200 in) wide" in true(100, 2, "mm").words
    assert "85.6 mm (3.37 in) wide" in true(units="mm").words


def test_the_same_drawing_every_time():
    assert eye().svg == eye().svg
    assert true().svg == true().svg
