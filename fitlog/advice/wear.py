"""How a bit wears: joints of real boards cut with it, and the drift that all its runs share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from .. import defaults
from ..domain import Bit, SetUp
from ..estimator.posterior import Normal
from ..estimator.run import pooled
from .decision import weigh_all
from .history import History


class Wear(NamedTuple):
    """joints: of real boards, cut since the bit was last sharpened, as far as they were counted.
    runs: in which a joint was looked at; drift: that all of them have in common, of the lead's
    misfit a joint, mm, None where it is not told from noise.
    """

    joints: int
    runs: int
    drift: Normal | None


def wear_of(bit: Bit, joints: int, finished: Iterable[SetUp]) -> Wear:
    """Return how a bit wears. joints: cut since it was sharpened; finished: set-ups, its own and
    others.
    """
    own = (
        setup
        for setup in finished
        if setup.plan.bit.name == bit.name and setup.sharpenings == bit.sharpenings
    )
    laws = (weigh_all(s, History(), s.pieces()).run for s in own if s.checks())
    runs = [law for law in laws if law is not None]
    if not runs:
        return Wear(joints, 0, None)
    chance, drift = pooled(runs, defaults.RUN_DRIFT)
    return Wear(joints, len(runs), drift if chance >= defaults.FAULT_SURE else None)
