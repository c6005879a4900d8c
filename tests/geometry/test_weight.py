"""The white below a picture, and the window mat."""

import pytest

from labkit.geometry.box import Box
from labkit.geometry.length import ZERO, inches, length
from labkit.geometry.weight import WEIGHTS, window_mat
from tests.geometry.refused import refusal

PICTURE, BOARD = (inches(12), inches(8)), (inches(16), inches(14))
OVERLAP = length("1/8in")


def test_a_mat_worked_by_hand():
    """12 × 8 in, 1/8 in hidden on each side: an opening of 11 3/4 × 7 3/4 in. In a board of 16 × 14 in
    (16 - 11 3/4) / 2 = 2 1/8 in are left at the sides, and 6 1/4 in above and below together."""
    mat = window_mat(PICTURE, BOARD, OVERLAP)
    assert mat.opening == Box(
        length("2 1/8in"), length("3 1/8in"), length("11 3/4in"), length("7 3/4in")
    )
    assert (mat.borders.top, mat.borders.bottom) == (length("3 1/8in"), length("3 1/8in"))
    heavier = window_mat(PICTURE, BOARD, OVERLAP, WEIGHTS["10 % more"])
    assert heavier.borders.bottom / heavier.borders.top == pytest.approx(1.1)


@pytest.mark.parametrize("weight", WEIGHTS.values(), ids=WEIGHTS)
def test_borders_and_opening_fill_the_board_with_the_more_below(weight):
    mat = window_mat(PICTURE, BOARD, OVERLAP, weight)
    assert mat.borders.top + mat.opening.height + mat.borders.bottom == BOARD[1]
    assert mat.borders.left == mat.borders.right
    assert mat.borders.bottom == weight.below(mat.borders.top) >= mat.borders.top
    assert weight.shared(BOARD[1] - mat.opening.height) == (mat.borders.top, mat.borders.bottom)


def test_refusals():
    assert "leaves no opening" in refusal(lambda: window_mat(PICTURE, BOARD, inches(4)))
    assert "too small for an opening" in refusal(lambda: window_mat(PICTURE, PICTURE[::-1], ZERO))
