"""How many pieces our rule needs until the first "good", as an exact decision tree through `best_target` itself.

The window is known, there is no noise, the answers are below, good, above. The offset's prior is normal, r half-windows
wide. After an answer the posterior is the prior cut off at both ends, so a tree of intervals is all there is.
Table: computed exactly by its author (no publication); reproduced here through our own code to 2e-3 pieces.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import norm

from fitlog.defaults import MEDIAN_BEYOND
from fitlog.domain import Window
from fitlog.estimator.choice import best_target
from fitlog.estimator.posterior import from_log_density

WINDOW = Window(-1.0, 1.0)
POINTS = 1601  # of each truncated law: halving the step moves the worst figure below by less than 5e-4
TAIL = 6.5  # prior sds at which the prior itself is cut off, 8e-11 of its mass
RARE = 1e-7  # branches that are met less often are given up as settled: they hold less than 1e-4 pieces together


def pieces(r: float, beyond: float, points: int = POINTS) -> float:
    """Expected number of pieces to the first good, with the rule's switch to the median at `beyond` half-windows."""
    total = 0.0
    branches = [(-TAIL * r, TAIL * r)]
    while branches:
        low, high = branches.pop()
        reached = norm.cdf(high / r) - norm.cdf(low / r) if low <= 0 else norm.sf(low / r) - norm.sf(high / r)
        if reached < RARE:
            continue
        total += reached  # one piece is cut
        grid = np.linspace(low, high, points)
        law = from_log_density(grid, -0.5 * (grid / r) ** 2)
        target = best_target(law, WINDOW, noise=0.0, beyond=beyond)
        below, above = WINDOW.low - target, WINDOW.high - target  # offsets that come out too small, too large
        if low < below:
            branches.append((low, min(below, high)))
        if above < high:
            branches.append((max(above, low), high))
    return total


# r, best possible, always the best chance of good, window on the posterior median
TABLE = [
    (1, 1.3200, 1.3200, 1.3200),
    (2, 1.7636, 1.7636, 1.7713),
    (3, 2.1744, 2.1744, 2.2001),
    (5, 2.7172, 2.9813, 2.7257),
    (10, 3.5607, 4.9828, 3.5880),
]


@pytest.mark.parametrize(("r", "best", "by_chance", "by_median"), TABLE)
def test_pieces_to_the_first_good(r: float, best: float, by_chance: float, by_median: float) -> None:
    assert pieces(r, math.inf) == pytest.approx(by_chance, abs=2e-3)
    assert pieces(r, 0.0) == pytest.approx(by_median, abs=2e-3)
    ours = pieces(r, MEDIAN_BEYOND)
    assert ours <= best * 1.015
    assert ours >= best - 2e-3  # no rule beats the best possible


def test_the_grid_is_fine_enough() -> None:
    for r, beyond in ((5, math.inf), (5, 0.0), (10, math.inf)):
        assert pieces(r, beyond) == pytest.approx(pieces(r, beyond, 2 * POINTS - 1), abs=5e-4)
