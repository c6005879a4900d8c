"""The drawings of paper agree with their figures."""

from itertools import pairwise
from xml.etree import ElementTree

import pytest

from labkit.drawing.stock import draw_edge, draw_fold, draw_frame, draw_roll, draw_stock
from labkit.geometry.box import Edges
from labkit.geometry.length import Length, inches, millimetres
from labkit.geometry.paper import find_sheet
from labkit.geometry.stock import on_roll


def parts(svg: str) -> dict[str, ElementTree.Element]:
    """The elements of a drawing that have an id."""
    root = ElementTree.fromstring(svg)
    found = [each for each in root.iter() if "id" in each.attrib]
    named = {each.attrib["id"]: each for each in found}
    assert len(named) == len(found), "ids are used once"
    return named


def side(element: ElementTree.Element, name: str) -> float:
    return float(element.attrib[name])


def test_sheets_and_prints_are_to_one_scale():
    sheets = [(find_sheet("letter").turned(), True), (find_sheet("13x19in"), False)]
    svg = draw_stock((inches(9), inches(6)), sheets, prefix="p", words="words & more")
    found = parts(svg)
    scale = side(found["p-0"], "width") / 11
    assert side(found["p-1"], "height") == pytest.approx(19 * scale, rel=1e-3)
    for number in (0, 1):
        assert side(found[f"p-{number}-print"], "width") == pytest.approx(9 * scale, rel=1e-2)
    assert "stroke-dasharray" in found["p-1-print"].attrib
    assert "stroke-dasharray" not in found["p-0-print"].attrib
    assert found["p-desc"].text == "words & more"


def test_a_larger_print_leaves_the_sheets_where_they_are():
    sheets = [(find_sheet("letter"), True), (find_sheet("A3"), True)]
    small, large = (
        parts(draw_stock((inches(size), inches(size)), sheets, prefix="p", words=""))
        for size in (3, 8)
    )
    assert small["p-0"].attrib == large["p-0"].attrib
    assert small["p-0-print"].attrib != large["p-0-print"].attrib


@pytest.mark.parametrize("folds", range(9))
def test_each_fold_leaves_half(folds):
    pieces = [find_sheet(f"A{number}") for number in range(9)]
    found = parts(draw_fold(pieces, folds, prefix="p", words=""))
    areas = [
        side(found[f"p-{n}"], "width") * side(found[f"p-{n}"], "height") for n in range(folds + 1)
    ]
    for larger, smaller in pairwise(areas):
        assert smaller / larger == pytest.approx(0.5, rel=0.02)
    assert f"p-{folds + 1}" not in found


def test_a_frame_shows_less_than_it_holds():
    found = parts(draw_frame((inches(8), inches(10)), inches("0.25"), prefix="p", words=""))
    opening, seen = found["p-opening"], found["p-sight"]
    scale = side(opening, "width") / 8
    assert side(opening, "height") == pytest.approx(10 * scale, abs=0.02)
    assert side(seen, "width") == pytest.approx(7.5 * scale, abs=0.02)
    assert side(seen, "x") - side(opening, "x") == pytest.approx(0.25 * scale, abs=0.02)


def test_a_roll_is_cut_where_the_run_ends():
    edges = Edges(*(millimetres(5) for _ in range(4)))
    print_size = (inches(20), inches(12))
    run = on_roll(print_size, inches(24), edges)
    found = parts(draw_roll(print_size, inches(24), run, prefix="p", words=""))
    scale = side(found["p-print"], "height") / 20
    assert side(found["p-print"], "width") == pytest.approx(12 * scale, abs=0.02)
    cut = float(found["p-cut"].attrib["d"].split()[0].removeprefix("M"))
    end = side(found["p-print"], "x") + side(found["p-print"], "width")
    assert cut - end == pytest.approx(float(millimetres(5)) * scale, abs=0.02)


def test_a_print_too_wide_for_the_roll_is_dashed():
    run = on_roll((inches(30), inches(12)), inches(24), Edges())
    found = parts(draw_roll((inches(30), inches(12)), inches(24), run, prefix="p", words=""))
    assert "stroke-dasharray" in found["p-print"].attrib


def test_the_last_pixel_ends_where_it_does():
    tolerance, pixel = millimetres(2), inches("0.01")
    off = Length(-pixel.inches / 4)
    found = parts(draw_edge(tolerance, pixel, off, prefix="p", words=""))
    allowed = found["p-allowed"]
    scale = side(allowed, "width") / float(tolerance * 2)
    middle = side(allowed, "x") + side(allowed, "width") / 2
    end = float(found["p-end"].attrib["d"].split()[0].removeprefix("M"))
    assert end - middle == pytest.approx(float(off) * scale, abs=0.02)
