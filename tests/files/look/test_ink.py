"""The surround of a sheet, the blocks of ink on it, and boxes in pixels."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labkit.files.look import ink as module
from labkit.files.look.ink import CELL, DIFFERENCE, Ink, Surround, find_surround
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox
from tests.properties import examples

WHITE = (255, 255, 255)


def sheet(width: int, height: int, levels=WHITE) -> np.ndarray:
    values = np.empty((height, width, 3), np.uint8)
    values[:] = levels
    return values


def surround_of(values: np.ndarray) -> Surround:
    return find_surround(Pixels(values, 1))


def ink_on(values: np.ndarray, tolerance: int = 0, left_out=()) -> Ink:
    return Ink(Pixels(values, 1), Surround(WHITE, tolerance), left_out)


# The surround


def test_edges_of_one_colour_need_no_tolerance():
    assert surround_of(sheet(60, 40, (9, 8, 7))) == Surround((9, 8, 7), 0)


def test_tolerance_is_six_standard_deviations_of_the_noise():
    noise = np.random.default_rng(1).normal(200, 3, (600, 800, 3)).round().astype(np.uint8)
    surround = surround_of(noise)
    assert surround.levels == pytest.approx((200, 200, 200), abs=1)
    assert surround.tolerance == pytest.approx(6 * 3, rel=0.2)
    assert not surround.is_flat


def test_tolerance_is_never_less_than_a_jpeg_needs():
    noise = np.random.default_rng(1).integers(199, 201, (60, 80, 3), np.uint8)
    assert surround_of(noise).tolerance == DIFFERENCE


def test_no_edge_shows_the_surround_of_a_picture_that_fills_the_sheet():
    noise = np.random.default_rng(1).integers(0, 256, (60, 80, 3)).astype(np.uint8)
    assert not surround_of(noise).is_seen


def test_the_longer_edges_win_then_the_lighter():
    values = sheet(80, 60, (10, 10, 10))
    values[:, 0] = values[:, -1] = np.random.default_rng(1).integers(0, 256, (60, 3))
    values[0] = 200
    assert surround_of(values).levels == (200, 200, 200)
    values[:, 1:-1] = 10
    values[:, 0] = values[:, -1] = 90
    assert surround_of(values).levels == (10, 10, 10)


def test_a_mark_that_reaches_the_edge_leaves_it_exact():
    values = sheet(100, 80, (240, 240, 230))
    values[:, 50:52] = 0
    values[40] = 0
    assert surround_of(values) == Surround((240, 240, 230), 0)


def test_an_edge_of_two_near_colours_is_not_exact():
    values = sheet(100, 80)
    values[:60, :70] = 254
    assert surround_of(values) == Surround(WHITE, 0)


def test_noisier_goes_up_in_doubles():
    steps = [Surround(WHITE, 0)]
    for _ in range(5):
        steps.append(steps[-1].noisier())
    assert [step.tolerance for step in steps] == [0, 12, 24, 48, 96, 192]


# Ink


def test_ink_is_what_is_off_in_the_channel_that_is_off_most():
    values = sheet(30, 20)
    values[4, 5] = (250, 240, 255)
    assert ink_on(values).off((5, 4, 7, 5)).tolist() == [[15, 0]]


@pytest.mark.parametrize("size", [(64, 48), (61, 45), (5, 3), (8, 200)])
@pytest.mark.parametrize("levels", [WHITE, (0, 0, 0), (120, 130, 140)])
def test_cells_hold_ink_where_a_pixel_of_theirs_does(size, levels):
    """The same found the slow way: any pixel that differs."""
    width, height = size
    values = sheet(width, height, levels)
    rng = np.random.default_rng(width)
    ys, xs = rng.integers(height, size=9), rng.integers(width, size=9)
    values[ys, xs, rng.integers(3, size=9)] = 77
    found = Ink(Pixels(values, 1), Surround(levels, 0)).cells
    for y, x in np.ndindex(found.shape):
        part = values[y * CELL : (y + 1) * CELL, x * CELL : (x + 1) * CELL]
        assert found[y, x] == (part != levels).any()


@pytest.mark.parametrize(("off", "is_ink"), [(20, False), (21, True), (-20, False), (-21, True)])
def test_ink_is_more_than_the_tolerance_either_way(off, is_ink):
    values = sheet(20, 20, (100, 100, 100))
    values[9, 9, 1] = 100 + off
    assert Ink(Pixels(values, 1), Surround((100, 100, 100), 20)).cells.any() == is_ink


@given(
    cells=st.lists(st.lists(st.booleans(), min_size=9, max_size=9), min_size=7, max_size=7),
)
@examples(100)
def test_blocks_are_cells_that_touch_at_corners_too(cells):
    """Compared with flooding from every cell."""
    grid = np.array(cells)
    values = sheet(9 * CELL, 7 * CELL)
    values[np.repeat(np.repeat(grid, CELL, 0), CELL, 1)] = 0
    found = {(block.box, block.count) for block in ink_on(values).blocks()}
    assert found == set(flooded(grid))


def flooded(grid: np.ndarray) -> list[tuple[PixelBox, int]]:
    left, found = {(int(y), int(x)) for y, x in np.argwhere(grid)}, []
    while left:
        edge, block = [left.pop()], []
        while edge:
            y, x = edge.pop()
            block.append((y, x))
            near = {(y + dy, x + dx) for dy in (-1, 0, 1) for dx in (-1, 0, 1)} & left
            left -= near
            edge += near
        ys, xs = zip(*block, strict=True)
        box = min(xs), min(ys), max(xs) + 1 - min(xs), max(ys) + 1 - min(ys)
        found.append((PixelBox(*(side * CELL for side in box)), len(block)))
    return found


def test_blocks_come_largest_first_and_are_numbered_in_the_cells():
    values = sheet(100, 100)
    values[10:20, 10:20] = 0
    values[50:90, 50:90] = 0
    ink = ink_on(values)
    blocks = ink.blocks()
    assert [block.count for block in blocks] == [36, 4]
    assert {int(n) for n in np.unique(ink.numbers)} == {-1, *(block.number for block in blocks)}
    for block in blocks:
        assert np.count_nonzero(ink.numbers == block.number) == block.count


def test_blocks_end_with_the_sheet():
    values = sheet(30, 21)
    values[15:, 20:] = 0
    assert ink_on(values).blocks()[0].box == PixelBox(16, 8, 14, 13)


def test_a_speck_is_no_block_but_a_patch():
    values = sheet(60, 60)
    values[30, 30:33] = 0
    assert (ink_on(values).blocks(), ink_on(values).patches) == ([], 1)
    values[31, 31] = 0
    assert len(ink_on(values).blocks()) == 1


@given(st.integers(0, 40), st.integers(0, 40), st.integers(1, 30), st.integers(1, 30))
@examples(50)
def test_tight_is_the_smallest_box(left, top, width, height):
    values = sheet(80, 80)
    values[top : top + height, left : left + width] = 0
    found = ink_on(values).tight(PixelBox(0, 0, 80, 80))
    assert found == (PixelBox(left, top, width, height) if width * height > 3 else None)


def test_tight_leaves_a_speck_out_only_where_empty_lines_part_it_from_the_rest():
    values = sheet(80, 80)
    values[40:60, 30:50] = 0
    values[36:38, 40] = 0
    box = PixelBox(0, 0, 80, 80)
    assert ink_on(values).tight(box) == PixelBox(30, 40, 20, 20)
    values[38:40, 40] = 0
    assert ink_on(values).tight(box) == PixelBox(30, 36, 20, 24)


def test_what_is_left_out_counts_as_paper():
    values = sheet(80, 80)
    values[10:30, 10:30] = 0
    values[50:70, 40:60] = 0
    left_out = PixelBox(8, 8, 24, 24)
    for ink in (ink_on(values, left_out=[left_out]), ink_on(values).without([left_out])):
        assert [block.box for block in ink.blocks()] == [PixelBox(40, 48, 24, 24)]


@pytest.mark.parametrize(
    "box", [PixelBox(-9, -9, 5, 5), PixelBox(90, 90, 9, 9), PixelBox(70, -4, 99, 99)]
)
def test_what_is_left_out_may_lie_off_the_sheet(box):
    values = sheet(80, 80)
    values[10:30, 10:30] = 0
    blocks = ink_on(values).without([box]).blocks()
    assert [block.box for block in blocks] == [PixelBox(8, 8, 24, 24)]


@pytest.mark.parametrize("band", [CELL, 3 * CELL])
def test_it_does_not_matter_where_a_band_ends(band, monkeypatch):
    values = sheet(50, 90)
    values[np.random.default_rng(2).integers(90, size=20), 10:14] = 0
    at_once = ink_on(values).cells
    monkeypatch.setattr(module, "_BAND", band)
    assert (ink_on(values).cells == at_once).all()


def test_lines_are_given_from_the_edge_inwards():
    values = sheet(40, 30)
    values[:] = (255 - np.arange(40))[:, np.newaxis]
    ink, box = ink_on(values), PixelBox(5, 6, 20, 10)
    assert ink.inward("left", box, 3)[:, 0].tolist() == [5, 6, 7]
    assert ink.inward("right", box, 3)[:, 0].tolist() == [24, 23, 22]
    values[:] = (255 - np.arange(30))[:, np.newaxis, np.newaxis]
    assert ink.inward("top", box, 3)[:, 0].tolist() == [6, 7, 8]
    assert ink.inward("bottom", box, 3)[:, 0].tolist() == [15, 14, 13]
    assert len(ink.inward("bottom", box, 99)) == 10


@pytest.mark.parametrize("dark", [("left",), ("left", "top"), ("top", "right", "bottom")])
def test_a_scanners_dark_rim_is_not_the_paper(dark):
    values = np.full((800, 600, 3), (251, 249, 245), np.uint8)
    sides = {
        "left": np.s_[:, :14],
        "top": np.s_[:9],
        "right": np.s_[:, -12:],
        "bottom": np.s_[-20:],
    }
    for side in dark:
        values[sides[side]] = 6
    assert find_surround(Pixels(values, 1)).levels == (251, 249, 245)
    values[:] = 6  # a dark sheet
    values[200:600, 150:450] = 200
    assert find_surround(Pixels(values, 1)).levels == (6, 6, 6)
