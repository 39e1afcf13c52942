"""Whether another piece could make a setting surer: preposterior analysis (Raiffa and Schlaifer,
Applied Statistical Decision Theory, 1961; from memory) of the best chance of coming out inside a
window.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..defaults import Band
from ..domain import Window
from .choice import chance_good
from .likelihood import Array, band_chance
from .posterior import Posterior

_OUTCOMES = (
    65  # readings that are looked at, at even chances of the law, besides those beyond its ends
)


def best_of(law: Posterior, targets: Array, window: Window, noise: float) -> tuple[float, float]:
    """Return the nominal misfit, of those that can be set, that comes out inside with the best
    chance, and that chance.

    Of several as good the middle one.
    """
    chances = chance_good(law, targets, window, noise)
    best = np.flatnonzero(chances >= chances.max() - 1e-9)
    place = int(best[len(best) // 2])
    return float(targets[place]), float(chances[place])


def after_a_reading(
    law: Posterior, targets: Array, window: Window, noise: float, read_sd: float
) -> float:
    """Return the best chance that is to be expected once a piece was read, mm; read_sd: how far a
    reading lies off.
    """
    places = _readings(law, read_sd)
    logs = (
        -0.5 * ((law.grid[None, :] - places[:, None]) / read_sd) ** 2
        + np.log(np.gradient(places))[:, None]
    )
    like = np.exp(logs - logs.max(axis=0))
    # Each offset shares its weight out among the readings, so that together they say no more and no
    # less than the law.
    said = like / like.sum(axis=0) * law.weight[None, :]
    return float((said @ _inside(law, targets, window, noise)).max(axis=1).sum())


def _readings(law: Posterior, read_sd: float) -> Array:
    """Readings to be expected: at even chances of the law, and beyond its ends as far as a reading
    lies off.
    """
    within = np.interp((np.arange(_OUTCOMES) + 0.5) / _OUTCOMES, np.cumsum(law.weight), law.grid)
    out = read_sd * np.arange(0.25, 4.0, 0.25)
    found: Array = np.unique(np.concatenate([within[0] - out, within, within[-1] + out]))
    return found


def after_a_word(
    law: Posterior,
    targets: Array,
    window: Window,
    noise: float,
    at: float,
    bands: Sequence[Sequence[Band]],
    word_noise: float,
) -> float:
    """Return the best chance that is to be expected once a piece cut at the nominal misfit `at` was
    judged in words.
    """
    said = np.array(
        [
            sum(w * band_chance(low, high, at + law.grid, word_noise) for low, high, w in word)
            * law.weight
            for word in bands
        ]
    )
    share = said.sum(axis=1)
    return float((said @ _inside(law, targets, window, noise)).max(axis=1).sum() / share.sum())


def _inside(law: Posterior, targets: Array, window: Window, noise: float) -> Array:
    """Chance of coming out inside for each offset and target, shape (grid, targets)."""
    return band_chance(
        window.low, window.high, law.grid[:, None] + targets[None, :], max(noise, 1e-6)
    )


def shrunk(law: Posterior, sd: float) -> Posterior:
    """Return a law of the same shape and mean with another sd: that part of it which another piece
    can tell.
    """
    times = sd / law.sd if law.sd > 0 else 1.0
    return Posterior(law.mean + (law.grid - law.mean) * times, law.weight)
