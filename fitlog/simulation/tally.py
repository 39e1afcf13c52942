"""How the set-ups of one way of working went, counted: means with their standard errors, shares,
those given up.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

MOST = 30  # pieces after which a set-up is given up
MANY = 3  # pieces that are still few


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean number of pieces with its standard error; None where there are too few to tell. n:
    set-ups.
    """

    mean: float | None
    se: float | None
    n: int


@dataclass(frozen=True, slots=True)
class Tally:
    """How one method did. seasons: the pieces of every set-up, season by season; a set-up given up
    counts `MOST`.

    at_once: set-ups whose first piece was good in everything.  unsolved: set-ups given up. within:
    set-ups whose real boards come out inside every window in play; of those given up none does.
    """

    seasons: tuple[tuple[int, ...], ...]
    at_once: int
    unsolved: int
    within: int = 0

    @property
    def first(self) -> tuple[int, ...]:
        """Pieces of the first set-up of each season."""
        return tuple(season[0] for season in self.seasons)

    @property
    def later(self) -> tuple[int, ...]:
        """Pieces of all the others."""
        return tuple(chain.from_iterable(season[1:] for season in self.seasons))

    @property
    def counts(self) -> dict[int, int]:
        """Number of set-ups by the pieces they took, fewest first."""
        return dict(sorted(Counter(chain.from_iterable(self.seasons)).items()))

    @property
    def setups(self) -> int:
        """How many set-ups there were."""
        return sum(map(len, self.seasons))

    @property
    def good_at_once(self) -> float:
        """Share of the set-ups whose first piece was good."""
        return self.at_once / self.setups

    @property
    def share_within(self) -> float:
        """Share of the set-ups whose real boards come out inside."""
        return self.within / self.setups

    @property
    def given_up(self) -> float:
        """Share of the set-ups that were given up."""
        return self.unsolved / self.setups

    def over(self, pieces: int = MANY) -> float:
        """Share of the set-ups that took more than `pieces`."""
        return sum(n for taken, n in self.counts.items() if taken > pieces) / self.setups

    def shares(self, last: int, part: str = "all") -> list[float]:
        """Return the share of all set-ups that took 1, 2, ... `last` or more pieces. part: "first"
        or "later" ones only.
        """
        taken = {"first": self.first, "later": self.later}.get(part, self.first + self.later)
        return [sum(min(n, last) == row for n in taken) / self.setups for row in range(1, last + 1)]

    def mean_first(self) -> Mean:
        """Mean pieces of a first set-up."""
        return clustered([season[:1] for season in self.seasons])

    def mean_later(self) -> Mean:
        """Mean pieces of a later set-up."""
        return clustered([season[1:] for season in self.seasons])


def clustered(seasons: Iterable[Sequence[int]]) -> Mean:
    """Return the mean over all set-ups and its standard error, which allows for what the set-ups of
    a season share.

    A ratio of sums over random seasons: se^2 = k / (k - 1) * sum over seasons (sum of (x - mean))^2
    / n^2 (Cochran, Sampling Techniques, single-stage cluster sampling); sd / sqrt(n) with one
    set-up a season.
    """
    held = [season for season in seasons if season]
    n, k = sum(map(len, held)), len(held)
    if n == 0:
        return Mean(None, None, 0)
    mean = sum(map(sum, held)) / n
    squares = sum((sum(season) - len(season) * mean) ** 2 for season in held)
    return Mean(mean, math.sqrt(squares * k / (k - 1)) / n if k > 1 else None, n)
