"""Make the two invented paper profiles: a bright gloss and a dull matt.

    python -m labkit.teaching.profiles.make [--out DIR]

Each run writes the same bytes. No paper was measured for them: they show how papers differ.
"""

import argparse
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path

import numpy as np

from labkit.teaching.profiles import GLOSS, MATT, icc
from labkit.teaching.profiles.inkjet import Inkjet

_DEVICE_POINTS, _LAB_POINTS = 13, 17
"""Points each way of the tables from and to device RGB."""
_DATE = datetime(2026, 1, 5)
_WITHIN = 1.0
"""CIE 1976 distance up to which a colour counts as one that the paper shows."""


@dataclass(frozen=True)
class Paper:
    """An invented paper: its name in the profile, what its inks look like on it, and how strongly the
    perceptual tables draw colours together (the chroma that becomes half as strong)."""

    name: str
    inkjet: Inkjet
    halved_at: float

    @cached_property
    def darkest(self) -> float:
        """L of black relative to the paper."""
        return float(self.inkjet.lab(np.zeros((1, 3)))[0, 0])

    def profile(self) -> bytes:
        """Its profile: A2B is what comes out on paper, B2A what to send."""
        return icc.profile(
            self.name,
            icc.RIGHTS,
            _DATE,
            self.inkjet.white,
            {
                "A2B0": self._comes_out(lambda lab: self._lit_back(self._coloured_back(lab))),
                "A2B1": self._comes_out(lambda lab: lab),
                "A2B2": self._comes_out(self._lit_back),
                "B2A0": self._to_send(lambda lab: self._coloured(self._lit(lab))),
                "B2A1": self._to_send(lambda lab: lab),
                "B2A2": self._to_send(self._lit),
                "gamt": icc.of_lab(_LAB_POINTS, self._is_lost),
            },
        )

    def _comes_out(self, meant) -> icc.Table:
        return icc.of_device(_DEVICE_POINTS, lambda device: meant(self.inkjet.lab(device)))

    def _to_send(self, fitted) -> icc.Table:
        return icc.of_lab(_LAB_POINTS, lambda lab: self.inkjet.device(fitted(lab)))

    def _is_lost(self, lab: np.ndarray) -> np.ndarray:
        """1 for a colour the paper cannot show, 0 for any other: ICC.1:2001-04, gamutTag."""
        shown = self.inkjet.lab(self.inkjet.device(lab))
        return (np.linalg.norm(shown - lab, axis=-1, keepdims=True) > _WITHIN).astype(float)

    def _lit(self, lab: np.ndarray) -> np.ndarray:
        """Black raised to the paper's black, the lights left as they are: L + k (1 - L/100)²."""
        light = lab[:, :1]
        return np.hstack((light + self.darkest * (1 - light / 100) ** 2, lab[:, 1:]))

    def _lit_back(self, lab: np.ndarray) -> np.ndarray:
        """The opposite of :meth:`_lit`: the root of its quadratic equation."""
        k, over = self.darkest, np.maximum(0, lab[:, :1] - self.darkest)
        slope = 1 - k / 50
        return np.hstack((2 * over / (slope + np.sqrt(slope**2 + k * over / 2500)), lab[:, 1:]))

    def _coloured(self, lab: np.ndarray) -> np.ndarray:
        """Strong colours drawn in more than weak ones."""
        chroma = np.linalg.norm(lab[:, 1:], axis=-1, keepdims=True)
        return np.hstack((lab[:, :1], lab[:, 1:] / (1 + chroma / self.halved_at)))

    def _coloured_back(self, lab: np.ndarray) -> np.ndarray:
        """The opposite of :meth:`_coloured`."""
        chroma = np.linalg.norm(lab[:, 1:], axis=-1, keepdims=True)
        return np.hstack((lab[:, :1], lab[:, 1:] / (1 - chroma / self.halved_at)))


PAPERS = {
    GLOSS.name: Paper(
        "Quillmarsh gloss (invented for teaching)",
        Inkjet(
            (
                (96, 0.3, -1.5), (57, -42, -54), (48, 80, -14), (22, 36, -68),
                (91, -8, 104), (52, -78, 38), (48, 76, 60), (4, 0.2, 0.3),
            )
        ),
        350,
    ),
    MATT.name: Paper(
        "Quillmarsh matt (invented for teaching)",
        Inkjet(
            (
                (93, 0.2, 2.8), (58, -32, -42), (50, 57, -12), (30, 14, -42),
                (86, -5, 74), (53, -50, 22), (49, 53, 34), (17, 0.5, 1),
            )
        ),
        220,
    ),
}  # fmt: skip
"""By the names of their files."""


def main(argv: list[str] | None = None) -> None:
    """Write both into a folder."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, default=GLOSS.parent, help="folder to write into")
    folder = parser.parse_args(argv).out
    folder.mkdir(parents=True, exist_ok=True)
    for file, paper in PAPERS.items():
        (folder / file).write_bytes(paper.profile())


if __name__ == "__main__":
    main()
