"""Does an offset drift through a run of real boards? One offset and one drift a joint, on a grid.

All lengths mm. The drift is none with a stated chance beforehand, else normal about none; the
settings are as they were logged, so that a move is in the nominal misfits already.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from .evidence import Coupled, Evidence
from .likelihood import Array, Verdicts, band_chance
from .posterior import Normal

_RATES = np.array([NormalDist().inv_cdf((k + 0.5) / 40) for k in range(40)])  # equally likely, sds
_TINY = 1e-300
_REACH, _MOST_POINTS, _FINE = 4.5, 601, 0.25  # sds of the prior; points; step in least noises


@dataclass(frozen=True)
class Run:
    """The joint law of an offset before the run and of its drift a joint, mm.

    offset, rate: axes of the grid; weight: one row a rate, the first of which is none.
    """

    offset: Array
    rate: Array
    weight: Array

    @property
    def drifts(self) -> float:
        """The chance that there is a drift at all."""
        return float(self.weight[1:].sum())

    @property
    def drift(self) -> Normal:
        """The drift a joint, given that there is one."""
        return _law(self.rate[1:], self.shares[1:])

    @property
    def shares(self) -> Array:
        """The chances of the drifts, that of none first."""
        out: Array = self.weight.sum(axis=1)
        return out

    def within(
        self, nominal: float, window: tuple[float, float], piece_sd: float, joints: Array
    ) -> Array:
        """Return the chances that the joints of these counts come out inside a window at a nominal
        misfit.
        """
        chances = []
        for count in joints:
            misfit = nominal + self.offset[None, :] + count * self.rate[:, None]
            chance = band_chance(window[0], window[1], misfit, piece_sd)
            chances.append(float((self.weight * chance).sum()))
        return np.array(chances)


def _law(rate: Array, share: Array) -> Normal:
    share = share / share.sum()
    mean = float(share @ rate)
    return Normal(mean, float(np.sqrt(share @ (rate - mean) ** 2)))


def pooled(runs: Sequence[Run], chance: float) -> tuple[float, Normal]:
    """Return the chance that all runs have one drift in common, and that drift a joint, mm; chance:
    of one beforehand, as of each run. Raises ValueError without a run.
    """
    if not runs:
        raise ValueError("drifts of no run cannot be pooled")
    before = np.array([1 - chance, *[chance / len(_RATES)] * len(_RATES)])
    logs = np.log(before) + sum(np.log(run.shares + _TINY) - np.log(before) for run in runs)
    share = np.exp(logs - logs.max())
    share /= share.sum()
    return float(share[1:].sum()), _law(runs[-1].rate[1:], share[1:])


def run_of(
    prior: Normal, evidence: Sequence[Evidence], counts: Sequence[int], sd: float, chance: float
) -> Run:
    """Return what verdicts say of an offset and its drift. counts: joints cut by each verdict, 0
    before the run; sd: of a drift a joint; chance: of one beforehand.

    Raises ValueError without a verdict.
    """
    if not evidence:
        raise ValueError("a run is weighed with at least one verdict")
    verdicts = Verdicts(evidence)
    noise = np.hypot(
        np.where(verdicts.is_read > 0, verdicts.read_sd, verdicts.word_noise), verdicts.piece_sd
    )
    half = _REACH * prior.sd
    points = int(np.clip(2 * half / (_FINE * float(noise.min())), 81, _MOST_POINTS))
    offset = np.linspace(prior.mean - half, prior.mean + half, points)
    rate = np.array([0.0, *(sd * _RATES)])
    grown = offset[None, None, :] + np.array(counts)[:, None, None] * rate[None, :, None]
    flat = verdicts.log(verdicts.nominal + grown.reshape(len(evidence), -1))
    logs = flat.sum(axis=0).reshape(len(rate), points)
    logs -= 0.5 * ((offset - prior.mean) / prior.sd) ** 2
    logs += np.log([1 - chance, *[chance / len(_RATES)] * len(_RATES)])[:, None]
    weight = np.exp(logs - logs.max())
    return Run(offset, rate, weight / weight.sum())


class Creep(NamedTuple):
    """A drift of an offset through a run that is told from noise. rate: a joint, mm; counts: joints
    cut when each piece was, by its number; now: by the last one.
    """

    rate: Normal
    counts: Mapping[int, int]
    now: int

    def grown(self, law: Normal) -> Normal:
        """Return a law of the offset before the run as one of now."""
        more = self.rate.mean * self.now
        return Normal(law.mean + more, math.hypot(law.sd, self.rate.sd * self.now))

    def carried(self, said: Sequence[Evidence]) -> tuple[Evidence, ...]:
        """Return what was seen in a run as evidence of the offset of now."""
        return tuple(_less(e, self._since(e.piece)) for e in said)

    def followed(self, said: Sequence[Coupled]) -> tuple[Coupled, ...]:
        """Return coupled evidence, whose driver's offset creeps, as evidence of now."""
        return tuple(
            c._replace(driver_nominal=c.driver_nominal - self._since(c.evidence.piece))
            for c in said
        )

    def _since(self, piece: int) -> float:
        """By how much the offset has grown since a piece, mm."""
        return self.rate.mean * (self.now - self.counts[piece])


def _less(evidence: Evidence, grown: float) -> Evidence:
    other = evidence.other and _less(evidence.other, grown)
    return replace(evidence, nominal=evidence.nominal - grown, other=other)
