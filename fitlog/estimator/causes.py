"""What is known of an offset from its causes: a linear Gaussian model with terms that set-ups share.

offset = sum of factor * term. Terms have normal priors; readings of terms and earlier set-ups with the same bit,
machine or stock are normal observations of such sums. First-order propagation: GUM, JCGM 100:2008, 5.1.2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from ..evidence import Term, TermReading
from .likelihood import Array
from .posterior import Normal

SUSPECT = 4.0  # a reading this many sds off what the causes allow is a misreading, and is left out


def predict(terms: Sequence[Term], readings: Iterable[TermReading] = ()) -> Normal:
    """Return the law of the offset that `terms` make up, given readings of sums of the same terms.

    Terms are matched by key; their prior means and sds must agree wherever a key recurs.
    """
    readings = [r for r in readings if r.terms]
    causes = {t.key: t for t in (*terms, *(t for r in readings for t in r.terms))}
    place = {key: i for i, key in enumerate(causes)}
    mean = np.array([t.mean for t in causes.values()])
    var = np.array([t.sd for t in causes.values()]) ** 2
    goal = _row(terms, place)
    if not readings:
        return Normal(float(goal @ mean), math.sqrt(float(goal**2 @ var)))
    rows = np.array([_row(r.terms, place) for r in readings])
    noise = np.array([r.sd for r in readings]) ** 2
    spread = (rows * var) @ rows.T + np.diag(noise)
    cross = (rows * var) @ goal
    gain = np.linalg.solve(spread, cross)
    surplus = np.array([r.value for r in readings]) - rows @ mean
    left = float(goal**2 @ var) - float(cross @ gain)
    return Normal(float(goal @ mean + gain @ surplus), math.sqrt(max(left, 0.0)))


def suspect(reading: TermReading) -> bool:
    """Tell whether a reading cannot be true: the bit, the pitch and the instrument together don't reach it."""
    expected = predict(reading.terms)
    return abs(reading.value - expected.mean) > SUSPECT * math.hypot(expected.sd, reading.sd)


def learnt(prior: Normal, found: Normal) -> Normal | None:
    """Return what a set-up's own trial cuts said of its offset, the prior it started from taken out again.

    prior, found: before and after the cuts, moment-matched. None when the cuts said nothing.
    """
    precision = 1 / found.sd**2 - 1 / prior.sd**2
    if precision <= 1e-9 / prior.sd**2:
        return None
    mean = (found.mean / found.sd**2 - prior.mean / prior.sd**2) / precision
    return Normal(mean, 1 / math.sqrt(precision))


def _row(terms: Sequence[Term], place: dict[tuple[str, ...], int]) -> Array:
    row = np.zeros(len(place))
    for term in terms:
        row[place[term.key]] += term.factor
    return row
