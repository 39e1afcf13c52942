"""Why a sliding dovetail's misfit differs from its printed figures: the terms of each aspect's
offset, with their prior.

First-order propagation (GUM, JCGM 100:2008, 5.1.2) through the sensitivities of `geometry`.
"""

from __future__ import annotations

import math

from ... import defaults
from ...domain import Aspect
from ...estimator.evidence import Term
from ..bits import angle, diameter
from ..springs import wood_terms
from . import figures
from .geometry import slope_clearance_angle
from .names import FIT
from .plan import SlidingPlan


def causes(plan: SlidingPlan, aspect: Aspect, height: float, wood: str = "") -> tuple[Term, ...]:
    """Return the terms of the aspect's offset for pieces in `wood`, at a socket height."""
    shop = plan.machine.name if plan.machine else ""
    if aspect != FIT:
        # One lift at one height has one zero, which the shoulder does not feel.
        way = "two machines" if plan.two_machines else "one lift"
        sd = figures.TONGUE_ZERO_TWO_MACHINES if plan.two_machines else figures.TONGUE_ZERO
        return (
            Term(("tongue zero", shop, way), 1.0, 0.0, sd),
            Term(("chips",), 1.0, 0.0, figures.CHIPS, own=True),
        )
    theta = plan.bit.theta
    way, by_axis = plan.exposure_by, plan.faces / 2 if plan.to_axis else 0.0
    exposure = ("exposure zero", shop, way)
    return (
        diameter(plan.bit, 1.0 + by_axis),
        angle(plan.bit, slope_clearance_angle(height, theta)),
        Term(exposure, float(plan.faces), 0.0, figures.EXPOSURE_ZERO[way]),
        Term(("height zero", shop), -2 * math.tan(theta), 0.0, defaults.HEIGHT_ZERO),
        Term(("shelf thickness", plan.stock.name), -1.0, 0.0, figures.THICKNESS),
        *wood_terms(plan, wood),
        Term(("fit day",), 1.0, 0.0, figures.DAY_TO_DAY_FIT, own=True),
    )
