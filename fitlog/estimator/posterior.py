"""Exact posterior of one offset on a grid that finds its own range; all lengths mm, all laws scale
with them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .evidence import Evidence
from .likelihood import Array, Verdicts, log_likelihood
from .prior import Normal, Prior

__all__ = [
    "Normal",
    "Posterior",
    "each_alone",
    "from_log_density",
    "landmarks",
    "mixed",
    "posterior",
    "without",
]

POINTS = 401
_MOST_POINTS = 4001
_REACH = 9.0  # sds of the prior and of each verdict's noise within which the grid looks
_FLOOR = 40.0  # nats below the peak at which the grid ends


@dataclass(frozen=True)
class Posterior:
    """Weights on an even grid of offsets; `log_density` gives the unnormalised log density
    anywhere.

    log_evidence: log of the marginal likelihood of the verdicts, where the density came from a
    proper prior.
    """

    grid: Array
    weight: Array
    log_density: Callable[[Array], Array] | None = None
    log_evidence: float = 0.0

    @cached_property
    def mean(self) -> float:
        """Posterior mean, mm."""
        return float(self.weight @ self.grid)

    @cached_property
    def sd(self) -> float:
        """Posterior standard deviation, mm."""
        return math.sqrt(float(self.weight @ (self.grid - self.mean) ** 2))

    @cached_property
    def _density(self) -> Array:
        """Probability per step of the grid."""
        density = self.weight.copy()
        density[[0, -1]] *= 2  # the trapezoidal rule had halved them
        out: Array = density / ((density[1:] + density[:-1]) / 2).sum()
        return out

    @cached_property
    def _steps(self) -> tuple[Array, Array]:
        density = self._density
        slope = np.gradient(density)
        # The trapezoidal rule with its first Euler-Maclaurin term: between two ends it is no better
        # than h^2 without.
        total = (
            np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2)])
            - (slope - slope[0]) / 12
        )
        total = np.maximum.accumulate(np.maximum(total, 0.0))
        return self.grid, total / total[-1]

    def cdf(self, offset: Array) -> Array:
        """Probability that the offset is at most each of `offset`."""
        grid, total = self._steps
        step = float(grid[1] - grid[0])
        place = np.clip(
            (np.asarray(offset, dtype=np.float64) - grid[0]) / step, 0.0, len(grid) - 1.0
        )
        left = np.minimum(place.astype(np.intp), len(grid) - 2)
        part = place - left
        slope = self._density
        # Cubic through the integral and its slope, the density, at both ends of a step.
        low, high = total[left], total[left + 1]
        cubic = (
            low
            + (high - low) * part**2 * (3 - 2 * part)
            + part * (1 - part) ** 2 * slope[left]
            - part**2 * (1 - part) * slope[left + 1]
        )
        out: Array = np.clip(cubic, 0.0, 1.0)  # about a narrow peak the cubic swings past both
        return out

    def quantile(self, chance: float) -> float:
        """Offset below which the probability is `chance`."""
        grid, total = self._steps
        offset, step = float(np.interp(chance, total, grid)), float(grid[1] - grid[0])
        for _ in range(2):  # Newton's steps from the straight line to the cubic of `cdf`
            density = float(np.interp(offset, grid, self._density)) / step
            if density > 0:
                move = (float(self.cdf(np.array([offset]))[0]) - chance) / density
                offset -= min(max(move, -step / 2), step / 2)
        return offset

    def interval(self, chance: float = 0.90) -> tuple[float, float]:
        """Central interval of the given probability, mm."""
        return self.quantile((1 - chance) / 2), self.quantile((1 + chance) / 2)


def posterior(prior: Prior, evidence: Sequence[Evidence], points: int = POINTS) -> Posterior:
    """Return the posterior of an offset: prior times every verdict's likelihood at the setting
    really used.

    Raises ValueError for a flat prior without any evidence.
    """

    verdicts = Verdicts(evidence)

    def log_density(offset: Array) -> Array:
        out: Array = prior.log(offset) + log_likelihood(verdicts, offset)
        return out

    low, high = _range(log_density, landmarks(prior, evidence))
    grid = np.linspace(low, high, max(points, _needed(evidence, high - low)))
    return from_log_density(grid, log_density(grid), log_density)


def each_alone(prior: Normal, evidence: Sequence[Evidence]) -> list[Posterior]:
    """Return the posterior after each verdict by itself, on one grid over the whole prior."""
    grid = prior.mean + prior.sd * np.linspace(-_REACH, _REACH, POINTS)
    verdicts = Verdicts(evidence)
    logs = (
        verdicts.log(verdicts.nominal + grid[None, :])
        - 0.5 * ((grid - prior.mean) / prior.sd)[None, :] ** 2
    )
    return [from_log_density(grid, row) for row in logs]


def without(law: Posterior, last: Evidence) -> Posterior:
    """Return the posterior without one of its verdicts.

    The grid holds: as a verdict may be a slip, its likelihood has a floor, and no offset that was
    likely before it has left the grid. Raises ValueError for a verdict that cannot be a slip.
    """
    if last.slip <= 0:
        raise ValueError("a verdict that cannot be a slip cannot be taken out again")
    logs = Verdicts([last]).log(last.nominal + law.grid[None, :])[0]
    weight = law.weight * np.exp(logs.min() - logs)
    return Posterior(law.grid, weight / weight.sum())


def _needed(evidence: Sequence[Evidence], span: float) -> int:
    """Points that resolve the narrowest peak the verdicts can make; slips may keep the range far
    wider than that.
    """
    noises = [
        math.hypot(e.piece_sd, e.word_noise if e.read is None else e.read_sd) for e in evidence
    ]
    narrowest = min(noises, default=span) / math.sqrt(max(1, len(noises)))
    return min(_MOST_POINTS, math.ceil(span / (0.75 * narrowest)))


def from_log_density(
    grid: Array, logs: Array, log_density: Callable[[Array], Array] | None = None
) -> Posterior:
    """Return a posterior from log densities on an even grid (trapezoidal rule)."""
    top = float(logs.max())
    weight = np.exp(logs - top)
    weight[[0, -1]] /= 2
    total = float(weight.sum())
    return Posterior(
        grid, weight / total, log_density, top + math.log(total * float(grid[1] - grid[0]))
    )


def mixed(parts: Sequence[tuple[float, Posterior]]) -> Posterior:
    """Return the mixture of laws as one law on an even grid. parts: (log of the chance beforehand,
    law with its density).
    """
    if len(parts) == 1:
        return parts[0][1]
    low, high = min(float(p.grid[0]) for _, p in parts), max(float(p.grid[-1]) for _, p in parts)
    step = min(float(p.grid[1] - p.grid[0]) for _, p in parts)
    grid = np.linspace(low, high, min(_MOST_POINTS, math.ceil((high - low) / step) + 1))

    def log_density(offset: Array) -> Array:
        out: Array = np.logaddexp.reduce(
            [log + p.log_density(offset) for log, p in parts if p.log_density], axis=0
        )
        return out

    return from_log_density(grid, log_density(grid), log_density)


def landmarks(prior: Prior, evidence: Sequence[Evidence]) -> Array:
    """Offsets at which the posterior may have structure, sorted; as dense as the finest noise asks
    for.
    """
    spread = np.arange(-_REACH, _REACH + 1)
    marks = (
        [] if math.isinf(prior.sd) else [prior.mean + prior.sd * np.linspace(-_REACH, _REACH, 73)]
    )
    places: list[tuple[float, float]] = []
    for e in evidence:
        if e.read is not None:
            places.append((e.read - e.nominal, math.hypot(e.read_sd, e.piece_sd)))
        noise = math.hypot(e.word_noise, e.piece_sd)
        places.extend(
            (x - e.nominal, noise)
            for low, high, _ in e.bands or ()
            for x in (low, high)
            if math.isfinite(x)
        )
    if places:
        finest = min(noise for _, noise in places)
        around = np.concatenate([place + noise * spread for place, noise in places])
        marks.append(np.unique(np.round(around / finest)) * finest)
    if not marks:
        raise ValueError("a flat prior needs at least one verdict")
    return np.unique(np.concatenate(marks))


def _range(log_density: Callable[[Array], Array], marks: Array) -> tuple[float, float]:
    """Return where the density is within _FLOOR nats of its peak, zooming in until the grid is well
    used.
    """
    for _ in range(4):
        logs = log_density(marks)
        kept = np.flatnonzero(logs > logs.max() - _FLOOR)
        first, last = max(kept[0] - 1, 0), min(kept[-1] + 1, len(marks) - 1)
        low, high = float(marks[first]), float(marks[last])
        if last - first > 60:
            break
        marks = np.linspace(low, high, 121)
    return low, high
