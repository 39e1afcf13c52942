"""How likely a verdict is at a given misfit: an ordered probit for words, a normal for readings, a
slip for both, and the chance that its sides were swapped.

The verdicts of a set-up are held as arrays, one row a verdict, so that all of them are weighed in
one sweep.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr, ndtr

from .evidence import Evidence

Array = NDArray[np.float64]


def band_chance(
    low: Array | float, high: Array | float, middle: Array, noise: Array | float
) -> Array:
    """Probability that middle + N(0, noise^2) lies in (low, high); shapes broadcast, noise > 0.

    Accurate in both tails: the difference is taken on the side where the normal integral is small.
    """
    below, above = (low - middle) / noise, (high - middle) / noise
    flip = below > 0
    a, b = np.where(flip, -above, below), np.where(flip, -below, above)
    chance: Array = ndtr(b, out=b)  # in place: fresh memory costs as much as the sums
    chance -= ndtr(a, out=a)
    return chance


def _plain_chance(low: Array, high: Array, middle: Array, noise: Array) -> Array:
    """The same, accurate to 1e-16 of the whole rather than of itself."""
    out: Array = (high - middle) / noise
    ndtr(out, out=out)
    below = np.isfinite(low[:, 0])
    under = (low[below] - middle[below]) / noise[below]
    out[below] -= ndtr(under, out=under)
    return out


def _band_log_far(low: Array, high: Array, middle: Array, noise: Array) -> Array:
    """Log of a band's probability beyond the range of doubles, where only its nearest
    edge matters.
    """
    out: Array = np.minimum(log_ndtr((high - middle) / noise), log_ndtr((middle - low) / noise))
    return out


class Verdicts:
    """The verdicts of one aspect as columns of shape (n, 1), to broadcast against points of shape
    (n or 1, k).
    """

    def __init__(self, evidence: Sequence[Evidence]) -> None:
        def column(values: Sequence[float]) -> Array:
            return np.array(values, dtype=np.float64).reshape(-1, 1)

        self.nominal = column([e.nominal for e in evidence])
        self.piece_sd = column([math.hypot(e.piece_sd, e.end_sd) for e in evidence])
        self.ends = _ends(evidence)
        self.word_noise = column([e.word_noise for e in evidence])
        self.read = column([0.0 if e.read is None else e.read for e in evidence])
        self.read_sd = column([1.0 if e.read is None else e.read_sd for e in evidence])
        self.is_read = column([float(e.read is not None) for e in evidence])
        self.slip = column([e.slip for e in evidence])
        self.background = column([e.background for e in evidence])
        self.turned = np.array(
            [i for i, e in enumerate(evidence) if e.other is not None and e.swap > 0], dtype=np.intp
        )
        self.swap = column([evidence[i].swap for i in self.turned])
        self.other = (
            Verdicts([o for i in self.turned if (o := evidence[i].other) is not None])
            if len(self.turned)
            else None
        )
        self.spoken = np.array(
            [i for i, e in enumerate(evidence) if e.bands is not None], dtype=np.intp
        )
        words = [e.bands for e in evidence if e.bands is not None]
        most = max((len(bands) for bands in words), default=0)
        padded = [(*bands, *[(-math.inf, math.inf, 0.0)] * (most - len(bands))) for bands in words]
        self.bands = [
            tuple(column([row[k][j] for row in padded]) for j in range(3)) for k in range(most)
        ]

    def __len__(self) -> int:
        return len(self.nominal)

    def log(self, misfit: Array) -> Array:
        """Log likelihood of each verdict, shape (n, k), slips mixed in.

        misfit, shape (n, k): expected misfit of each piece. The piece still varies about it by
        piece_sd, which its word and its reading share; it is integrated out in closed form.
        """
        return self._with_slips(self._log(misfit))

    def _log(self, misfit: Array) -> Array:
        logs, asked, spread = np.zeros_like(misfit), misfit, self.piece_sd
        var = spread**2 + self.read_sd**2
        gain = self.is_read * spread**2 / var
        if self.is_read.any():
            gap = (self.read - misfit) * self.is_read
            logs -= gap**2 * (0.5 / var) + 0.5 * self.is_read * np.log(2 * math.pi * var)
            misfit = misfit + gain * gap
        if len(self.spoken):
            rows = self.spoken
            noise = np.sqrt(spread**2 * (1 - gain) + self.word_noise**2)
            logs[rows] += self._words_log(misfit[rows], noise[rows])
        if self.other is not None:
            rows = self.turned
            logs[rows] = np.logaddexp(
                np.log1p(-self.swap) + logs[rows], np.log(self.swap) + self.other._log(asked[rows])
            )
        return logs

    def plain(self, misfit: Array) -> Array:
        """Likelihood of each verdict, shape (n, k), slips mixed in, where `misfit` is the piece's
        own.
        """
        out = self._plain(misfit)
        out *= 1 - self.slip
        out += self.slip * self.background
        return out

    def _plain(self, misfit: Array) -> Array:
        out = np.subtract(self.read, misfit)
        out *= self.is_read
        np.square(out, out=out)
        out *= -0.5 / self.read_sd**2
        np.exp(out, out=out)
        out *= (math.sqrt(2 * math.pi) * self.read_sd) ** -self.is_read
        if len(self.spoken):
            rows = self.spoken
            out[rows] *= self._words(misfit[rows], self.word_noise[rows])
        if self.other is not None:
            rows = self.turned
            out[rows] = (1 - self.swap) * out[rows] + self.swap * self.other._plain(misfit[rows])
        return out

    def _words(self, middle: Array, noise: Array) -> Array:
        # A slip's floor hides the far tails, so that the plain difference is exact enough, at half
        # the cost.
        chance = _plain_chance if self.slip.all() else band_chance
        out: Array = sum(
            (w * chance(low, high, middle, noise) for low, high, w in self.bands),
            np.zeros_like(middle),
        )
        return out

    def _words_log(self, middle: Array, noise: Array) -> Array:
        total = self._words(middle, noise)
        with np.errstate(divide="ignore"):
            logs: Array = np.log(total)
            if (
                not self.slip.all() and (total < 1e-290).any()
            ):  # a slip's floor hides what lies that far out
                far = [
                    np.log(w) + _band_log_far(low, high, middle, noise)
                    for low, high, w in self.bands
                ]
                logs = np.where(total < 1e-290, np.logaddexp.reduce(far, axis=0), logs)
        return logs

    def _with_slips(self, logs: Array) -> Array:
        if not self.slip.any():
            return logs
        with np.errstate(divide="ignore"):
            mixed: Array = np.log((1 - self.slip) * np.exp(logs) + self.slip * self.background)
        return np.where(self.slip > 0, mixed, logs)


def log_likelihood(verdicts: Verdicts, offset: Array) -> Array:
    """Log likelihood of all verdicts at each offset, shape of `offset`, each at the setting really
    used.
    """
    if not len(verdicts):
        return np.zeros_like(offset)
    logs = verdicts.log(verdicts.nominal + offset[None, :])
    if not verdicts.ends:
        out: Array = logs.sum(axis=0)
        return out
    shared = np.concatenate([rows for rows, _, _ in verdicts.ends])
    alone: Array = np.delete(logs, shared, axis=0).sum(axis=0)
    return alone + sum(_on_one_end(cuts, sd, offset) for _, cuts, sd in verdicts.ends)


def _ends(evidence: Sequence[Evidence]) -> list[tuple[NDArray[np.intp], Verdicts, float]]:
    """The verdicts that share an end: their places, what they say beside what they share, and how
    much that varies, mm.
    """
    found: dict[int, list[int]] = {}
    for place, e in enumerate(evidence):
        if e.end is not None and e.end_sd > 0:
            found.setdefault(e.end, []).append(place)
    out = []
    for places in (p for p in found.values() if len(p) > 1):
        cuts = Verdicts([on_its_end(evidence[i]) for i in places])
        out.append((np.array(places, dtype=np.intp), cuts, evidence[places[0]].end_sd))
    return out


def on_its_end(e: Evidence) -> Evidence:
    """Return what a verdict says of the misfit of its end: without the part that its cuts share."""
    other = None if e.other is None else on_its_end(e.other)
    return replace(e, end=None, end_sd=0.0, other=other)


def _on_one_end(cuts: Verdicts, sd: float, offset: Array) -> Array:
    """Log likelihood of the cuts on one end, what they share integrated out by Gauss and
    Hermite.
    """
    nodes, weights = _hermite()
    logs = [
        math.log(weight) + cuts.log(cuts.nominal + (offset + sd * node)[None, :]).sum(axis=0)
        for node, weight in zip(nodes, weights, strict=True)
    ]
    out: Array = np.logaddexp.reduce(logs, axis=0)
    return out


@lru_cache(maxsize=1)
def _hermite() -> tuple[list[float], list[float]]:
    nodes, weights = np.polynomial.hermite_e.hermegauss(40)
    return nodes.tolist(), (weights / weights.sum()).tolist()
