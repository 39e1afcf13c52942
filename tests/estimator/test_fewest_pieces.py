"""How many pieces our rule needs until the first "good", as an exact decision tree through
`best_target` itself.

The window is known, there is no noise, the answers are below, good, above. The offset's prior is
normal, r half-windows wide. After an answer the posterior is the prior cut off at both ends, so a
tree of intervals is all there is. The table is exact and has no publication: two of its columns are
computed anew below from the normal law alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.stats import norm

from fitlog.defaults import MEDIAN_BEYOND
from fitlog.domain import Window
from fitlog.estimator.choice import best_target
from fitlog.estimator.posterior import Posterior, from_log_density

WINDOW = Window(-1.0, 1.0)
POINTS = 3201  # of each truncated law; `test_the_grid_is_fine_enough` halves the step
TAIL = 6.5  # prior sds at which the prior itself is cut off, 8e-11 of its mass
# branches that are met less often are given up as settled: they hold less than 1e-4 pieces together
RARE = 1e-7


def mass(low: float, high: float) -> float:
    """Chance of a standard normal between two ends, accurate in both tails."""
    return float(norm.cdf(high) - norm.cdf(low) if low <= 0 else norm.sf(low) - norm.sf(high))


def pieces(r: float, beyond: float, points: int = POINTS) -> float:
    """Expected number of pieces to the first good, with the rule's switch to the median at `beyond`
    half-windows.

    As in the advice, the prior's sd decides once for the whole tree.
    """
    total = 0.0
    branches = [(-TAIL * r, TAIL * r)]
    while branches:
        low, high = branches.pop()
        reached = mass(low / r, high / r)
        if reached < RARE:
            continue
        total += reached  # one piece is cut
        grid = np.linspace(low, high, points)
        law = from_log_density(grid, -0.5 * (grid / r) ** 2)
        target = best_target(law, WINDOW, noise=0.0, beyond=beyond, prior_sd=r)
        below, above = (
            WINDOW.low - target,
            WINDOW.high - target,
        )  # offsets that come out too small, too large
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


def exact(r: float, middle: Callable[[float, float, float], float]) -> float:
    """The same tree from the normal law itself; `middle` puts the window on an interval
    of offsets.
    """
    total, branches = 0.0, [(-math.inf, math.inf)]
    while branches:
        low, high = branches.pop()
        if mass(low / r, high / r) < 1e-9:
            continue
        total += mass(low / r, high / r)
        at = (
            (low + high) / 2
            if high - low <= 2
            else min(max(middle(low, high, r), low + 1), high - 1)
        )
        branches += [(low, at - 1)] * (low < at - 1) + [(at + 1, high)] * (at + 1 < high)
    return total


def median(low: float, high: float, r: float) -> float:
    """Median of the prior cut off to an interval."""
    if low >= 0:
        return float(r * norm.isf((norm.sf(low / r) + norm.sf(high / r)) / 2))
    return float(r * norm.ppf((norm.cdf(low / r) + norm.cdf(high / r)) / 2))


@pytest.mark.parametrize(("r", "best", "by_chance", "by_median"), TABLE)
def test_the_table_itself(r: float, best: float, by_chance: float, by_median: float) -> None:
    """Its columns of the two rules, with a window that never reaches past what is still
    possible.
    """
    assert exact(r, lambda low, high, r: 0.0) == pytest.approx(
        by_chance, abs=1e-4
    )  # as near the prior's peak as may be
    assert exact(r, median) == pytest.approx(by_median, abs=2e-3)
    assert best <= min(by_chance, by_median)


@pytest.mark.parametrize(("r", "by_chance"), [(row[0], row[2]) for row in TABLE])
def test_always_the_best_chance(r: float, by_chance: float) -> None:
    assert pieces(r, math.inf) == pytest.approx(by_chance, abs=2e-3)


@pytest.mark.parametrize(("r", "by_median"), [(row[0], row[3]) for row in TABLE])
def test_window_on_the_median(r: float, by_median: float) -> None:
    assert pieces(r, 0.0) == pytest.approx(by_median, abs=2e-3)


@pytest.mark.parametrize(("r", "best"), [(row[0], row[1]) for row in TABLE])
def test_our_rule_is_within_a_hundredth_and_a_half_of_the_best(r: float, best: float) -> None:
    ours = pieces(r, MEDIAN_BEYOND)
    assert best - 2e-3 <= ours <= best * 1.015


@pytest.mark.parametrize(("r", "beyond"), [(5, math.inf), (5, 0.0), (10, math.inf), (10, 0.0)])
def test_the_grid_is_fine_enough(r: float, beyond: float) -> None:
    assert pieces(r, beyond) == pytest.approx(pieces(r, beyond, 2 * POINTS - 1), abs=5e-4)


# --- with noise -----------------------------------------------------------------------------------

NOISE = 0.25  # sd of a verdict, in half-windows
UNLIKELY = 1e-7  # histories rarer than this are left out; what they hold is counted


def noisy(r: float, points: int = 601) -> tuple[float, float]:
    """Expected pieces when each verdict is three words with noise, and a bound on what the tree
    left out.

    Which settings our rule takes depends on the answers alone, so the tree of answers gives the
    mean exactly.
    """
    grid = np.linspace(-TAIL * r, TAIL * r, max(points, int(8 * TAIL * r / NOISE)))
    total, left_out = 0.0, 0.0
    branches = [from_log_density(grid, -0.5 * (grid / r) ** 2).weight]
    while branches:
        weight = branches.pop()
        reached = float(weight.sum())
        if reached < UNLIKELY:
            left_out += reached
            continue
        total += reached
        law = Posterior(grid, weight / reached)
        at = best_target(law, WINDOW, noise=NOISE, prior_sd=r) + grid
        branches += [
            weight * norm.cdf((WINDOW.low - at) / NOISE),
            weight * norm.sf((WINDOW.high - at) / NOISE),
        ]
    return total, left_out


@pytest.mark.parametrize(("r", "bound"), [(1, 1.37), (2, 1.86), (3, 2.25), (5, 2.80), (10, 3.66)])
def test_with_noise_our_rule_is_as_good_as_any_tried(r: float, bound: float) -> None:
    """s/w = .25, three words, bounds from simulations of the best of all policies tried (no
    publication).

    A history that was left out is far from settled: ten pieces more are allowed for each.
    """
    ours, left_out = noisy(r)
    assert ours + 10 * left_out <= bound
