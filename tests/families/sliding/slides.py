"""A sliding dovetail that several tests share; all invented."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from building import STARTED

from fitlog.domain import Bit, Machine, Reading, Stock, TrialCut, Verdict
from fitlog.domain.setups import SetUp
from fitlog.families.sliding.names import FIT, SHOULDER, SLIDING, set_to
from fitlog.families.sliding.plan import SlidingPlan

BIT = Bit("invented 14", 12.7, 14.0, 13.0)
SHELF = Stock("invented ash", "ash (invented)", 18.0, 140.0)
PANEL = Stock("invented side", "ash (invented)", 20.0, 300.0)
AT = set_to(8.0, 7.9, 4.6846)


def slide(machine: Machine | None = None, bit: Bit = BIT, **changes: Any) -> SlidingPlan:
    """A sound plan: 12.7 mm bit at 14 deg, sockets 8 mm deep, a shelf 18 mm thick."""
    plan = SlidingPlan(bit, SHELF, PANEL, machine, 140.0, 18.0, 20.0, socket_height=8.0)
    return replace(plan, **changes)


def said(fit: str = "", shoulder: str = "", gap: float | None = None) -> Verdict:
    """What is said of a piece; gap: the number of an open shoulder."""
    found = [SLIDING.said(FIT, fit)] if fit else []
    return Verdict((*found, *([SLIDING.said(SHOULDER, shoulder, gap)] if shoulder else [])))


def cut(
    piece: int, at: Any, verdict: Verdict, readings: Sequence[Reading] = (), end: int | None = None
) -> TrialCut:
    """A trial cut at settings."""
    return TrialCut(piece, piece, at, verdict, tuple(readings), end=end)


def setup(plan: SlidingPlan, *cuts: TrialCut, number: int = 1) -> SetUp:
    """A set-up with these cuts."""
    return SetUp(number, plan, AT, AT, STARTED, cuts=cuts)
