"""Whether a picture has been enlarged from fewer pixels, told by the traces that enlarging leaves.

An enlarged picture's pixels are weighted means of fewer pixels, and the weights come round again with
each of those. So neighbouring pixels differ more and less by turns. Enlarged N times, the mean
difference from column to column swings with 1/N cycles a pixel (1 - 1/N below two times), and from row
to row likewise (A. C. Gallagher, "Detection of linear and cubic interpolation in JPEG compressed images",
CRV 2005; B. Mahdian and S. Saic, "Blind authentication using periodic properties of interpolation", IEEE
TIFS 3(3), 2008). Such a swing alone proves nothing: the blocks of a JPEG file, a woven fabric and a
picture made smaller have one too. So the picture must besides lack the fine detail that so few pixels
cannot hold, or swing more widely than anything but an enlargement does.

The limits below were found by trial on pictures of scikit-image; ``python -m tests.bench enlarged`` says
on which, and measures how many are found, and how many in error.
"""

from dataclasses import dataclass

import numpy as np

from labkit.files.look.tiles import ROUND

LEAST = 147
"""A picture narrower or lower than this, in pixels, is too small to tell."""
STANDS_OUT, STANDS_WELL_OUT = 6.5, 25
"""How many times the median of its surroundings a line of the spectrum must reach in both directions to
count at all, and to make an enlargement likely."""
LACKS, LACKS_LESS, LACKS_LEAST = -25, 15, -12
"""How many decibels detail must fall off across the finest possible: so many where the line just stands
out, so many fewer for each ten times that it is higher, but no fewer than the last."""
WIDE = 0.42
"""A swing this wide (amplitude, in natural logarithms of the mean difference) needs no lack of detail."""

PATTERN = 10
"""A line so many times as high as its surroundings in the picture's own spectrum, both ways, is a pattern
that was drawn."""
BUSY = 0.0025
"""With fewer differences than this share all is smooth slopes, and their bands look like enlarging."""
PLAIN = 2.2
"""Plainly repeated columns differ from the one before by so much less than others, in natural logarithms."""
LEAST_FACTOR = 1.4
"""No enlargement by less is told, but by plain repeats."""

_LEAST_POWER = 0.02  # less than rounding to whole levels leaves, which is 1/12 for one channel
_BANDS = 1.5  # levels: neighbours on a smooth slope differ by none or one
_LINES = 504
_CYCLES = np.arange(_LINES // 2 + 1) / _LINES
_LOWEST, _LOWEST_OF_ALL = (
    0.19,
    0.145,
)  # cycles a pixel: the strongest line's, and that of the one it doubles
_BLOCK = 8  # ITU-T T.81, A.3.1: a JPEG's blocks are 8 pixels wide
# Over this many columns 1/2, 1/3, 1/4 and 1/6 cycle a pixel cancel, so that they are left in.
_SMOOTHING = np.convolve(np.ones(12) / 12, [0.5, 0.5])


@dataclass(frozen=True, slots=True)
class Enlarged:
    """By how much a picture seems to have been enlarged, and how sure that is.

    ``factor`` is how many of its pixels were one, each way. ``sure`` is "likely" where the trace is
    strong, "perhaps" where it is just strong enough to be told.
    """

    factor: float
    sure: str


@dataclass(frozen=True)
class _Direction:
    """What the differences between neighbours show in one direction.

    ``lines`` (by order of difference) is how far each line of the spectrum stands out, ``unblocked`` the
    same once the seams of blocks are smoothed over, ``swing`` its amplitude in the first differences,
    ``power`` the power of the picture itself in decibels, all over ``_CYCLES``. ``steps`` is the course
    of the first differences, column by column, in natural logarithms, ``thirds`` that of the second ones
    averaged over every third column. ``busy`` is the share of pixels that differ from their neighbour
    by more than the bands of a smooth slope do. ``length`` is how many columns were looked at.
    """

    lines: np.ndarray
    unblocked: np.ndarray
    swing: np.ndarray
    power: np.ndarray
    steps: np.ndarray
    thirds: np.ndarray
    busy: float
    is_patterned: bool
    length: int


def find_enlarged(tiles: list[np.ndarray]) -> Enlarged | None:
    """Whether a picture was enlarged, by ``tiles`` of it; None where nothing tells.

    ``tiles`` are those of :func:`labkit.files.look.tiles.detailed_tiles`: rows × columns, int16, four times
    grey. Told are enlargements from 1.4 to about 6 times, and more where pixels are repeated. Most are missed
    once they are saved as a JPEG of quality 85, as are those of a picture that was soft before, of smooth
    slopes and of drawn patterns. Of two factors that leave the same trace, as 1.75 and 2.33 or 1.67 and
    2.5, it may be the other one (1.5 and 3 are kept apart in all but noisy pictures). In error it takes
    some soft pictures that were saved as JPEG, and some JPEGs made smaller, for enlarged.
    """
    if min(tiles[0].shape) < LEAST:
        return None
    directions = [_direction(tiles), _direction([np.ascontiguousarray(tile.T) for tile in tiles])]
    return _told(directions)


# One direction


def _direction(tiles: list[np.ndarray]) -> _Direction:
    length = (tiles[0].shape[1] - 3) // ROUND * ROUND
    window = np.hanning(length).astype(np.float32)
    lines, unblocked = np.zeros((2, 3, length // 2 + 1))
    swing, power = np.zeros((2, length // 2 + 1))
    steps, thirds, busy = np.zeros(length), np.zeros(3), 0.0
    for tile in tiles:
        power += _power(tile[:, :length], window) / len(tiles)
        differences = tile
        for order in range(3):
            differences = np.diff(differences, axis=1)
            means = np.abs(differences[:, :length]).mean(axis=0) / 4
            course = _levelled(np.log(means + 0.05))
            lines[order] += _spectrum(course, window)
            unblocked[order] += _spectrum(_smoothed_over(course, order + 1), window)
            if order == 0:
                busy += (np.abs(differences[::8]) > 4 * _BANDS).mean() / len(tiles)
                swing += 2 * np.abs(np.fft.rfft(course * window)) / window.sum() / len(tiles)
                steps += course / len(tiles)
            elif order == 1:
                thirds += _clipped(course).reshape(-1, 3).mean(axis=0)
    own = np.arange(length // 2 + 1) / length
    return _Direction(
        lines=np.array([np.interp(_CYCLES, own, _standing_out(each)) for each in lines]),
        unblocked=np.array([np.interp(_CYCLES, own, _standing_out(each)) for each in unblocked]),
        swing=np.interp(_CYCLES, own, swing),
        power=10 * np.log10(np.interp(_CYCLES, own, power) + _LEAST_POWER),
        steps=steps,
        thirds=thirds,
        busy=float(busy),
        is_patterned=_has_line(power[own > 0.1]),
        length=length,
    )


def _power(tile: np.ndarray, window: np.ndarray) -> np.ndarray:
    """The mean power spectrum of a quarter of the rows, at no one distance from each other."""
    at = np.arange(0, len(tile) - 3, 4)
    rows = tile[at + np.arange(at.size) % 4].astype(np.float32) / 4
    rows -= rows.mean(axis=1, keepdims=True)
    return (np.abs(np.fft.rfft(rows * window, axis=1)) ** 2).mean(axis=0) / (window**2).sum()


def _has_line(power: np.ndarray) -> bool:
    """Whether one line stands alone: far above what lies three to either side, where its foot ends."""
    size = np.sqrt(power)
    beside = np.maximum(size[:-6], size[6:])
    return bool((size[3:-3] > PATTERN * beside + 1e-3).any())


def _levelled(course: np.ndarray) -> np.ndarray:
    """Without what changes slowly, which is the picture itself."""
    return course - np.convolve(np.pad(course, 6, mode="reflect"), _SMOOTHING, "valid")


def _smoothed_over(course: np.ndarray, order: int) -> np.ndarray:
    """With the columns in which differences cross the seam of two blocks taken from half a block away."""
    folded = course[: course.size // _BLOCK * _BLOCK].reshape(-1, _BLOCK).mean(axis=0)
    folded -= np.median(folded)
    first = int(np.abs(sum(np.roll(folded, -turn) for turn in range(order))).argmax())
    course, half = course.copy(), _BLOCK // 2
    for turn in range(order):
        at = np.arange((first + turn) % _BLOCK, course.size, _BLOCK)
        at = at[(at >= half) & (at < course.size - half)]
        course[at] = (course[at - half] + course[at + half]) / 2
    return course


def _clipped(course: np.ndarray) -> np.ndarray:
    """With no column further out than three times the median: an edge in the picture is no swing."""
    most = 3 * np.median(np.abs(course))
    return np.clip(course, -most, most)


def _spectrum(course: np.ndarray, window: np.ndarray) -> np.ndarray:
    course = _clipped(course)
    course -= course.mean()
    return np.abs(np.fft.rfft(course * window)) ** 2 / ((course**2).sum() + 1e-9)


def _standing_out(power: np.ndarray) -> np.ndarray:
    """The amplitude of each line over the median of the 41 about it."""
    size = np.sqrt(power)
    about = np.lib.stride_tricks.sliding_window_view(np.pad(size, 20, mode="reflect"), 41)
    return size / (np.median(about, axis=1) + 1e-9)


# Both directions


def _told(directions: list[_Direction]) -> Enlarged | None:
    if min(direction.busy for direction in directions) < BUSY or all(
        direction.is_patterned for direction in directions
    ):
        return None
    lines = _lines(directions)
    at = int(np.where(_CYCLES < _LOWEST, 0, lines).argmax())
    height = lines[at]
    if height < STANDS_OUT:
        return None
    sure = "likely" if height >= STANDS_WELL_OUT else "perhaps"
    factor = _factor(directions, lines, at)
    lack = _lack(directions, factor)
    if lack <= min(LACKS + LACKS_LESS * np.log10(height / STANDS_OUT), LACKS_LEAST):
        return Enlarged(_rounded(factor), sure)
    if min(direction.swing[at] for direction in directions) >= WIDE:
        return Enlarged(_rounded(_factor_of_repeats(directions, at)), sure)
    return None


def _lines(directions: list[_Direction]) -> np.ndarray:
    """How far each line stands out in both directions and the best order of differences; 0 where it may
    come of a JPEG's blocks, or of a camera's filter of colours."""
    plain, unblocked = (
        _widened(np.array([getattr(direction, name) for direction in directions]))
        for name in ("lines", "unblocked")
    )
    lobe = 5 / min(direction.length for direction in directions)
    eighths = np.abs(_CYCLES * _BLOCK - np.round(_CYCLES * _BLOCK)) < lobe * _BLOCK / 2
    lines = np.where(eighths, unblocked, plain).min(axis=0)
    lines[:, _CYCLES < _LOWEST_OF_ALL] = 0
    odd = [_LINES // 8, 3 * _LINES // 8]
    blocks, left = plain[..., odd].max(axis=2).min(axis=0), unblocked[..., odd].max(axis=(0, 2))
    for eighth, over_blocks in ((1, None), (2, 1.5), (3, None), (4, 0.7)):
        near = np.abs(_CYCLES - eighth / 8) < lobe
        if over_blocks is None:
            lines[:, near] = 0
        else:
            least = np.maximum(over_blocks * blocks, 2.5 * left)[:, None]
            lines[:, near] = np.where(lines[:, near] < least, 0, lines[:, near])
    lines[1, np.abs(_CYCLES - 1 / 2) < lobe] = 0
    return lines.max(axis=0)


def _widened(lines: np.ndarray) -> np.ndarray:
    """Each line with its neighbours: the largest of the three, their own value counting a little more."""
    beside = np.pad(lines, [(0, 0)] * (lines.ndim - 1) + [(1, 1)])
    return np.maximum(lines, 0.999 * np.maximum(beside[..., :-2], beside[..., 2:]))


def _lack(directions: list[_Direction], factor: float) -> float:
    """By how many decibels detail falls off across the finest that fewer pixels can hold."""
    finest, cycles = 0.5 / factor, _CYCLES
    above = (min(1.5 * finest, 0.43) < cycles) & (cycles < min(2.1 * finest, 0.49))
    below = (0.4 * finest < cycles) & (cycles < 0.85 * finest)
    return float(
        np.mean(
            [
                direction.power[above].mean() - direction.power[below].mean()
                for direction in directions
            ]
        )
    )


def _factor(directions: list[_Direction], lines: np.ndarray, at: int) -> float:
    """The factor that a line tells: 1/f or 1/(1 - f), or by the line at half f.

    Which of the two is told well for 3 and 1.5, and less well between 1.6 and 2.5.
    """
    half = round(at / 2)
    stands_out = lines[half - 1 : half + 2].max() >= STANDS_OUT
    if stands_out and _lack(directions, 1 / _CYCLES[half]) < -18:
        return float(1 / _CYCLES[half])
    large, small = 1 / _CYCLES[at], 1 / (1 - _CYCLES[at])
    if abs(large - 3) < 0.05:
        is_large = (
            _falls_early(directions)
            - 3 * np.mean([_skew(direction.thirds) for direction in directions])
            < -4.5
        )
    else:
        is_large = small < LEAST_FACTOR or large - small < 0.1 or _lack(directions, large) < -20
    return float(large if is_large else small)


def _rounded(factor: float) -> float:
    """To a quarter if that is less than one in a hundred away, as far apart as lines are; else to 0.01."""
    quarter = round(factor * 4) / 4
    return quarter if abs(quarter - factor) < 0.01 * factor else round(factor, 2)


def _falls_early(directions: list[_Direction]) -> float:
    """How much further the power falls about 1/6 cycle a pixel than about 1/3, in decibels."""
    low, middle, high = (
        np.mean(
            [
                direction.power[(start < _CYCLES) & (end > _CYCLES)].mean()
                for direction in directions
            ]
        )
        for start, end in ((0.083, 0.15), (0.18, 0.33), (0.35, 0.49))
    )
    return float((middle - low) - (high - middle))


def _skew(thirds: np.ndarray) -> float:
    """1 where one of three is high and two are low, -1 where one is low."""
    low, middle, high = np.sort(thirds)
    return float((high + low - 2 * middle) / (high - low + 1e-9))


def _factor_of_repeats(directions: list[_Direction], at: int) -> float:
    """The same where pixels are repeated: of N columns N - 1 then hardly differ from the one before."""
    cycles = _CYCLES[at]
    ends = [np.quantile(direction.steps, (0.05, 0.95)) for direction in directions]
    few = [direction.steps < end.mean() for direction, end in zip(directions, ends, strict=True)]
    share = np.concatenate(few).mean()
    off = {turn / cycles: abs(1 - cycles / turn - share) for turn in range(1, 5)}
    is_plain = min(high - low for low, high in ends) > PLAIN
    if is_plain or 1 / (1 - cycles) > LEAST_FACTOR:
        off[1 / (1 - cycles)] = abs(cycles - share)
    return float(min(off, key=off.get))
