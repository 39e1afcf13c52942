"""The craft of the invented pegs: see `advice.craft` for what each function promises."""

from __future__ import annotations

from fitlog.advice.history import History
from fitlog.advice.opening import first_from
from fitlog.domain import Plan, Settings

from .joint import PegsPlan, set_to


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A peg of a third of the spacing, through the whole board."""
    assert isinstance(plan, PegsPlan)
    return first_from(plan, set_to(plan.spacing / 3, plan.tail_thickness), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """Where the key gap begins, mm."""
    return first_settings(plan, past, by)["key_gap"]
