"""Boxes of whole pixels: cut, grown, joined, compared."""

from itertools import pairwise

from labkit.geometry.pixelbox import PixelBox, area, around, cut_off, grown, is_inside, overlap

BOX = PixelBox(10, 20, 30, 40)


def test_cutting_lines_off_and_putting_them_back():
    assert cut_off(BOX, "left", 3) == PixelBox(13, 20, 27, 40)
    assert cut_off(BOX, "right", 3) == PixelBox(10, 20, 27, 40)
    assert cut_off(BOX, "top", 3) == PixelBox(10, 23, 30, 37)
    assert cut_off(BOX, "bottom", 40) is None
    for side in ("left", "top", "right", "bottom"):
        assert cut_off(cut_off(BOX, side, 5), side, -5) == BOX


def test_boxes_grow_and_join_and_overlap():
    assert grown(BOX, 2) == PixelBox(8, 18, 34, 44)
    assert around([BOX, PixelBox(0, 70, 5, 5)]) == PixelBox(0, 20, 40, 55)
    assert area(BOX) == 1200
    for one, other in pairwise([PixelBox(0, 0, 10, 99), BOX, PixelBox(40, 0, 9, 99)]):
        assert not overlap(one, other)
    assert overlap(BOX, PixelBox(39, 59, 9, 9))
    assert is_inside(BOX, BOX)
    assert not is_inside(grown(BOX, 1), BOX)
