"""Lapses as hypotheses: each with its chance beforehand, weighed by what it makes of all verdicts
(Bayes factors).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from .evidence import Evidence
from .likelihood import Array, Verdicts, log_likelihood
from .posterior import Posterior, landmarks, mixed, posterior
from .prior import Prior

UNLIKELY = 0.004  # a hypothesis whose chance is below it, roughly weighed, is not worked out


class Hypothesis(NamedTuple):
    """One way to take the verdicts. chance: beforehand; prior, evidence: of the offset under it."""

    name: str
    chance: float
    prior: Prior
    evidence: tuple[Evidence, ...]


class Weighed(NamedTuple):
    """What the verdicts say under all hypotheses together. chance: of each, by name, given the
    verdicts.
    """

    law: Posterior
    chance: dict[str, float]
    likeliest: Hypothesis

    def of(self, name: str) -> float:
        """Return the chance of a hypothesis; 0 for one that was not worth weighing."""
        return self.chance.get(name, 0.0)


def turned(evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Return the same verdicts with the sides of all of them swapped."""
    return tuple(
        e if e.other is None else replace(e.other, other=replace(e, other=None), swap=e.swap)
        for e in evidence
    )


def weigh(hypotheses: Sequence[Hypothesis]) -> Weighed:
    """Return the law of the offset under all hypotheses, and how likely each is; the first is that
    nothing went wrong.
    """
    alive = plausible(hypotheses)
    laws = [posterior(h.prior, h.evidence) for h in alive]
    logs = np.array(
        [math.log(h.chance) + law.log_evidence for h, law in zip(alive, laws, strict=True)]
    )
    chances = _normalised(logs)
    kept = [
        (math.log(h.chance), law)
        for h, law, c in zip(alive, laws, chances, strict=True)
        if c > UNLIKELY / 2
    ]
    named = {h.name: float(c) for h, c in zip(alive, chances, strict=True)}
    return Weighed(mixed(kept), named, alive[int(np.argmax(chances))])


def plausible(hypotheses: Sequence[Hypothesis]) -> list[Hypothesis]:
    """Return the hypotheses that a rough integral leaves a chance, the first one always."""
    if len(hypotheses) == 1 or not hypotheses[0].evidence:
        return list(hypotheses[:1])
    rough = _normalised(np.array([math.log(h.chance) + _rough(h) for h in hypotheses]))
    return [
        h
        for i, (h, chance) in enumerate(zip(hypotheses, rough, strict=True))
        if i == 0 or chance > UNLIKELY
    ]


def _rough(hypothesis: Hypothesis) -> float:
    """Log of the marginal likelihood by the trapezoidal rule on the landmarks alone."""
    marks = landmarks(hypothesis.prior, hypothesis.evidence)
    logs: Array = hypothesis.prior.log(marks) + log_likelihood(Verdicts(hypothesis.evidence), marks)
    top = float(logs.max())
    density = np.exp(logs - top)
    return top + math.log(float((density[1:] + density[:-1]) @ np.diff(marks)) / 2 + 1e-300)


def _normalised(logs: Array) -> Array:
    weight = np.exp(logs - logs.max())
    out: Array = weight / weight.sum()
    return out
