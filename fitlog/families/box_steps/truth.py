"""What a simulated box joint by steps hides, and what is invented for it: see
`simulation.simulated` for what each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from ..fingers import truth as shared
from ..fingers.names import FIT
from ..fingers.truth import ANOTHER, CLOSED, season, slot
from ..half_blind.rivals import USUAL, shown_by
from .joint import StepsJoint
from .names import CENTRE, set_to
from .plan import StepsPlan

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

CAUSES = (*shared.CAUSES, "pitch", "fence zero", "fence day", "height zero")
STEPS: Mapping[Aspect, float] = {FIT: 0.05, CENTRE: 0.2, **shared.STEPS}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.12  # straight bits run small, by half of this
_SPARE = 0.15  # mm: a pitch this much wider than two printed slots leaves a second pass to move


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Everything is a straight line."""
    return shared.misfits(StepsJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The second pass, by the play that is left for the settings to make."""
    return shared.fitting(StepsJoint(plan), drawn, set_to(0.0, 1.0, 1.0))


def stands_for(plan: Plan, drawn: Drawn) -> dict[Aspect, float]:
    """The extra width is twice the error of the centre."""
    return {**shared.stands_for(plan, drawn), CENTRE: 0.5}


def shown(
    plan: Plan, drawn: Drawn, settings: Settings, own: float, by: str
) -> tuple[Shown | None, float | None]:
    """The walls beside a slot of one pass, or the second pass after the turn."""
    error = misfits(plan, drawn, settings, own)[CENTRE]
    if by != "walls":
        return None, 2 * error if by == "turn" else None
    half = (plan.figures()["width"] - plan.bit.diameter - drawn.off["diameter"]) / 2
    return Shown("walls", half + error, half - error), None


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> StepsPlan:
    """A pitch a little wider than two slots."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    parts = bit, stock, pin_stock, machine
    return StepsPlan(*parts, *sizes, in_play, words_only, pitch=2 * bit.diameter + _SPARE)


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
    return shared.of_width(plan_for(bit, stock, stock, machine, in_play, words_only), share)
