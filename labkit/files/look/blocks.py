"""Whether a picture shows the blocks of a JPEG that was packed hard, whatever it was saved as since."""

import numpy as np

SHOWS, LEVELS = 2.4, 3.5
"""How many times as strong as elsewhere, and by how many levels stronger, the steps across seams are where
they are told. Set by trial on ten pictures of scikit-image, as they are and enlarged: reached at JPEG quality
30 or below by most of them, at 85 by none of those that are not smooth throughout."""
_BLOCK = 8
"""A JPEG's blocks are 8 pixels wide and high (ITU-T T.81, A.3.1)."""
_MOST = 200
"""Steps count no more than this, in quarter levels, so that a few hard edges do not outweigh all else."""


def shows_blocks(tiles: list[np.ndarray]) -> bool:
    """Whether seams between blocks of 8 pixels stand out in both directions of a picture, in grey ``tiles``
    of it.

    ``tiles`` are those of :func:`labkit.files.look.tiles.detailed_tiles`: rows × columns, int16, four times
    grey. A step across a seam is told from the picture's own slopes by third differences of neighbours.
    """
    if min(tiles[0].shape) < 8 * _BLOCK:
        return False
    return _has_seams(tiles) and _has_seams([tile.T for tile in tiles])


def _has_seams(tiles: list[np.ndarray]) -> bool:
    """Whether the mean step from column to column, in one of eight columns, stands out from the others."""
    total = np.zeros(_BLOCK)
    for tile in tiles:
        steps = np.minimum(np.abs(np.diff(tile[::3], n=3, axis=1)), _MOST)
        columns = steps.mean(axis=0)
        total += columns[: columns.size // _BLOCK * _BLOCK].reshape(-1, _BLOCK).mean(axis=0)
    most, others = total.max() / len(tiles) / 4, np.median(total) / len(tiles) / 4
    return bool(most >= SHOWS * others and most - others >= LEVELS)
