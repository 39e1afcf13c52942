"""Where to put the window: the rule that needs the fewest pieces, and what it will take from here.

Settled facts (computed exactly for a known window without noise): while the sd before the first
piece is at most 3 half-windows, always taking the best chance of good needs the fewest pieces;
beyond that the window on the median is within 1 % of the fewest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ..defaults import MEDIAN_BEYOND, ONE_SIDED_CHANCE, Band
from ..domain import Window
from .likelihood import Array, band_chance
from .posterior import Posterior


def chance_good(law: Posterior, target: Array, window: Window, noise: float) -> Array:
    """Chance that a piece's verdict is good, at each nominal misfit `target`; noise: sd of word and
    piece together.
    """
    at = target[:, None] + law.grid[None, :]
    if noise > 0:
        chance: Array = band_chance(window.low, window.high, at, noise) @ law.weight
        return chance
    return law.cdf(window.high - target) - law.cdf(window.low - target)


def best_target(
    law: Posterior,
    window: Window,
    noise: float,
    beyond: float = MEDIAN_BEYOND,
    *,
    prior_sd: float | None = None,
) -> float:
    """Return the nominal misfit to set for the next piece, mm, unrounded.

    beyond: up to how many half-windows of the prior's sd the best chance serves; past them the
    window is put on the median. 0 always does that, inf never.  prior_sd: sd of the offset before
    the first piece, which decides for the whole set-up; None: the law's own.
    """
    if (law.sd if prior_sd is None else prior_sd) > beyond * window.half:
        return _on_median(law, window)
    return best_chance(law, window, noise)


def _on_median(law: Posterior, window: Window) -> float:
    """Put the window on the median, but not past the ends of what is still possible."""
    low, high = float(law.grid[0]) + window.half, float(law.grid[-1]) - window.half
    middle = min(max(law.quantile(0.5), low), high) if low < high else (low + high) / 2
    return window.middle - middle


def best_chance(law: Posterior, window: Window, noise: float) -> float:
    """Return the nominal misfit with the best chance of good; the middle of the best ones where
    several tie side by side. Of a one-sided window, in which further in is never worse, the nearest
    to its end with `defaults.ONE_SIDED_CHANCE`.
    """
    if window.one_sided:
        return _far_enough(law, window, noise)
    low, high = window.middle - law.quantile(0.999), window.middle - law.quantile(0.001)
    count, step = 41, math.inf
    while step > 1e-3 * window.half:
        targets = np.linspace(low, high, count)
        chances = chance_good(law, targets, window, noise)
        step, count = (high - low) / (count - 1), 17
        best = targets[chances >= chances.max() - 1e-12]
        apart = np.flatnonzero(np.diff(best) > 1.5 * step)
        best = best[: apart[0] + 1] if len(apart) else best  # two peaks that tie: the lower one
        low, high = float(best[0]) - step, float(best[-1]) + step
        if len(best) > 8:  # a plateau: its middle is as good as any
            break
    return _peak(law, (low + high) / 2, step, window, noise)


def _far_enough(law: Posterior, window: Window, noise: float) -> float:
    inwards = 1.0 if math.isfinite(window.low) else -1.0
    span = float(law.grid[-1] - law.grid[0])
    near = window.middle - law.mean
    far = near + inwards * (span + 8 * noise)
    for _ in range(60):
        middle = (near + far) / 2
        enough = chance_good(law, np.array([middle]), window, noise)[0] >= ONE_SIDED_CHANCE
        near, far = (near, middle) if enough else (middle, far)
    return far


def _peak(law: Posterior, middle: float, step: float, window: Window, noise: float) -> float:
    """Refine a maximum by the parabola through three chances."""
    below, at, above = chance_good(law, middle + step * np.array([-1.0, 0.0, 1.0]), window, noise)
    bend = below - 2 * at + above
    if bend >= -1e-12:
        return middle
    return middle + step * float(np.clip((below - above) / (2 * bend), -1, 1))


def later_chance(
    law: Posterior,
    target: float,
    bands: Sequence[Sequence[Band]],
    good: int,
    window: Window,
    noise: float,
    read_sd: float | None,
    readable: Sequence[int],
) -> float:
    """Chance of good on the piece after next, given that the next, cut at `target`, is not good.

    bands: of the aspect's words; good: index of the settling word.  read_sd: uncertainty of a
    reading on the misfit, None without an instrument; readable: indices of the words after which
    one can be taken.
    """
    at, total, chance = target + law.grid, 0.0, 0.0
    for index, word in enumerate(bands):
        if index == good:
            continue
        weight = law.weight * sum(w * band_chance(low, high, at, noise) for low, high, w in word)
        share = float(weight.sum())
        if share < 1e-6:
            continue
        mean = float(weight @ law.grid) / share
        left = math.sqrt(max(0.0, float(weight @ (law.grid - mean) ** 2) / share))
        if read_sd is not None and index in readable:
            left = left * read_sd / math.hypot(left, read_sd)
        total, chance = (
            total + share,
            chance + share * central_chance(math.hypot(left, noise), window),
        )
    return chance / total if total > 0 else 1.0


def central_chance(sd: float, window: Window) -> float:
    """Chance that a normal law of this sd, centred on the window, falls inside it."""
    return math.erf(window.half / (sd * math.sqrt(2))) if sd > 0 else 1.0


def pieces_left(now: Sequence[float], later: Sequence[float]) -> float:
    """Expected number of pieces until every aspect has been good once.

    now: chance of good of each open aspect on the next piece; later: on each piece after that. All
    aspects are read from the same pieces, so the worst decides: the mean of the largest of the
    counts.
    """
    if not now:
        return 0.0
    total, missed = 1.0, [1 - p for p in now]
    while total < 200:
        open_ = 1 - math.prod(1 - m for m in missed)
        total += open_
        if open_ < 1e-4:
            break
        missed = [m * (1 - q) for m, q in zip(missed, later, strict=True)]
    return total
