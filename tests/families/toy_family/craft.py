"""The craft of the invented pegs: see `advice.craft` for what each function promises."""

from __future__ import annotations

from fitlog.advice.decision import Decision
from fitlog.advice.history import History
from fitlog.advice.opening import first_from
from fitlog.domain import Plan, Settings

from .joint import PegsPlan, set_to


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    assert isinstance(plan, PegsPlan)
    return first_from(plan, set_to(plan.spacing / 3, plan.tail_thickness), past, by)


def shown_by(made: Decision) -> str:
    return ""
