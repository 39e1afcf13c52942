"""What earlier set-ups and readings say of shared causes: a linear Gaussian model, its variances
re-estimated.

Each lesson is a reading of a sum of causes, value = sum of factor * cause + noise. Causes are
matched by key, so that a set-up teaches every other one with the same bit, machine or wood.
First-order propagation: GUM, JCGM 100:2008, 5.1.2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..defaults import COMPONENT_DOUBT, COMPONENT_LESSONS, COMPONENT_RANGE
from .evidence import Term, TermReading
from .likelihood import Array
from .posterior import Normal
from .secant import lowest

SUSPECT = 4.0  # a reading this many sds off what the causes allow is a misreading, and is left out
Places = NDArray[np.intp]
Components = Mapping[
    str, float
]  # by the kind of cause (key[0]): its sd, as a multiple of the assumed one


class Lessons:
    """Readings of sums of causes as columns, and what they say of any other sum.

    components: true multiples of the assumed sds where they are known; None: estimated from the
    lessons themselves.
    """

    def __init__(
        self, readings: Iterable[TermReading] = (), components: Components | None = None
    ) -> None:
        self.readings = tuple(r for r in readings if r.terms)
        self._given = components
        shared = {t.key: t for r in self.readings for t in r.terms if not t.own}
        self.place = {key: i for i, key in enumerate(shared)}
        self.prior = np.array([t.mean for t in shared.values()])
        self.sd = np.array([t.sd for t in shared.values()])
        self.kinds = [key[0] for key in shared]

    def __len__(self) -> int:
        return len(self.readings)

    @cached_property
    def _columns(self) -> _Columns:
        return _Columns(self, self.readings)

    @cached_property
    def components(self) -> Components:
        """Multiples of the assumed sds, by kind of cause: 1 (not listed) until enough lessons speak
        of them.
        """
        if self._given is not None:
            return self._given
        newest = self.readings[-COMPONENT_LESSONS[1] :]
        if len(newest) < COMPONENT_LESSONS[0]:
            return {}
        return _Columns(self, newest).most_likely()

    @cached_property
    def _known(self) -> tuple[Array, Array]:
        """Means and covariance of the causes, the lessons heard."""
        sd = self.sd * np.array([self.components.get(kind, 1.0) for kind in self.kinds])
        mean, cov = self._columns.solve(sd, self.components)
        return self.prior + mean, cov

    def law(self, terms: Sequence[Term]) -> Normal:
        """Return the law of a sum of causes, given the lessons. Own terms and unheard causes keep
        their priors.
        """
        mean, var = 0.0, 0.0
        row = np.zeros(len(self.place))
        for term in terms:
            index = None if term.own else self.place.get(term.key)
            if index is not None:
                row[index] += term.factor
            else:
                mean += term.factor * term.mean
                var += (term.factor * term.sd * self.components.get(term.key[0], 1.0)) ** 2
        if row.any():
            known, cov = self._known
            mean, var = mean + float(row @ known), var + float(row @ cov @ row)
        return Normal(mean, math.sqrt(max(var, 0.0)))

    def both(self, first: Sequence[Term], second: Sequence[Term]) -> tuple[Normal, Normal, float]:
        """Return the laws of two sums of causes, given the lessons, and their covariance: what they
        have in common.
        """
        rows = [np.zeros(len(self.place)) for _ in range(2)]
        for row, terms in zip(rows, (first, second), strict=True):
            for term in terms:
                if not term.own and term.key in self.place:
                    row[self.place[term.key]] += term.factor
        shared = 0.0
        if rows[0].any() and rows[1].any():
            shared = float(rows[0] @ self._known[1] @ rows[1])
        return self.law(first), self.law(second), shared

    def and_(self, readings: Iterable[TermReading]) -> Lessons:
        """Return these lessons and more, under the variances of these."""
        more = tuple(readings)
        return Lessons((*self.readings, *more), self.components) if more else self


class _Columns:
    """Lessons as arrays: x (n, causes) factors, surplus (n,) over the prior means, noise (n,), own
    (n, own kinds).
    """

    def __init__(self, lessons: Lessons, readings: Sequence[TermReading]) -> None:
        self.kinds, self.sd = lessons.kinds, lessons.sd
        self.x = np.zeros((len(readings), len(self.kinds)))
        self.own_kinds = sorted({t.key[0] for r in readings for t in r.terms if t.own})
        self.own = np.zeros((len(readings), len(self.own_kinds)))
        surplus = [r.value for r in readings]
        for i, reading in enumerate(readings):
            for term in reading.terms:
                if term.own:
                    self.own[i, self.own_kinds.index(term.key[0])] += (term.factor * term.sd) ** 2
                    surplus[i] -= term.factor * term.mean
                else:
                    self.x[i, lessons.place[term.key]] += term.factor
        self.surplus = np.array(surplus) - self.x @ lessons.prior
        self.noise = np.array([r.sd for r in readings]) ** 2

    def solve(self, sd: Array, components: Components) -> tuple[Array, Array]:
        """Return posterior mean (over the prior's) and covariance of the causes whose prior sds are
        `sd`.
        """
        own = np.array([components.get(kind, 1.0) for kind in self.own_kinds])
        weight = 1 / (self.noise + self.own @ own**2)
        cov = np.linalg.inv(np.diag(sd**-2.0) + (self.x.T * weight) @ self.x)
        return cov @ (self.x.T @ (weight * self.surplus)), cov

    def most_likely(self) -> Components:
        """Return the multiples of the assumed sds at the mode of marginal likelihood times a
        log-normal prior.
        """
        kinds = sorted({*self.kinds, *self.own_kinds})
        group = np.array([kinds.index(kind) for kind in self.kinds], dtype=np.intp)
        own = np.array([kinds.index(kind) for kind in self.own_kinds], dtype=np.intp)
        span = np.full(len(kinds), math.log(COMPONENT_RANGE))
        found = lowest(
            lambda q: self._cost(q, group, own),
            np.zeros(len(kinds)),
            (-span, span),
            COMPONENT_DOUBT,
        )
        return dict(zip(kinds, np.exp(found).tolist(), strict=True))

    def _cost(self, logs: Array, group: Places, own: Places) -> tuple[float, Array]:
        """Negative log of (marginal likelihood times prior) and its gradient in the logs of the
        multiples.

        With S the covariance of the surplus: (log det S + r' S^-1 r) / 2, through the causes'
        posterior precision (matrix determinant and inversion lemmas).
        """
        times = np.exp(2 * logs)
        var = self.sd**2 * times[group]
        unshared = self.own * times[own]
        weight = 1 / (self.noise + unshared.sum(axis=1))
        precision = np.diag(1 / var) + (self.x.T * weight) @ self.x
        cov = np.linalg.inv(precision)
        mean = cov @ (self.x.T @ (weight * self.surplus))
        left = self.surplus - self.x @ mean
        _, log_det = np.linalg.slogdet(precision)
        quad = float(self.surplus @ (weight * left))
        cost = 0.5 * (log_det + float(np.log(var).sum()) - float(np.log(weight).sum()) + quad)
        slope = logs / COMPONENT_DOUBT**2
        np.add.at(slope, group, 1 - (np.diag(cov) + mean**2) / var)
        pull = weight - weight**2 * ((self.x @ cov) * self.x).sum(axis=1) - (weight * left) ** 2
        np.add.at(slope, own, (pull[:, None] * unshared).sum(axis=0))
        return cost + 0.5 * float((logs**2).sum()) / COMPONENT_DOUBT**2, slope


def suspect(reading: TermReading) -> bool:
    """Tell whether a reading cannot be true: the bit, the pitch and the instrument together don't
    reach it.
    """
    expected = Lessons().law(reading.terms)
    return abs(reading.value - expected.mean) > SUSPECT * math.hypot(expected.sd, reading.sd)


def learnt(prior: Normal, found: Normal) -> Normal | None:
    """Return what a set-up's own trial cuts said of its offset, the prior it started from taken out
    again.

    prior, found: before and after the cuts, moment-matched. None when the cuts said nothing.
    """
    precision = 1 / found.sd**2 - 1 / prior.sd**2
    if precision <= 1e-9 / prior.sd**2:
        return None
    mean = (found.mean / found.sd**2 - prior.mean / prior.sd**2) / precision
    return Normal(mean, 1 / math.sqrt(precision))
