import random
from itertools import pairwise

from labkit.drawing.dimensions import GAP, spread_apart


def test_labels_are_moved_no_further_than_they_must():
    assert spread_apart([50, 150], [20, 20], 0, 200) == [50, 150]
    # Both want 50: 20 wide and 8 apart, their centres end 28 from one another about it.
    assert spread_apart([50, 50], [20, 20], 0, 200) == [36, 64]
    assert spread_apart([2, 3], [20, 20], 0, 200) == [10, 38]
    assert spread_apart([199, 200], [20, 20], 0, 200) == [162, 190]


def test_labels_keep_their_order_and_gaps():
    chance = random.Random(3)
    for _ in range(300):
        sizes = [chance.uniform(5, 60) for _ in range(chance.randint(1, 4))]
        wanted = sorted(chance.uniform(-20, 420) for _ in sizes)
        spots = spread_apart(wanted, sizes, 0, 400)
        edges = [
            (spot - size / 2, spot + size / 2) for spot, size in zip(spots, sizes, strict=True)
        ]
        assert edges[0][0] >= -1e-9
        assert edges[-1][1] <= 400 + 1e-9
        for (_, end), (start, _) in pairwise(edges):
            assert start - end >= GAP - 1e-9
