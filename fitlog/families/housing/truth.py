"""What a simulated housing hides, and what is invented for it: see `simulation.simulated` for what
each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Aspect, Plan, Settings
from ..drawn import Drawn, Shown
from ..sheets import truth as shared
from ..sheets.names import DEPTH
from .figures import SHARE
from .joint import HousingJoint
from .names import FIT, SECOND, SLOT, set_to
from .plan import HousingPlan

ANOTHER, CLOSED, START_BIAS = shared.ANOTHER, shared.CLOSED, shared.START_BIAS
TUNED, USUAL = shared.TUNED, shared.USUAL
season, stands_for = shared.season, shared.stands_for
shown, shown_by = shared.shown, shared.shown_by
CAUSES = (*shared.CAUSES, "fit day")
STEPS: Mapping[Aspect, float] = {FIT: 0.05, DEPTH: shared.DEPTH_STEP}
_SHOP = shared.Shop(HousingJoint, HousingPlan, SHARE, set_to(1.0, 1.0))
misfits, fitting = _SHOP.misfits, _SHOP.fitting
plan_for, invented = _SHOP.plan_for, _SHOP.invented


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """Its width, both passes."""
    return Shown(SLOT, plan.bit.diameter + drawn.off["diameter"] + settings[SECOND])
