"""Cuts and mats drawn to scale: figures read back from the drawing."""

import re

import pytest

from labkit.drawing.trimplan import draw_mat, draw_plan
from labkit.geometry.box import Box
from labkit.geometry.length import inches, length
from labkit.geometry.trimplan import finished, plan_cuts
from labkit.geometry.weight import WEIGHTS, window_mat

PICTURE = Box(inches("2.5"), inches(3), inches(8), inches(10))
PLAN = plan_cuts((inches(13), inches(19)), PICTURE, finished(PICTURE, inches(1)))
THIN = length("1/32in")


def drawn(off=None, larger=16) -> str:
    return draw_plan(
        PLAN, off=off or {}, borders=PLAN.borders_if(off or {}), units="in", prefix="p", title="t",
        words="w", larger=larger,
    )  # fmt: skip


def box(svg: str, ident: str) -> list[float]:
    found = re.search(
        rf'id="{ident}" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', svg
    )
    return [float(side) for side in found.groups()]


def scale(svg: str) -> float:
    return float(re.search(r'data-unit-scale="([\d.]+)"', svg)[1])


def test_the_piece_lies_to_scale_on_its_sheet():
    svg = drawn()
    sheet, piece = box(svg, "p-sheet"), box(svg, "p-piece")
    assert [(a - b) / scale(svg) for a, b in zip(piece, sheet, strict=True)][:2] == pytest.approx(
        [1.5, 2], abs=0.01
    )
    assert [side / scale(svg) for side in piece[2:]] == pytest.approx([10, 12], abs=0.01)
    assert "as meant" not in svg


def test_an_error_is_drawn_larger_and_beside_it_what_was_meant():
    """1/32 in sixteen times as large is 1/2 in: the piece begins and ends that much farther right."""
    svg = drawn({"left": THIN})
    meant, piece = box(drawn(), "p-piece"), box(svg, "p-piece")
    assert (piece[0] - meant[0]) / scale(svg) == pytest.approx(0.5, abs=0.01)
    assert piece[2] == pytest.approx(meant[2], abs=0.02)
    assert "errors drawn 16 times as large" in svg
    assert "left 0.969 in" in svg
    assert "right 1.031 in" in svg


def test_each_cut_runs_through_what_is_in_hand_then():
    """19 in, then 11 1/2 in of what is left, 17 in, 10 in."""
    svg = drawn()
    long = []
    for number in range(1, 5):
        x, y, way, end = re.search(
            rf'id="p-cut-{number}" d="M([\d.]+) ([\d.]+)([VH])([\d.]+)"', svg
        ).groups()
        long.append((float(end) - float(y if way == "V" else x)) / scale(svg))
    assert long == pytest.approx([19, 11.5, 17, 10], abs=0.01)


def test_a_mat_to_scale():
    mat = window_mat(
        (inches(12), inches(8)), (inches(16), inches(14)), length("1/8in"), WEIGHTS["1/2 in more"]
    )
    svg = draw_mat(mat, (inches(12), inches(8)), units="mm", prefix="m", title="t", words="w")
    board, opening = box(svg, "m-board"), box(svg, "m-opening")
    assert (opening[1] - board[1]) / scale(svg) == pytest.approx(2.875, abs=0.01)
    assert [side / scale(svg) for side in opening[2:]] == pytest.approx([11.75, 7.75], abs=0.01)
    assert "bottom 85.7 mm" in svg
