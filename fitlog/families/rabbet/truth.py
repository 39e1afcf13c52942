"""What a simulated rabbet hides, and what is invented for it: see `simulation.simulated` for what
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
from .joint import RabbetJoint
from .names import FACE, set_to
from .plan import RabbetPlan

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
CAUSES = (*shared.CAUSES, "exposure zero", "fence day")
STEPS: Mapping[Aspect, float] = {FACE: 0.2, DEPTH: shared.DEPTH_STEP}
WIDE = Bit("plain 20", 20.0, 0.0, 25.0)
ABOUT = set_to(5.0, 5.0)


def misfits(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> dict[Aspect, float]:
    """The step of the face, and the depth."""
    return shared.misfits(RabbetJoint(plan), drawn, settings, own)


def fitting(plan: Plan, drawn: Drawn) -> float:
    """The exposure."""
    return shared.fitting(RabbetJoint(plan), drawn, ABOUT)


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
) -> RabbetPlan:
    """Half deep, the mate measured at the joint."""
    parts, depth = (bit, stock, pin_stock, machine), SHARE * stock.thickness
    sizes = stock.width, stock.thickness, pin_stock.thickness
    return RabbetPlan(*parts, *sizes, in_play, words_only, sheet=pin_stock.thickness, depth=depth)


def invented(
    draw: Sequence[float],
    share: float,
    machine: Machine,
    in_play: tuple[Aspect, ...],
    words_only: bool,
    bias: Mapping[str, float] | None,
) -> Plan:
    """A bit, a side and a mate of the shop."""
    _, side, sheet = shared.drawn_from(draw)
    plan = plan_for(WIDE, side, sheet, machine, in_play, words_only)
    return shared.of_sheet(plan, share)
