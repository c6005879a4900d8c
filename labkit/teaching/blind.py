"""A blind test of resolution: six samples in an order nobody knows, and what those who ranked them saw."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import comb

from labkit.errors import LabError
from labkit.teaching.brief import chance_for

LETTERS = "ABCDEF"
PPIS = (300, 240, 200, 150, 100, 72)
"""The samples' resolutions, finest first."""
BY_LUCK = 0.05
"""How likely it may be to have guessed so well and still count as seen: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two neighbouring resolutions, and how many of those who ranked put the finer one first."""

    finer: int
    coarser: int
    right: int
    of: int

    @property
    def by_luck(self) -> float:
        """How likely it is to get so many right, or more, by tossing a coin."""
        return sum(comb(self.of, count) for count in range(self.right, self.of + 1)) / 2**self.of

    @property
    def told_apart(self) -> bool:
        """Whether that is no luck any more."""
        return self.by_luck <= BY_LUCK

    def sentence(self) -> str:
        """What came out, in words."""
        seen = "told apart" if self.told_apart else "may be luck"
        return (
            f"{self.right} of {self.of} right, {seen} (guessing does as well {self.by_luck:.0%} of the "
            "time)"
        )


def blind_order(seed: str) -> tuple[int, ...]:
    """The ppi of the samples A to F: shuffled by ``seed``, the same for the same one.

    LabError for an empty seed.
    """
    order = list(PPIS)
    chance_for("blind sheet", seed).shuffle(order)
    return tuple(order)


def read_rankings(text: str) -> list[str]:
    """Rankings as people type them, one a line, sharpest first: ``C A F B E D`` or ``cafbed``.

    LabError, with the line, for one that has not each letter once.
    """
    rankings = []
    for line in filter(str.strip, text.splitlines()):
        letters = "".join(sign for sign in line.upper() if sign.isalpha())
        if sorted(letters) != sorted(LETTERS):
            raise LabError(
                f"“{line.strip()}” is no ranking: give each letter from A to F once, sharpest first, "
                "such as C A F B E D."
            )
        rankings.append(letters)
    return rankings


def tell_apart(rankings: Sequence[str], order: Sequence[int]) -> list[Pair]:
    """For each two neighbouring resolutions, how many rankings have the finer one first."""
    letter = dict(zip(order, LETTERS, strict=True))
    return [
        Pair(
            finer,
            coarser,
            sum(each.index(letter[finer]) < each.index(letter[coarser]) for each in rankings),
            len(rankings),
        )
        for finer, coarser in pairwise(PPIS)
    ]
