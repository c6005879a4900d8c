"""An invented inkjet: which colour comes out on a paper, and what to send for a colour.

Every solid is made up, and no measurement of any paper; in between, dots of ink mix as in the
Neugebauer equations with the correction of Yule and Nielsen (n = 2): J. A. S. Viggiano, "The Color of
Halftone Tints", TAGA Proceedings 1985.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from labkit.files.pixels.lab import D50, lab_of_xyz, xyz_of_lab
from labkit.teaching.profiles.icc import lattice

_SPREAD = 2
"""Yule and Nielsen's n: how far light spreads in the paper."""
_START = 11
"""Points each way of the grid a search starts from."""
_STEPS = 60
_NUDGE = 1e-6


@dataclass(frozen=True)
class Inkjet:
    """A paper and the solids on it, each as absolute CIE L*a*b* under D50.

    In this order: bare paper, cyan, magenta, blue, yellow, green, red, black.
    """

    solids: tuple[tuple[float, float, float], ...]

    @property
    def white(self) -> np.ndarray:
        """X, Y, Z of bare paper."""
        return xyz_of_lab(self.solids[0])

    @cached_property
    def _corners(self) -> np.ndarray:
        """The solids relative to the paper, ready to be mixed."""
        return (xyz_of_lab(self.solids) / self.white) ** (1 / _SPREAD)

    def lab(self, device: np.ndarray) -> np.ndarray:
        """Lab relative to the paper, (n, 3), of device RGB (n, 3) from 0 to 1."""
        shares = np.ones((len(device), 1))
        for part in np.moveaxis(1 - device[..., None], 1, 0):
            shares = np.concatenate((shares * (1 - part), shares * part), -1)
        return lab_of_xyz((shares @ self._corners) ** _SPREAD * D50)

    def device(self, lab: np.ndarray) -> np.ndarray:
        """Device RGB (n, 3) that comes nearest to Lab (n, 3) relative to the paper, by CIE 1976 distance."""
        device = self._near(lab)
        error, damping = self._error(device, lab), np.full(len(lab), 1e-3)
        for _ in range(_STEPS):
            trial = np.clip(device + self._step(device, lab, damping), 0, 1)
            trial_error = self._error(trial, lab)
            better = trial_error < error
            device = np.where(better[:, None], trial, device)
            error = np.where(better, trial_error, error)
            damping = np.where(better, damping / 4, damping * 8).clip(1e-9, 1e9)
        return device

    def _near(self, lab: np.ndarray) -> np.ndarray:
        grid = lattice(_START)
        made = self.lab(grid)
        return grid[[np.argmin(((made - one) ** 2).sum(-1)) for one in lab]]

    def _error(self, device: np.ndarray, lab: np.ndarray) -> np.ndarray:
        return ((self.lab(device) - lab) ** 2).sum(-1)

    def _step(self, device: np.ndarray, lab: np.ndarray, damping: np.ndarray) -> np.ndarray:
        """A step of Levenberg and Marquardt; a channel at its end that would go beyond it stays."""
        off = lab - self.lab(device)
        slopes = np.stack([self._slope(device, channel) for channel in range(3)], -1)
        downhill = np.einsum("nij,ni->nj", slopes, off)
        free = ~((device <= 0) & (downhill < 0) | (device >= 1) & (downhill > 0))
        normal = np.einsum("nij,nik->njk", slopes, slopes) * free[:, :, None] * free[:, None, :]
        normal[:, range(3), range(3)] += np.where(free, damping[:, None] * 1e3, 1)
        return np.linalg.solve(normal, (downhill * free)[..., None])[..., 0]

    def _slope(self, device: np.ndarray, channel: int) -> np.ndarray:
        """How Lab changes with one channel."""
        ends = np.repeat(device[None], 2, 0)
        ends[:, :, channel] = device[:, channel] + np.array((-_NUDGE, _NUDGE))[:, None]
        return (self.lab(ends[1]) - self.lab(ends[0])) / (2 * _NUDGE)
