"""Cuts again on the same end, where wood only comes off: a nibble costs minutes, an overshoot an
end.

So the next cut is aimed at the near side of the window, from where there is still wood, until the
misfit is known well enough for its middle. Dynamic programming over how well an end's offset is
known: each word of the next verdict, and a reading where one can be taken, leaves a law whose sd
says what is still to come. What each sd costs is worked out once, for normal laws; the next cut is
weighed by the law at hand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from ..defaults import NIBBLE, Band
from .evidence import Evidence
from .likelihood import Array, Verdicts, band_chance, on_its_end
from .posterior import Posterior, from_log_density

_PLACES = 121  # misfits that are looked at
_LEVELS, _FINEST, _WIDEST = 24, 0.1, 60.0  # sds of a law that are planned for, in half-windows
_TRIMMED = 0.005  # of each tail of a law: a zero that may be far off is met when it is


Words = tuple[tuple[Band, ...], ...]  # the bands of each, from the most negative misfit up


class Planned(NamedTuple):
    """A next cut. misfit: the nominal one to cut at, mm; cost: what is to be expected from there,
    that cut included, in pieces; cuts: how many of them, on this end and on fresh ones.
    """

    misfit: float
    cost: float
    cuts: float


@dataclass(frozen=True, slots=True)
class Told:
    """How an aspect's next verdict will tell of its end.

    words: those that may be said; good: the place of the settling one, which is one band; noise: sd
    of a verdict about the end's misfit, mm; read_sd: how well a number tells it, None for words
    alone; readable: the places of words that a number can go with. fresh_sd: by how much a fresh
    end differs. upwards: whether another cut raises the misfit. coarse: how far apart the misfits
    lie that can be set, mm.
    """

    words: Words
    good: int
    noise: float
    read_sd: float | None = None
    readable: tuple[int, ...] = ()
    fresh_sd: float = 0.0
    upwards: bool = True
    coarse: float = 0.0

    def rising(self) -> Told:
        """The same seen so that another cut raises the misfit."""
        if self.upwards:
            return self
        words = tuple(
            tuple((-high, -low, share) for low, high, share in bands) for bands in self.words[::-1]
        )
        last = len(words) - 1
        readable = tuple(last - i for i in self.readable)
        return Told(
            words,
            last - self.good,
            self.noise,
            self.read_sd,
            readable,
            self.fresh_sd,
            coarse=self.coarse,
        )


def of_an_end(law: Posterior, end_sd: float, cuts: Sequence[Evidence]) -> Posterior:
    """Return the law of an end's own offset. law: of the offset that all ends share, by the pieces
    on other ends; end_sd: how much an end differs from it, mm; cuts: what this end's cuts say.
    """
    count = max(len(law.grid), 401)
    grid = np.linspace(law.grid[0] - 6 * end_sd, law.grid[-1] + 6 * end_sd, count)
    step = float(law.grid[1] - law.grid[0])
    wide = math.hypot(end_sd, step / 2)  # a law on a grid is no finer than its steps
    away = (grid[:, None] - law.grid[None, :]) / wide
    density = np.exp(-0.5 * away**2) @ law.weight
    logs = np.log(density + 1e-300)
    if cuts:
        verdicts = Verdicts([on_its_end(e) for e in cuts])
        logs = logs + verdicts.log(verdicts.nominal + grid[None, :]).sum(axis=0)
    return from_log_density(grid, logs)


def next_cut(
    law: Posterior,
    told: Told,
    *,
    now: float | None = None,
    least: float = 0.0,
    made: Sequence[float] = (),
) -> Planned:
    """Return where to cut an end next and what is to be expected from there.

    law: of the end's own offset; told: how its verdicts tell; now: the nominal misfit of the last
    cut on this end, which fell short, None for a fresh one; least: what another cut there changes
    it by at least, mm; made: the nominal misfits that can be set at all, () for any.
    """
    way, rising = 1.0 if told.upwards else -1.0, told.rising()
    low, high = _window(rising)
    offsets, weight = _thinned(way * law.grid, law.weight)
    first = low - float(offsets[-1]) - 3 * told.noise
    if now is not None:
        first = max(first, way * now + max(least, 5e-4 * (high - low)))
    last = max(high - float(offsets[0]) + 3 * told.noise, first + (high - low) / 2)
    targets = np.linspace(first, last, _PLACES)
    if len(made):
        marks = np.sort(way * np.asarray(made, dtype=np.float64))
        settable = marks[(marks >= first - 1e-9) & (marks <= last + 1e-9)]
        beyond = marks[marks >= first - 1e-9]
        targets = settable if len(settable) else beyond[:1] if len(beyond) else marks[-1:]
    after = _after(offsets, weight, targets, rising, rising.noise)
    costs, cuts = _weighed(after, rising, outlook(rising))
    best = np.flatnonzero(costs <= costs.min() + 1e-6)
    at = int(best[len(best) // 2])
    return Planned(way * float(targets[at]), float(costs[at]), float(cuts[at]))


class Levels(NamedTuple):
    """What an end costs from where its offset is known to an sd: costs in pieces and cuts, by sds
    in mm.
    """

    sds: Array
    costs: Array
    cuts: Array

    def at(self, sd: Array) -> tuple[Array, Array]:
        """Cost and cuts at each sd."""
        logs, places = np.log(self.sds), np.log(np.maximum(sd, 1e-12))
        return np.interp(places, logs, self.costs), np.interp(places, logs, self.cuts)


@lru_cache(maxsize=64)
def outlook(rising: Told) -> Levels:
    """Return what ends cost whose offset has a normal law, from the best known one up: each cut
    leaves one that is known better, or as well.
    """
    low, high = _window(rising)
    half = (high - low) / 2
    noise = math.hypot(rising.noise, rising.coarse / math.sqrt(12))
    sds = half * np.geomspace(_FINEST, _WIDEST, _LEVELS)
    unit = np.linspace(-3.25, 3.25, 53)
    weight = np.exp(-0.5 * unit**2)
    weight /= weight.sum()
    costs, cuts = np.zeros(_LEVELS), np.zeros(_LEVELS)
    for level, sd in enumerate(sds):
        targets = np.linspace(low - 3 * sd - 2 * noise, high + sd, 49)
        after = _after(sd * unit, weight, targets, rising, noise)
        costs[level], cuts[level] = (costs[level - 1], cuts[level - 1]) if level else (1.0, 1.0)
        for _ in range(60):
            so_far = Levels(sds[: level + 1], costs[: level + 1], cuts[: level + 1])
            cost, count = _weighed(after, rising, so_far)
            best, before = int(cost.argmin()), costs[level]
            costs[level], cuts[level] = cost[best], count[best]
            if abs(costs[level] - before) < 1e-4:
                break
    return Levels(sds, costs, cuts)


def _after(
    offsets: Array, weight: Array, targets: Array, rising: Told, noise: float
) -> tuple[Array, Array]:
    """Return the chance of each word at each target, and the sd of the law that it leaves, mm."""
    misfit = targets[:, None] + offsets[None, :]
    chance = [
        sum(share * band_chance(low, high, misfit, noise) for low, high, share in bands)
        for bands in rising.words
    ]
    law = np.stack(chance) * weight
    share = law.sum(axis=2)
    safe = np.maximum(share, 1e-300)
    mean = (law @ offsets) / safe
    left = np.sqrt(np.maximum((law @ offsets**2) / safe - mean**2, 0.0))
    if rising.read_sd is not None:
        number = math.hypot(rising.read_sd, noise)
        for place in rising.readable:
            left[place] = left[place] * number / np.hypot(left[place], number)
    return share, left


def _weighed(after: tuple[Array, Array], rising: Told, levels: Levels) -> tuple[Array, Array]:
    """Return cost and cuts from each target on. An end that is short goes on; beyond, a fresh one
    is cut, which is known as well as that, but for how ends differ.
    """
    share, left = after
    cost, cuts = np.full(share.shape[1], NIBBLE), np.ones(share.shape[1])
    for place in range(len(rising.words)):
        if place == rising.good:
            continue
        short = place < rising.good
        sd = left[place] if short else np.hypot(left[place], rising.fresh_sd)
        on, count = levels.at(sd)
        cost += share[place] * (on if short else 1 + on)
        cuts += share[place] * count
    return cost, cuts


def _window(rising: Told) -> tuple[float, float]:
    ((low, high, _),) = rising.words[rising.good]
    return low, high


def _thinned(offsets: Array, weight: Array) -> tuple[Array, Array]:
    """A law without its far tails, at so few places that all of it is quickly summed."""
    order = np.argsort(offsets)
    offsets, weight = offsets[order], weight[order]
    total = (np.cumsum(weight) - weight / 2) / weight.sum()
    kept = (total > _TRIMMED) & (total < 1 - _TRIMMED)
    offsets, weight = offsets[kept], weight[kept] / weight[kept].sum()
    groups = max(1, len(offsets) // 60)
    starts = np.arange(0, len(offsets), groups)
    lumped = np.add.reduceat(weight, starts)
    middle = np.add.reduceat(weight * offsets, starts) / np.maximum(lumped, 1e-300)
    return middle, lumped
