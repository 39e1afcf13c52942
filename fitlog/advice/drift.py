"""What the log shows of itself: a move that did nothing or twice what was asked, a misfit that
drifts piece by piece.

Every way of going wrong has a stated chance beforehand (`defaults`) and is weighed by what it makes
of all verdicts (marginal likelihoods, `estimator.shifts`). A slip of the tongue is in each verdict
already. Since the ratio of the evidence of a fault to that of none is a fair game while there is
none, the chance that a set-up without a fault is ever told of one is at most (chance of a fault
beforehand) * (1 - FAULT_SURE) / FAULT_SURE (Ville's inequality, from memory); in the simulated shop
it is far less (tests/test_drift.py).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from .. import defaults
from ..domain import Aspect, Piece
from ..estimator.evidence import Evidence
from ..estimator.shifts import Step, log_evidence
from .knowledge import Knowledge

# Sd of a drift by the part of the machine; of any other it is the height's.
_SDS = {"fence": defaults.DRIFT_FENCE}
_DRIFT_NODES = tuple(
    NormalDist().inv_cdf((k + 0.5) / 6) for k in range(6)
)  # six equally likely drifts, in sds


class Finding(NamedTuple):
    """A fault that the log shows. kind: "nothing", "twice" or "drift"; chance: of it, given the
    verdicts.

    move: what was asked of the setting, mm, between the pieces `before` and `after`; of a drift,
    how much the misfit grows from piece to piece, mm, from `before` to `after`.
    """

    aspect: Aspect
    kind: str
    chance: float
    move: float
    before: int
    after: int


def findings(know: Knowledge, pieces: Sequence[Piece]) -> tuple[Finding, ...]:
    """Return what the verdicts of a set-up say against its settings; at most one finding
    an aspect.

    What hangs on another aspect as well is not watched: too little would show.
    """
    plan = know.joint.plan
    watched = (a for a in plan.family.aspects if a in plan.in_play and not know.kind(a).driver)
    return tuple(f for a in watched if (f := _finding(know, a, pieces)) is not None)


def _finding(know: Knowledge, aspect: Aspect, pieces: Sequence[Piece]) -> Finding | None:
    # Between joints of a run whole boards are cut: what moves there is `advice.run`'s.
    pieces = [piece for piece in pieces if not piece.check][-2 * defaults.FAULT_LOOK_BACK :]
    prior, taken = know.as_taken(
        aspect
    )  # beside swapped sides or a zero far off, which explain more at once
    recent = {p.number for p in pieces}
    newest = [e for e in taken if e.piece in recent][-defaults.FAULT_LOOK_BACK :]
    evidence = roughly(know, aspect, pieces, newest)
    if len(evidence) < 2:
        return None
    judged = {e.piece for e in evidence}
    at = {p.number: p.settings.of(aspect) for p in pieces if p.number in judged}
    asked = [Step(i, at[e.piece] - at[o.piece]) for i, (o, e) in enumerate(pairwise(evidence), 1)]
    asked = [a for a in asked if abs(a.shift) >= defaults.MOVE_FAULT_LEAST]
    slope = know.joint.slope(aspect, pieces[-1].settings)
    per_piece = _drifts(know, aspect, evidence, abs(slope))
    if not asked and not per_piece:
        return None
    steps = [
        Step(place, way * slope * move) for way in (-1, 1) for place, move in asked
    ]  # way: nothing, then twice
    none, moved, drifted = log_evidence(prior, evidence, steps, per_piece)
    weights = np.concatenate(
        [
            np.exp(moved - none) * defaults.MOVE_FAULT / 2,
            np.exp(drifted - none) * defaults.DRIFT / max(1, len(per_piece)),
        ]
    )
    chances = weights / (weights.sum() + 1)
    if chances.sum() < defaults.FAULT_SURE:
        return None
    return _named(aspect, evidence, asked, chances[: len(steps)], chances[len(steps) :], per_piece)


def roughly(
    know: Knowledge, aspect: Aspect, pieces: Sequence[Piece], evidence: Sequence[Evidence]
) -> tuple[Evidence, ...]:
    """Let a word of a scale that is a person's own count no finer than its edges are known: it must
    not look like a fault.

    What was said with a number counts so already.
    """
    if not know.kind(aspect).scaled:
        return tuple(evidence)
    by, voices = {p.number: p.by for p in pieces}, know.past.voices

    def doubt(e: Evidence) -> float:
        voice = voices.get((by[e.piece], aspect))
        return defaults.BAND_EDGES if voice is None else voice.doubt

    return tuple(
        e if e.read is not None else replace(e, word_noise=math.hypot(e.word_noise, doubt(e)))
        for e in evidence
    )


def _named(
    aspect: Aspect,
    evidence: Sequence[Evidence],
    asked: Sequence[Step],
    moved: np.ndarray,
    drifted: np.ndarray,
    per_piece: Sequence[float],
) -> Finding:
    """Name the kind that is likeliest as a whole, and within it the move or the mean drift."""
    half = len(asked)
    by_kind = {"nothing": moved[:half].sum(), "twice": moved[half:].sum(), "drift": drifted.sum()}
    kind = max(by_kind, key=lambda k: by_kind[k])
    chance = float(by_kind[kind])
    if kind == "drift":
        mean = float(drifted @ np.array(per_piece)) / chance
        return Finding(aspect, kind, chance, mean, evidence[0].piece, evidence[-1].piece)
    place, move = asked[int(np.argmax(moved[:half] if kind == "nothing" else moved[half:]))]
    return Finding(aspect, kind, chance, move, evidence[place - 1].piece, evidence[place].piece)


def _drifts(
    know: Knowledge, aspect: Aspect, evidence: Sequence[Evidence], slope: float
) -> tuple[float, ...]:
    """Drifts of the misfit per piece that are weighed, mm; none on too few pieces."""
    if len(evidence) < defaults.DRIFT_PIECES:
        return ()
    part = know.joint.plan.family.adjusted(aspect).part
    sd = _SDS.get(part, defaults.DRIFT_HEIGHT)
    return tuple(slope * sd * node for node in _DRIFT_NODES)
