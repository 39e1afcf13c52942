"""What a simulated tenon hides, and what is invented for it: see `simulation.simulated` for what
each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from ..flip import truth as shared
from ..flip.truth import season, shown, shown_by, stands_for
from .figures import DEPTH_SHARE
from .joint import TenonJoint
from .names import set_to
from .plan import TenonPlan, tenon

__all__ = [
    "ANOTHER",
    "CAUSES",
    "CLOSED",
    "START_BIAS",
    "STEPS",
    "TUNED",
    "USUAL",
    "fitting",
    "invented",
    "misfits",
    "plan_for",
    "season",
    "shown",
    "shown_by",
    "slot",
    "stands_for",
]

ANOTHER, CLOSED, STEPS, TUNED = shared.ANOTHER, shared.CLOSED, shared.STEPS, shared.TUNED
CAUSES = (*shared.CAUSES, "mortise", "chisel")
START_BIAS, USUAL = shared.START_BIAS, shared.USUAL


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Everything is a straight line."""
    return shared.misfits(TenonJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The height."""
    return shared.fitting(TenonJoint(plan), drawn, set_to(1.0, 1.0, 1.0))


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """The width of a mortise."""
    return Shown("mortise", tenon(plan).mortise + drawn.off.get("diameter", 0.0))


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> TenonPlan:
    """A mortise by the same bit."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    parts, deep = (bit, stock, pin_stock, machine), DEPTH_SHARE * stock.thickness
    return TenonPlan(*parts, *sizes, in_play, words_only, depth=deep, mortise=bit.diameter)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """A bit and boards of the shop."""
    bit, stock = shared.drawn_from(draw)
    return shared.of_thickness(plan_for(bit, stock, stock, machine, in_play, words_only), share)
