"""What a simulated box joint on a sled hides, and what is invented for it: see
`simulation.simulated` for what each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn
from ..fingers import truth as shared
from ..fingers.names import FIT
from ..fingers.truth import ANOTHER, CLOSED, USUAL, season, shown, shown_by, slot, stands_for
from .figures import KEY_UNDER
from .joint import BoxJoint
from .names import EDGES, set_to
from .plan import BoxPlan

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

CAUSES = (*shared.CAUSES, "key gap", "runner", "starter", "sled height")
STEPS: Mapping[Aspect, float] = {FIT: 0.1, EDGES: 0.1, **shared.STEPS}
TUNED: Mapping[tuple[str, str, str], Mapping[Aspect, float]] = {}
START_BIAS = 0.06  # straight bits run small


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """Everything is a straight line."""
    return shared.misfits(BoxJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The key gap, by the play that is left for the settings to make."""
    return shared.fitting(BoxJoint(plan), drawn, set_to(1.0, 1.0, 1.0))


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> BoxPlan:
    """A key that goes into its slot, the gap set to the tooth."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    key = bit.diameter - KEY_UNDER
    parts = bit, stock, pin_stock, machine
    return BoxPlan(*parts, *sizes, in_play, words_only, key_width=key)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """A cutter and boards of the shop."""
    bit, stock = shared.drawn_from(draw)
    return shared.of_width(plan_for(bit, stock, stock, machine, in_play, words_only), share)
