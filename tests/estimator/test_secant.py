"""Downhill with a learned curvature, against scipy's L-BFGS-B: the same places, inside the same
bounds.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import minimize

from fitlog.estimator.secant import lowest

Array = NDArray[np.float64]


def a_valley(seed: int, n: int) -> tuple[Array, Array, Array]:
    """Centre, steepness and a bend of a smooth convex valley."""
    r = np.random.default_rng(seed)
    root = r.normal(size=(n, n))
    return r.normal(scale=1.5, size=n), root @ root.T + 0.1 * np.eye(n), r.uniform(0.1, 2.0, size=n)


@pytest.mark.parametrize("n", [1, 2, 5, 8])
@pytest.mark.parametrize("seed", range(12))
def test_the_same_place_as_scipy(seed: int, n: int) -> None:
    """Half of the valleys have their lowest point beyond a bound."""
    centre, steep, bend = a_valley(seed, n)

    def cost(q: Array) -> tuple[float, Array]:
        away = q - centre
        value = 0.5 * away @ steep @ away + float((bend * np.logaddexp(away, -away)).sum())
        return float(value), steep @ away + bend * np.tanh(away)

    bounds = (np.full(n, -1.0), np.full(n, 1.0))
    found = lowest(cost, np.zeros(n), bounds, 0.5)
    theirs = minimize(
        cost,
        np.zeros(n),
        jac=True,
        method="L-BFGS-B",
        bounds=[(-1.0, 1.0)] * n,
        options={"ftol": 1e-15, "gtol": 1e-10},
    )
    assert (np.abs(found) <= 1.0).all()
    assert cost(found)[0] == pytest.approx(theirs.fun, abs=1e-7)
    assert found == pytest.approx(
        theirs.x, abs=1e-3
    )  # slope below 1e-4 over a curvature of at least 0.1


def test_a_curved_valley_is_followed_to_its_end() -> None:
    """Rosenbrock (1960): lowest at (1, 1), along a bent and narrow floor."""

    def cost(q: Array) -> tuple[float, Array]:
        x, y = q
        slope = np.array([-400 * x * (y - x * x) - 2 * (1 - x), 200 * (y - x * x)])
        return float(100 * (y - x * x) ** 2 + (1 - x) ** 2), slope

    assert lowest(
        cost, np.array([-1.2, 1.0]), (np.full(2, -3.0), np.full(2, 3.0)), 0.5
    ) == pytest.approx([1, 1], abs=1e-3)


def test_at_the_lowest_point_nothing_moves() -> None:
    start = np.array([0.3, -0.2])
    assert (
        lowest(
            lambda q: (0.0, np.zeros(2)), start, (np.full(2, -1.0), np.full(2, 1.0)), 0.5
        ).tolist()
        == start.tolist()
    )
