"""Where a picture's finest detail is looked at."""

import numpy as np

from labkit.files.look.tiles import KEPT, TILE, detailed_tiles, most_detailed
from labkit.files.pixels.decode import Pixels
from labkit.geometry.pixelbox import PixelBox

SIZE = 2000, 1600


def with_detail(left: int, top: int) -> Pixels:
    """A flat picture with noise in one place."""
    values = np.full((SIZE[1], SIZE[0], 3), 200, np.uint8)
    noise = np.random.default_rng(1).integers(0, 255, (300, 300, 3), np.uint8)
    values[top : top + 300, left : left + 300] = noise
    return Pixels(values, 1)


def test_the_tile_with_detail_comes_first():
    tiles = detailed_tiles(with_detail(1600, 1200), PixelBox(0, 0, *SIZE))
    assert len(tiles) == KEPT
    assert {tile.shape for tile in tiles} == {(TILE, TILE)}
    assert tiles[0].std() > 100 > tiles[-1].std()


def test_the_part_that_is_shown_is_from_there_and_no_larger():
    shown = most_detailed(with_detail(1600, 1200), PixelBox(0, 0, *SIZE), (480, 320))
    assert shown.shape == (320, 480, 3)
    assert shown.std() > 30
    small = most_detailed(with_detail(0, 0), PixelBox(0, 0, 100, 60), (480, 320))
    assert small.shape == (60, 100, 3)
