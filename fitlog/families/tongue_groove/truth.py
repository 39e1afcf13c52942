"""What a simulated tongue and groove hides, and what is invented for it: see `simulation.simulated`
for what each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...domain import Aspect, Bit, Machine, Plan, Settings, Stock
from ..drawn import Drawn, Shown
from ..flip import geometry
from ..flip import truth as shared
from ..flip.names import FIT
from ..flip.truth import season, shown, shown_by, stands_for
from .figures import DEPTH_SHARE
from .joint import TongueJoint
from .names import FENCE, set_to
from .plan import TonguePlan, tongue

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
CAUSES, START_BIAS, USUAL = shared.CAUSES, shared.START_BIAS, shared.USUAL


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """A straight line, but for the groove, which is wider on either side of the middle."""
    joint, grooved, width = TongueJoint(plan), plan.figures()["grooved"], plan.bit.diameter
    found = shared.misfits(joint, drawn, settings, own)
    beyond, at = joint.slope(FIT, settings, FENCE) / 2, _fence(drawn, settings)
    straight = width + 2 * beyond * (at - grooved / 2)
    if not tongue(plan).once:
        found[FIT] += geometry.groove(width, at, grooved) - straight
    return found


def _fence(drawn: Drawn, settings: Settings) -> float:
    """Where the fence truly stands, mm."""
    return settings[FENCE] + drawn.off.get("fence zero", 0.0)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The height, at a bit as far beyond the middle as it can be; one pass is no wider there."""
    joint = TongueJoint(plan)
    beyond = joint.limit(FENCE, set_to(1.0, 1.0, 1.0)).high
    return shared.fitting(joint, drawn, set_to(beyond, 1.0, 1.0))


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """The width of a groove."""
    width = plan.bit.diameter + drawn.off.get("diameter", 0.0)
    if tongue(plan).once:
        return Shown("groove", width)
    return Shown(
        "groove", geometry.groove(width, _fence(drawn, settings), plan.figures()["grooved"])
    )


def plan_for(
    bit: Bit,
    stock: Stock,
    pin_stock: Stock,
    machine: Machine | None,
    in_play: tuple[Aspect, ...],
    words_only: bool,
) -> TonguePlan:
    """Boards that are joined."""
    sizes = stock.width, stock.thickness, pin_stock.thickness
    parts, deep = (bit, stock, pin_stock, machine), DEPTH_SHARE * stock.thickness
    return TonguePlan(*parts, *sizes, in_play, words_only, depth=deep)


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
