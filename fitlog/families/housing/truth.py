"""What a simulated housing hides, and what is invented for it: see `simulation.simulated` for what
each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from ..sheets import truth as shared
from ..sheets.names import DEPTH
from ..sheets.truth import season, shown, shown_by, stands_for
from .figures import SHARE
from .joint import HousingJoint
from .names import FIT, SECOND, SLOT, set_to
from .plan import HousingPlan

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
START_BIAS = shared.START_BIAS
CAUSES = (*shared.CAUSES, "fit day")
STEPS: Mapping[Aspect, float] = {FIT: 0.05, DEPTH: shared.DEPTH_STEP}


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Play and depth."""
    return shared.misfits(HousingJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The second pass."""
    return shared.fitting(HousingJoint(plan), drawn, set_to(1.0, 1.0))


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """Its width, both passes."""
    return Shown(SLOT, plan.bit.diameter + drawn.off["diameter"] + settings[SECOND])


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> HousingPlan:
    """A third deep, the sheet measured at the joint."""
    parts, depth = (bit, stock, pin_stock, machine), SHARE * stock.thickness
    sizes = stock.width, stock.thickness, pin_stock.thickness
    return HousingPlan(*parts, *sizes, in_play, words_only, sheet=pin_stock.thickness, depth=depth)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """A bit, a side and a sheet of the shop."""
    bit, side, sheet = shared.drawn_from(draw)
    return shared.of_sheet(plan_for(bit, side, sheet, machine, in_play, words_only), share)
