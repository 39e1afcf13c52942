"""The tail at the far edge: what the fit and the centre together make of its play."""

from __future__ import annotations

import math

from ..domain import Misfit, Settings, SetUp
from ..domain.standing import LastTail
from ..estimator.posterior import Posterior, posterior
from .aim import nominal_of
from .history import History
from .knowledge import Knowledge, know

WALLS_SD = 0.02  # of a centre read off the two walls beside a cut: half of two caliper readings' difference


def last_tail(setup: SetUp, past: History, real: Settings, centre: Misfit | None, rounded: float) -> LastTail | None:
    """Return the last tail's play on the real boards at `real`, the centre's mean allowed for by the stops' zero.

    centre: its error there; rounded: what rounding the stops adds, mm. None where fit or centre is not in play.
    """
    plan, pieces = setup.plan, setup.pieces()
    if centre is None or "fit" not in plan.in_play:
        return None
    known = know(plan, pieces, past, setup.first.bit_height, pieces[-1].by if pieces else setup.by)
    mean, sd = real_offset(known)
    window = known.joint.window("fit")
    return LastTail((nominal_of(known, "fit", real) + mean, sd), centre.sd, (window.low, window.high), rounded)


def read_fit_sd(setup: SetUp) -> float:
    """Standard uncertainty of the clearance that one more piece's pull-apart gap gives, mm."""
    known = know(setup.plan, (), History(), setup.first.bit_height)
    return math.hypot(known.joint.read_sd("fit"), known.joint.piece_sd("fit"))


def real_offset(known: Knowledge) -> tuple[float, float]:
    """Return mean and sd of the fit's offset in the real boards, mm, which may differ from that of the test pieces."""
    law: Posterior = known.fit
    if not known.joint.wood:
        return law.mean, law.sd
    found = known.stock.evidence("fit", known.pieces)
    if found:
        own = posterior(known.real, found)
        return own.mean, own.sd
    return law.mean + known.apart.mean, math.hypot(law.sd, known.apart.sd)
