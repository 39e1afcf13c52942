"""Climb to the mode of a density of a handful of numbers inside bounds: Newton's steps with exact
curvature.

Written out here because importing an optimiser takes longer (0.1-0.2 s) than all the climbing of a
command.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from .likelihood import Array

CONVERGED = 1e-12  # nats left to gain
LEAST_CURVATURE = 0.25  # of the prior's: contradictory evidence widens an sd twofold at most
_STEPS = 100
_SHORTEST = 1e-6  # of a step: below it rounding decides
_SUFFICIENT = 1e-4  # of the gain that the slope promises

Bounds = tuple[Array, Array]


class Local(NamedTuple):
    """Minus the log density at a point, with its slope and curvature."""

    value: float
    slope: Array
    curvature: Array


def climb(
    at: Callable[[Array], Local], q: Array, bounds: Bounds, white: Array, enough: float = CONVERGED
) -> tuple[Array, Local]:
    """Return the mode uphill of q, shape (n,), low <= q <= high, with what holds there.

    white, shape (n, n): a root of the prior's covariance, the measure of what is flat.
    """
    here = at(q)
    for _ in range(_STEPS):
        step = newton(q, here, bounds, white)
        gain = -float(here.slope @ step)
        if gain < enough:
            break
        share = 1.0
        while share > _SHORTEST:
            new = np.clip(q + share * step, *bounds)
            there = at(new)
            if there.value <= here.value - _SUFFICIENT * share * gain:
                break
            share /= 2
        else:
            break
        q, here = new, there
    return q, here


def hill_axes(curvature: Array, white: Array) -> tuple[Array, Array]:
    """Curvatures in units of the prior's, rising, and the steps of q, one a column, along which
    they lie.
    """
    values, axes = np.linalg.eigh(white.T @ curvature @ white)
    return values, white @ axes


def newton(q: Array, here: Local, bounds: Bounds, white: Array) -> Array:
    """Newton's step that stays inside the bounds: what would cross one is put on it, and the rest
    is solved again.
    """
    curvature = _bowl(here.curvature, white)
    to_low, to_high = bounds[0] - q, bounds[1] - q
    step = np.zeros_like(q)
    held = ((to_low >= 0) & (here.slope > 0)) | ((to_high <= 0) & (here.slope < 0))
    while not held.all():
        free = ~held
        pull = here.slope[free] + curvature[np.ix_(free, held)] @ step[held]
        step[free] = -np.linalg.solve(curvature[np.ix_(free, free)], pull)
        crossing = free & ((step < to_low) | (step > to_high))
        if not crossing.any():
            break
        step = np.where(crossing, np.clip(step, to_low, to_high), step)
        held |= crossing
    return step


def _bowl(curvature: Array, white: Array) -> Array:
    """Return the curvature, turned upwards along axes where the density is no hill, so that steps
    climb.
    """
    values, axes = hill_axes(curvature, white)
    if values[0] >= LEAST_CURVATURE:
        return curvature
    back = np.linalg.inv(axes)
    out: Array = (back.T * np.maximum(np.abs(values), LEAST_CURVATURE)) @ back
    return out
