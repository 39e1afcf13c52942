"""Mean and sd of many set-ups' offsets in one sweep: what of an earlier set-up is worth keeping."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..evidence import Evidence
from .likelihood import Array, Verdicts
from .posterior import Normal

_REACH = 5.5  # prior sds
_POINTS = 57
_FLOOR = 16.0  # nats below the peak


def moments(priors: Sequence[Normal], evidence: Sequence[Sequence[Evidence]]) -> list[Normal]:
    """Return the moment-matched posterior of each offset, to about 1 % of its sd.

    priors, evidence: one entry a set-up, each with at least one verdict and a finite prior.
    """
    if not priors:
        return []
    mean, sd = (np.array(column)[:, None] for column in zip(*priors, strict=True))
    verdicts = Verdicts([e for found in evidence for e in found])
    counts = [len(found) for found in evidence]
    owner = np.repeat(np.arange(len(priors)), counts)
    first = np.concatenate([[0], np.cumsum(counts)[:-1]])

    def logs(offset: Array) -> Array:
        said = np.add.reduceat(verdicts.log(verdicts.nominal + offset[owner]), first, axis=0)
        out: Array = said - 0.5 * ((offset - mean) / sd) ** 2
        return out

    marks = mean + sd * np.linspace(-_REACH, _REACH, _POINTS)[None, :]
    found = logs(marks)
    inside = found > found.max(axis=1, keepdims=True) - _FLOOR
    step = marks[:, 1] - marks[:, 0]
    low = marks[np.arange(len(marks)), inside.argmax(axis=1)] - step
    high = marks[np.arange(len(marks)), _POINTS - 1 - inside[:, ::-1].argmax(axis=1)] + step
    offset = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, _POINTS)[None, :]
    found = logs(offset)
    weight = np.exp(found - found.max(axis=1, keepdims=True))
    weight /= weight.sum(axis=1, keepdims=True)
    centre = (weight * offset).sum(axis=1)
    spread = np.sqrt((weight * (offset - centre[:, None]) ** 2).sum(axis=1))
    return [Normal(float(m), float(s)) for m, s in zip(centre, spread, strict=True)]
