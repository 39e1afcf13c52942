"""The craft of the invented pegs: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fitlog.advice.history import History
from fitlog.advice.opening import first_from
from fitlog.domain import Plan, Settings, SetUp
from fitlog.families.wanted import Wanted

from .joint import PegsPlan, set_to


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> Plan:
    """As said, in the stock's own sizes."""
    made: Callable[..., Plan] = PegsPlan
    sizes, said = wanted.boards(), {"spacing": 30.0, **wanted.said()}
    return made(
        wanted.bit, wanted.stock, wanted.pin_stock, wanted.machine, *sizes, spacing=said["spacing"]
    )


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """A peg of a third of the spacing, through the whole board."""
    assert isinstance(plan, PegsPlan)
    return first_from(plan, set_to(plan.spacing / 3, plan.tail_thickness), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """Where the key gap begins, mm."""
    return first_settings(plan, past, by)["key_gap"]
