"""The tail at the far edge: what the fit and the centre together make of its play."""

from __future__ import annotations

import math

from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import nominal_of
from ...domain import Misfit, Settings, SetUp
from ...estimator.choice import chance_good
from ...estimator.posterior import Normal, Posterior, posterior
from .tail import LastTail

_NINETY = 1.6449  # sds on either side of a normal law's mean that hold 90 % of it
# of a centre read off the two walls beside a cut: half of two caliper readings' difference
WALLS_SD = 0.02


def last_tail(
    setup: SetUp, past: History, real: Settings, centre: Misfit | None, rounded: float
) -> LastTail | None:
    """Return the last tail's play on the real boards at `real`, the centre's mean allowed for by
    the stops' zero.

    centre: its error there; rounded: what rounding the stops adds, mm. None where fit or centre is
    not in play.
    """
    plan, pieces = setup.plan, setup.tuned_on()
    if centre is None or "fit" not in plan.in_play:
        return None
    known = know(
        plan,
        pieces,
        past,
        setup.first,
        pieces[-1].by if pieces else setup.by,
        setup.slots(),
    )
    law, apart = real_law(known)
    at, window = nominal_of(known, "fit", real) + apart.mean + rounded, known.joint.window("fit")
    # Whatever the centre's error turns out to be, less its mean: how likely the fit's law then ends
    # in the window.
    off = known.law("centre").grid - known.law("centre").mean
    inside = chance_good(law, at + 2 * off, window, apart.sd)
    mean, sd = at - rounded + law.mean, math.hypot(law.sd, apart.sd)
    return LastTail(
        (mean, sd),
        centre.sd,
        (window.low, window.high),
        rounded,
        float(known.law("centre").weight @ inside),
        (math.hypot(_core(law), apart.sd), _core(known.law("centre"))),
    )


def _core(law: Posterior) -> float:
    """The sd of the normal law that has 90 % where this one has them: a slip's far tails count for
    little.
    """
    low, high = law.interval(0.90)
    return (high - low) / (2 * _NINETY)


def read_fit_sd(setup: SetUp) -> float:
    """Standard uncertainty of the clearance that one more piece's pull-apart gap gives, mm."""
    known = know(setup.plan, (), History(), setup.first)
    return math.hypot(known.joint.read_sd("fit"), known.joint.piece_sd("fit"))


def real_law(known: Knowledge) -> tuple[Posterior, Normal]:
    """Return the law of the fit's offset in the real boards, and what their wood adds to it, mm."""
    found = known.stock.evidence("fit", known.pieces) if known.joint.wood else ()
    if found:
        return posterior(known.real, found), Normal(0.0, 0.0)
    return known.law("fit"), known.apart if known.joint.wood else Normal(0.0, 0.0)
