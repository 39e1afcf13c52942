"""The craft of the invented pegs: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from fitlog.advice.cautions import GENERAL
from fitlog.advice.decision import Decision
from fitlog.advice.history import History
from fitlog.advice.knowledge import Knowledge
from fitlog.advice.notices import sizes
from fitlog.advice.opening import first_from
from fitlog.domain import Aspect, Figures, Plan, Remark, Settings, SetUp
from fitlog.families.wanted import Wanted

from .joint import PegsPlan, set_to

__all__ = ["notices"]

notices = sizes


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> Plan:
    """As said, in the stock's own sizes."""
    said = {"spacing": 30.0, **wanted.said()}
    made: Callable[..., Plan] = PegsPlan
    sizes = wanted.boards()
    return made(
        wanted.bit, wanted.stock, wanted.pin_stock, wanted.machine, *sizes, spacing=said["spacing"]
    )


def changed(wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
    assert isinstance(base, PegsPlan) and isinstance(plan, PegsPlan)
    return () if base.spacing == plan.spacing or "spacing" in wanted.said() else ("spacing",)


def alike(one: Plan, other: Plan) -> bool:
    assert isinstance(one, PegsPlan) and isinstance(other, PegsPlan)
    return one.spacing == other.spacing


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    assert isinstance(plan, PegsPlan)
    return first_from(plan, set_to(plan.spacing / 3, plan.tail_thickness), past, by)


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Nothing that is positive is impossible here."""


def shown_by(made: Decision) -> str:
    return ""


def recipe(plan: Plan, settings: Settings, shown_by: str) -> tuple[Remark, ...]:
    return ()


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    return GENERAL if moves is None else ()


def first_reason(known: Knowledge, aspect: Aspect) -> Remark | None:
    return None


def more_reasons(made: Decision) -> tuple[Remark, ...]:
    return ()


def start_at(plan: Plan, past: History, by: str = "") -> float:
    return first_settings(plan, past, by)["key_gap"]


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    return ()


def slot_saves(made: Decision) -> float | None:
    return None


def offer(made: Decision, saves: float | None) -> Iterable[Remark]:
    return ()
