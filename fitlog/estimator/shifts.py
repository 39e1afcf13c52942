"""Did the offset stay what it was? Steps after a piece and a steady drift, weighed against no
change at all.

All lengths mm. Each way of changing keeps the settings as they were logged and adds to the offset
of later pieces; its marginal likelihood is the integral of prior times all verdicts over the
offset, on one even lattice for all of them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from .evidence import Evidence
from .likelihood import Array, Verdicts
from .posterior import Normal

Places = NDArray[np.intp]

# step of the lattice, in noises of the surest verdict or sds of the prior; between two steps logs
# are straight
_FINE = 0.5
_REACH = 4.0  # sds of the prior that the lattice covers
_MOST_POINTS = 401


class Step(NamedTuple):
    """From this place of the evidence on (0 is the first) the offset is larger by `shift`, mm."""

    place: int
    shift: float


def log_evidence(
    prior: Normal,
    evidence: Sequence[Evidence],
    steps: Sequence[Step],
    drifts: Sequence[float] = (),
) -> tuple[float, Array, Array]:
    """Return the log marginal likelihood of no change, of each step and of each drift, up to one
    common constant.

    drifts: by how much the offset grows from one piece (by its number) to the next, mm.
    Raises ValueError for a flat prior or without evidence.
    """
    if not evidence or not math.isfinite(prior.sd):
        raise ValueError("changes are weighed against a proper prior, with at least one verdict")
    ages = np.array([e.piece - evidence[0].piece for e in evidence], dtype=np.float64)
    most = max((abs(s.shift) for s in steps), default=0.0)
    most = max(most, *(abs(d) * ages[-1] for d in drifts)) if len(drifts) else most
    verdicts, table = Verdicts(evidence), _Lattice(prior, evidence, most)
    rows = verdicts.log(verdicts.nominal + table.wide[None, :])
    tails = np.cumsum(rows[::-1], axis=0)[::-1]
    none = table.total(tails[:1, table.room : -table.room])[0]
    return (
        float(none),
        table.steps(tails, steps),
        table.drifts(rows, ages, np.array(drifts, dtype=np.float64)),
    )


class _Lattice:
    """Even offsets about a prior, with room on both sides for what is added to them."""

    def __init__(self, prior: Normal, evidence: Sequence[Evidence], most: float) -> None:
        noises = [
            math.hypot(e.piece_sd, e.word_noise if e.read is None else e.read_sd) for e in evidence
        ]
        reach = _REACH * prior.sd
        self.step = max(_FINE * min(*noises, prior.sd), 2 * reach / (_MOST_POINTS - 1))
        self.half, self.room = math.ceil(reach / self.step), math.ceil(most / self.step) + 1
        self.wide = prior.mean + self.step * np.arange(
            -self.half - self.room, self.half + self.room + 1
        )
        self.points = 2 * self.half + 1
        self.known = -0.5 * ((self.wide[self.room : -self.room] - prior.mean) / prior.sd) ** 2

    def total(self, logs: Array) -> Array:
        """Log of the sum over the offsets, prior included, for each row."""
        logs = logs + self.known
        top = logs.max(axis=1)
        out: Array = top + np.log(np.exp(logs - top[:, None]).sum(axis=1))
        return out

    def grown(self, rows: Array, which: Places, shifts: Array) -> Array:
        """Return rows of logs with the offset grown by shifts; which, shifts: of one shape, to
        which the points are added.
        """
        place = shifts / self.step + self.room
        low = np.floor(place).astype(np.intp)
        columns = (low + rows.shape[1] * which)[..., None] + np.arange(self.points)
        here = rows.take(columns)
        out: Array = here + (place - low)[..., None] * (rows.take(columns + 1) - here)
        return out

    def steps(self, tails: Array, steps: Sequence[Step]) -> Array:
        """Log evidence of each step. tails: logs of all verdicts from each place on."""
        if not steps:
            return np.zeros(0)
        which = np.array([s.place for s in steps], dtype=np.intp)
        inner = tails[:, self.room : -self.room]
        after = self.grown(tails, which, np.array([s.shift for s in steps]))
        return self.total((inner[0] - inner)[which] + after)

    def drifts(self, rows: Array, ages: Array, drifts: Array) -> Array:
        """Log evidence of each drift. ages: pieces since the first."""
        if not len(drifts):
            return np.zeros(0)
        return self.total(
            self.grown(rows, np.arange(len(ages)), np.outer(drifts, ages)).sum(axis=1)
        )
