"""Down a smooth valley of a few numbers inside bounds, its curvature learned on the way from the
slopes.

The curvature is BFGS's (Nocedal and Wright, Numerical Optimization, 2006, equation 6.19, from
memory), a step stays inside the bounds as in `climb`; written out because importing an optimiser
takes longer (0.1 s) than all of it.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from .climb import Bounds, Local, newton
from .likelihood import Array

LEVEL = 1e-4  # slope that is none, in what the cost is measured in
_STEPS, _SHORTEST = 200, 1e-10
_SUFFICIENT = 1e-4  # of the loss that the slope promises
_FLAT = 1e-14

Cost = Callable[[Array], tuple[float, Array]]


def lowest(cost: Cost, q: Array, bounds: Bounds, scale: float) -> Array:
    """Return where a cost is lowest, downhill of q, shape (n,), low <= q <= high.

    cost: value and slope at a point.  scale: the sd of the prior that the cost contains, the
    curvature to begin with.
    """
    white = scale * np.eye(len(q))
    here = Local(*cost(q), np.eye(len(q)) / scale**2)
    for turn in range(_STEPS):
        open_ways = ((q > bounds[0]) | (here.slope < 0)) & ((q < bounds[1]) | (here.slope > 0))
        if np.abs(here.slope[open_ways]).max(initial=0.0) < LEVEL:
            break
        found = _downhill(cost, q, here, newton(q, here, bounds, white), bounds)
        if found is None:
            break
        new, value, slope = found
        here = Local(value, slope, _learned(here, new - q, slope - here.slope, first=turn == 0))
        q = new
    return q


def _downhill(
    cost: Cost, q: Array, here: Local, step: Array, bounds: Bounds
) -> tuple[Array, float, Array] | None:
    """Go along a step as far as it pays; None where nothing does."""
    loss, share = -float(here.slope @ step), 1.0
    while share > _SHORTEST:
        new = np.clip(q + share * step, *bounds)
        value, slope = cost(new)
        if value <= here.value - _SUFFICIENT * share * loss:
            return new, value, slope
        share /= 2
    return None


def _learned(here: Local, step: Array, change: Array, *, first: bool) -> Array:
    """The curvature, after a step that changed the slope."""
    bend = float(step @ change)
    if bend <= _FLAT:  # a way along which the valley does not rise tells nothing of a bowl
        return here.curvature
    known = np.eye(len(step)) * (float(change @ change) / bend) if first else here.curvature
    pull = known @ step
    out: Array = known + np.outer(change, change) / bend - np.outer(pull, pull) / float(step @ pull)
    return out
