"""A person's own words: where one word ends and the next begins, learned where words and readings
meet.

Word k is said of a misfit x when edge k-1 < x + N(0, noise^2) <= edge k: an ordered probit whose
edges and noise are unknown. Words alone show only edges less offset; a reading of the same piece
shows the edges themselves. Where no reading ever meets a word, its edges stay as assumed, as
uncertain as before.

The answer is the posterior mode with the sds of its curvature (Laplace), exact for many meetings,
rough for few.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from scipy.special import log_ndtr

from ..defaults import SLIP
from .climb import CONVERGED, LEAST_CURVATURE, Local, climb, hill_axes
from .likelihood import Array

# Common practice, no source: the log corrects them.
TOGETHER = (
    0.7  # of an edge's sd: a person who calls one joint tighter than others do calls them all so
)
ALONE = math.sqrt(
    1 - TOGETHER**2
)  # and each edge by itself, so that the two add up to the whole sd
# of the log of a person's noise: within a factor of two, one way or the other, 19 times in 20
LOG_NOISE_SD = 0.4
LEAST_BAND = 0.005  # mm between neighbouring edges

_TAIL_90 = 1.6448536269514722  # sds either side that hold 90 % of a normal law
_REACH = 6.0  # sds of the log of the noise that are looked at
_FAR = 10.0  # mm: a law this far off or this wide says nothing more when it is farther or wider
_END = 1e9  # mm: open end of the outer words, finite so that end * 0 is 0
_ROUNDING = 1e-9  # mm added to LEAST_BAND, so that sums of bands keep it
_ROUGHLY = 0.1  # nats left to gain where only a start is looked for


class Meeting(NamedTuple):
    """One word that met a reading: the word's index in WORDS, and what readings say of that piece's
    misfit, mm.

    The law N(mean, sd^2) is of the misfit given the reading, the piece's own variation included.
    """

    word: int
    mean: float
    sd: float


class Scale(NamedTuple):
    """The edges between a person's words and their noise, mm, each with what is known of it.

    noise_range: 90 % interval of the noise; met: how many meetings taught it.
    """

    edges: tuple[float, ...]
    edge_sds: tuple[float, ...]
    noise: float
    noise_range: tuple[float, float]
    met: int


def assumed(edges: Sequence[float], noise: float, edge_sd: float) -> Scale:
    """Return the scale of a person who has met no reading yet, mm; ValueError unless edges rise and
    the rest is > 0.
    """
    if not edges or any(not low < high for low, high in pairwise(edges)):
        raise ValueError(f"edges must increase, not {tuple(edges)}")
    if not (math.isfinite(sum(edges)) and 0 < noise < math.inf and 0 < edge_sd < math.inf):
        raise ValueError(
            f"edges, noise {noise} and sd {edge_sd} must be finite, the last two positive"
        )
    return Scale(
        tuple(edges), (edge_sd,) * len(edges), noise, _interval(math.log(noise), LOG_NOISE_SD), 0
    )


def learn_scale(
    prior: Scale,
    meetings: Sequence[Meeting],
    slip: float = SLIP,
    read: tuple[int, int] | None = None,
) -> Scale:
    """Return the scale after `meetings`, in whatever order they came; without any, `prior` itself.

    slip, 0 <= slip < 1: the share of words that are about something else, any word then being as
    likely as another. read: lowest and highest word after which readings are taken at all, None for
    any word. Where a tight joint is never read, a loose word on a reading is no news of the edge to
    the tight ones, and taking it for news pulls that edge down by about its sd: with `read` it
    stays as assumed. A meeting outside widens it. Start from an assumed scale and all meetings: a
    learned one has forgotten how its edges move together. ValueError: a word outside the scale, a
    mean or sd that is not finite, a negative sd.
    """
    if not meetings:
        return prior
    problem = _Problem(prior, meetings, read)
    best, at = _best_mode(problem, slip)
    cov = problem.covariance(at.curvature)
    sds, edges = np.sqrt(np.diag(cov)), np.cumsum(best[:-1])
    noise = _interval(best[-1], sds[-1])
    met = prior.met + len(meetings)
    return Scale(tuple(edges.tolist()), tuple(sds[:-1].tolist()), math.exp(best[-1]), noise, met)


def _interval(log_noise: float, sd: float) -> tuple[float, float]:
    return math.exp(log_noise - _TAIL_90 * sd), math.exp(log_noise + _TAIL_90 * sd)


def _best_mode(problem: _Problem, slip: float) -> tuple[Array, Local]:
    """Climb from the assumed scale, and from where all words are meant, and keep the higher mode.

    Slips make the posterior many-humped: a person far from the assumed scale looks like one who
    slips all the time.
    """
    near = problem.climb(problem.start, slip)
    if slip <= 0:
        return near
    meant = problem.climb(problem.start, 0.0, _ROUGHLY)[0]
    far = problem.climb(meant, slip)
    return far if far[1].value < near[1].value else near


class _Problem:
    """Minus the log posterior of q = (first edge, band widths .., log noise), bounded below by
    LEAST_BAND.
    """

    def __init__(
        self, prior: Scale, meetings: Sequence[Meeting], read: tuple[int, int] | None
    ) -> None:
        # Sorted, so that sums and so results are the same to the last bit in whatever order the
        # meetings came.
        rows = np.array(sorted((m.word, m.mean, m.sd) for m in meetings), dtype=np.float64)
        _check(rows, len(prior.edges) + 1)
        self.words = len(prior.edges) + 1
        self.word = rows[:, 0].astype(np.intp)
        lowest, highest = read or (0, self.words - 1)
        self.open_below = self.word <= min(lowest, self.word[0])
        self.open_above = self.word >= max(highest, self.word[-1])
        self.mean, self.var = np.clip(rows[:, 1], -_FAR, _FAR), np.minimum(rows[:, 2], _FAR) ** 2
        edges, sds, noise_sd = np.array(prior.edges), np.array(prior.edge_sds), _log_noise_sd(prior)
        self.expected = np.append(edges, math.log(prior.noise))
        self.prior_cov = np.zeros((self.words, self.words))
        self.prior_cov[:-1, :-1] = TOGETHER**2 * np.outer(sds, sds) + ALONE**2 * np.diag(sds**2)
        self.prior_cov[-1, -1] = noise_sd**2
        self.precision = np.linalg.inv(self.prior_cov)
        self.sums = np.tril(
            np.ones_like(self.prior_cov)
        )  # edges are sums of band widths, the noise stands alone
        self.sums[-1, :-1] = 0.0
        self.white = np.linalg.solve(self.sums, np.linalg.cholesky(self.prior_cov))
        least = np.full(self.words - 2, LEAST_BAND + _ROUNDING)
        self.low = np.concatenate([[-math.inf], least, [self.expected[-1] - _REACH * noise_sd]])
        self.high = np.append(
            np.full(self.words - 1, math.inf), self.expected[-1] + _REACH * noise_sd
        )
        self.start = np.clip(
            np.append(np.diff(edges, prepend=0.0), self.expected[-1]), self.low, self.high
        )

    def at(self, q: Array, slip: float) -> Local:
        """Value, slope and curvature at q."""
        theta = self.sums @ q
        off = theta - self.expected
        pull = self.precision @ off
        value, slope, curvature = self._words(theta[:-1], math.exp(2 * theta[-1]), slip)
        slope, curvature = (
            self.sums.T @ (slope + pull),
            self.sums.T @ (curvature + self.precision) @ self.sums,
        )
        return Local(value + 0.5 * float(off @ pull), slope, curvature)

    def _words(self, edges: Array, noise_var: float, slip: float) -> Local:
        """Minus the log likelihood of all meetings, with derivatives by (edges .., log noise).

        A word's chance over the normal law of x is Phi(b) - Phi(a), a and b the band's ends less
        mean, over s = sqrt(sd^2 + noise^2); noise moves them by da/dlog noise = -a noise^2/s^2.
        """
        ends = np.concatenate([[-_END], edges, [_END]])
        var = self.var + noise_var
        s, c = np.sqrt(var), noise_var / var
        a = np.where(self.open_below, -_END, ends[self.word] - self.mean) / s
        b = np.where(self.open_above, _END, ends[self.word + 1] - self.mean) / s
        log_chance = _log_band(a, b)
        ra, rb = (
            -_ratio(a, log_chance),
            _ratio(b, log_chance),
        )  # slopes of the log chance by a and b
        aa, bb, ab = -ra * (a + ra), -rb * (b + rb), -ra * rb  # and its curvatures
        mix_a, mix_b = a * aa + b * ab, a * ab + b * bb
        pull = a * ra + b * rb
        total = np.logaddexp(
            math.log1p(-slip) + log_chance, math.log(slip / self.words) if slip > 0 else -math.inf
        )
        meant = np.exp(
            math.log1p(-slip) + log_chance - total
        )  # chance that the word was meant, not a slip
        ga, gb, gt = ra / s, rb / s, -c * pull
        second = (
            (aa / var, bb / var, ab / var),
            (-c * (mix_a + ra) / s, -c * (mix_b + rb) / s),
            c**2 * (pull + a * mix_a + b * mix_b) - 2 * c * (1 - c) * pull,
        )
        curvature = self._curvature((ga, gb, gt), second, meant)
        return Local(
            -float(total.sum()),
            -self._spread(meant * ga, meant * gb, float(meant @ gt)),
            -curvature,
        )

    def _spread(self, by_lower: Array, by_upper: Array, by_noise: float) -> Array:
        """Sum what each meeting says by its band's two ends into (edges .., log noise)."""
        n = self.words + 1
        ends = np.bincount(self.word, by_lower, n) + np.bincount(self.word + 1, by_upper, n)
        return np.append(ends[1:-1], by_noise)

    def _curvature(
        self,
        first: tuple[Array, Array, Array],
        second: tuple[tuple[Array, Array, Array], tuple[Array, Array], Array],
        meant: Array,
    ) -> Array:
        """Curvature of the log of chance and slip mixed: meant L'' + meant (1 - meant) L' L'^T,
        summed.
        """
        (ga, gb, gt), ((aa, bb, ab), (at, bt), tt) = first, second
        doubt = meant * (1 - meant)
        out = np.diag(
            self._spread(
                meant * aa + doubt * ga * ga,
                meant * bb + doubt * gb * gb,
                float(meant @ tt + doubt @ gt**2),
            )
        )
        beside = np.bincount(self.word, meant * ab + doubt * ga * gb, self.words)[1:-1]
        noise = self._spread(meant * at + doubt * ga * gt, meant * bt + doubt * gb * gt, 0.0)[:-1]
        i = np.arange(self.words - 2)
        out[i, i + 1] = out[i + 1, i] = beside
        out[:-1, -1] = out[-1, :-1] = noise
        return out

    def climb(self, start: Array, slip: float, enough: float = CONVERGED) -> tuple[Array, Local]:
        """Climb from `start` to the mode nearby."""
        return climb(lambda q: self.at(q, slip), start, (self.low, self.high), self.white, enough)

    def covariance(self, curvature: Array) -> Array:
        """Covariance of (edges .., log noise) from the curvature by q, at most 1/LEAST_CURVATURE
        times the prior's.
        """
        values, axes = hill_axes(curvature, self.white)
        root = self.sums @ axes / np.sqrt(np.maximum(values, LEAST_CURVATURE))
        out: Array = root @ root.T
        return out


def _check(rows: Array, words: int) -> None:
    if not (np.isfinite(rows).all() and (rows[:, 2] >= 0).all()):
        raise ValueError("a meeting needs a finite mean and a finite sd of 0 or more")
    if rows[0, 0] < 0 or rows[-1, 0] >= words:
        raise ValueError(f"a meeting's word must be 0 to {words - 1}")


def _log_noise_sd(scale: Scale) -> float:
    low, high = scale.noise_range
    return math.log(high / low) / (2 * _TAIL_90)


def _log_band(a: Array, b: Array) -> Array:
    """Log of Phi(b) - Phi(a), a < b, taken on the side where both are small."""
    flip = a > 0
    low, high = log_ndtr(np.where(flip, -b, a)), log_ndtr(np.where(flip, -a, b))
    out: Array = high + np.log(-np.expm1(low - high))
    return out


def _ratio(z: Array, log_chance: Array) -> Array:
    """Normal density at z over the band's chance."""
    out: Array = np.exp(-0.5 * z * z - 0.5 * math.log(2 * math.pi) - log_chance)
    return out
