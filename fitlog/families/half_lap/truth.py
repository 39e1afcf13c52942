"""What a simulated half-lap hides, and what is invented for it: see `simulation.simulated` for what
each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from ..flip import truth as shared
from ..flip.names import FACES, SHOULDER
from ..flip.truth import season, shown, shown_by, stands_for
from .joint import LapJoint
from .names import set_to
from .plan import LapPlan

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

ANOTHER, CLOSED, TUNED, USUAL = shared.ANOTHER, shared.CLOSED, shared.TUNED, shared.USUAL
CAUSES, START_BIAS = shared.CAUSES, shared.START_BIAS
STEPS: Mapping[Aspect, float] = {FACES: 0.1, SHOULDER: 0.2}


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Everything is a straight line."""
    return shared.misfits(LapJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The height."""
    return shared.fitting(LapJoint(plan), drawn, set_to(1.0, 1.0))


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """None is measured by itself."""
    raise AssertionError("nothing is cut in waste here")


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> LapPlan:
    """Two parts alike."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    parts = bit, stock, pin_stock, machine
    return LapPlan(*parts, *sizes, in_play, words_only, depth=pin_stock.width)


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
