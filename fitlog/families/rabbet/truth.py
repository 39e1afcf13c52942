"""What a simulated rabbet hides, and what is invented for it: see `simulation.simulated` for what
each name promises.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Aspect, Bit, Plan, Settings
from ..drawn import Drawn, Shown
from ..sheets import truth as shared
from ..sheets.names import DEPTH
from .figures import SHARE
from .joint import RabbetJoint
from .names import FACE, set_to
from .plan import RabbetPlan

ANOTHER, CLOSED, START_BIAS = shared.ANOTHER, shared.CLOSED, shared.START_BIAS
TUNED, USUAL = shared.TUNED, shared.USUAL
season, stands_for = shared.season, shared.stands_for
shown, shown_by = shared.shown, shared.shown_by
CAUSES = (*shared.CAUSES, "exposure zero", "fence day")
STEPS: Mapping[Aspect, float] = {FACE: 0.2, DEPTH: shared.DEPTH_STEP}
_SHOP = shared.Shop(
    RabbetJoint, RabbetPlan, SHARE, set_to(5.0, 5.0), Bit("plain 20", 20.0, 0.0, 25.0)
)
misfits, fitting = _SHOP.misfits, _SHOP.fitting
plan_for, invented = _SHOP.plan_for, _SHOP.invented


def slot(plan: Plan, drawn: Drawn, settings: Settings, own: float) -> Shown:
    """None is measured by itself."""
    raise AssertionError("nothing is cut in waste here")
