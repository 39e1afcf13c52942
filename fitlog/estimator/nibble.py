"""Cuts again on the same end, where wood only comes off: a nibble costs minutes, an overshoot an
end.

So the next cut is aimed at the near edge of the window, from the side on which there is still wood,
until the misfit is known well enough for its middle. Dynamic programming over the misfits that can
be set: after a cut that fell short, only that it did is remembered, which is all there is to
remember where the verdicts are sharp.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ..defaults import NIBBLE
from ..domain import Window
from .choice import central_chance
from .evidence import Evidence
from .likelihood import Array, Verdicts, band_chance, on_its_end
from .posterior import Posterior, from_log_density

_PLACES = 121  # misfits that are looked at


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
    window: Window,
    noise: float,
    *,
    upwards: bool,
    now: float | None = None,
    least: float = 0.0,
    read_sd: float | None = None,
    marks: Sequence[float] = (),
) -> tuple[float, float]:
    """Return the nominal misfit to cut an end at and what it costs to be expected from there, that
    cut included, in pieces.

    law: of the end's own offset; noise: sd of a verdict about it, mm; upwards: whether another cut
    raises the misfit; now: the nominal misfit of the last cut on this end, which fell short, None
    for a fresh one; least: what another cut there changes it by at least, mm; read_sd: how well a
    cut that falls short will be measured, None for by word alone; marks: the only ones that can be
    set, none for any. The window has two ends.
    """
    way = 1.0 if upwards else -1.0
    low, high = (window.low, window.high) if upwards else (-window.high, -window.low)
    offsets, weight = way * law.grid, law.weight
    ends = sorted(way * law.quantile(chance) for chance in (0.0005, 0.9995))
    first = low - ends[1] - 3 * noise
    if now is not None:
        first = max(first, way * now + max(least, 1e-3 * window.half))
    last = max(high - ends[0] + 3 * noise, first + window.half)
    made = np.sort(way * np.array(marks))
    made = made[(made >= first - 1e-6) & (made <= last + 1e-6)]
    targets = made if len(made) else np.linspace(first, last, _PLACES)
    known = math.inf if read_sd is None else _when_known(math.hypot(read_sd, noise), window)
    costs = planned(offsets, weight, targets, (low, high), max(noise, 1e-6), known)
    best = np.flatnonzero(costs <= costs.min() + 1e-6)
    return way * float(targets[best[len(best) // 2]]), float(costs.min())


def planned(
    offsets: Array,
    weight: Array,
    targets: Array,
    window: tuple[float, float],
    noise: float,
    known: float = math.inf,
) -> Array:
    """Return the expected cost of cutting at each target first, the best way from there on, in
    pieces.

    offsets, weight: the law of the end; targets: rising; known: what a cut that fell short costs
    from there at most, since it can be measured.
    """
    misfit = targets[None, :] + offsets[:, None]
    short = band_chance(-math.inf, window[0], misfit, noise)
    over = band_chance(window[1], math.inf, misfit, noise)
    after = weight[:, None] * short  # of each target: the law of an end that fell short there
    share = after.sum(axis=0)
    after = np.divide(after, share, out=np.zeros_like(after), where=share > 0)
    too_far, not_yet = after.T @ over, after.T @ short
    fresh = 1 + NIBBLE  # an end, and a cut on it that a nibble would have been
    left = np.full(len(targets), fresh)
    for place in range(len(targets) - 2, -1, -1):
        rest = slice(place + 1, None)
        ways = NIBBLE + too_far[place, rest] * fresh + not_yet[place, rest] * left[rest]
        left[place] = min(float(ways.min()), known, fresh)
    found: Array = NIBBLE + (weight @ over) * fresh + (weight @ short) * np.minimum(left, known)
    return found


def _when_known(sd: float, window: Window) -> float:
    """What it costs to come inside once the misfit is known to `sd`, aiming at the middle."""
    missed = (1 - central_chance(sd, window)) / 2
    return (NIBBLE + missed * (1 + NIBBLE)) / (1 - missed)
