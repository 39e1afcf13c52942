"""Joints cut from both faces that several tests share; all invented."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from building import STARTED

from fitlog.domain import Bit, Machine, Plan, Reading, Settings, Stock, TrialCut, Verdict
from fitlog.domain.setups import SetUp
from fitlog.families.half_lap.plan import LapPlan
from fitlog.families.tenon.plan import TenonPlan
from fitlog.families.tongue_groove.plan import TonguePlan

EIGHT, SIX, WIDE = (Bit(f"plain {d:g}", d, 0.0, 25.0) for d in (8.0, 6.0, 16.0))
RAIL = Stock("rail ash", "ash (invented)", 20.0, 70.0)
BOARD = Stock("board oak", "oak (invented)", 18.0, 120.0)


def tenon(machine: Machine | None = None, **changes: Any) -> TenonPlan:
    """A rail and a stile of 20 mm, a mortise by the same 8 mm bit, 30 mm deep."""
    plan = TenonPlan(EIGHT, RAIL, RAIL, machine, 70.0, 20.0, 20.0, depth=30.0, mortise=8.0)
    return replace(plan, **changes)


def tongue(machine: Machine | None = None, **changes: Any) -> TonguePlan:
    """Boards of 18 mm, a groove by a 6 mm bit, 6 mm deep."""
    return replace(TonguePlan(SIX, BOARD, BOARD, machine, 120.0, 18.0, 18.0, depth=6.0), **changes)


def lap(machine: Machine | None = None, **changes: Any) -> LapPlan:
    """Parts of 18 mm, 45 mm wide."""
    return replace(LapPlan(WIDE, BOARD, BOARD, machine, 45.0, 18.0, 18.0, depth=45.0), **changes)


def said(plan: Plan, **words: Any) -> Verdict:
    """What is said of a piece: a word, or a word and its number, by aspect."""
    told = {a: w if isinstance(w, tuple) else (w, None) for a, w in words.items()}
    return Verdict(tuple(plan.family.said(a, *told[a]) for a in plan.family.aspects if a in told))


def cut(
    piece: int, at: Settings, verdict: Verdict, readings: Sequence[Reading] = (), end: int = 1
) -> TrialCut:
    """A trial cut at settings."""
    return TrialCut(piece, piece, at, verdict, tuple(readings), end=end)


def setup(plan: Plan, first: Settings, *cuts: TrialCut) -> SetUp:
    """A set-up with these cuts."""
    return SetUp(1, plan, first, first, STARTED, cuts=cuts)
