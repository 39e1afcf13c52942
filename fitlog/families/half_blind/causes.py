"""Why a joint's misfit differs from its printed figures: the terms of each aspect's offset, with
their prior.

First-order propagation (GUM, JCGM 100:2008, 5.1.2) through the sensitivities of `half_blind`.
"""

from __future__ import annotations

from ... import defaults
from ...domain import Aspect, Bit
from ...estimator.evidence import Term
from ..bits import angle, diameter
from ..springs import wood_terms
from . import figures
from .centring import fence_terms, pitch_term
from .geometry import slope_clearance_angle, slope_clearance_height
from .plan import DovetailPlan


def causes(plan: DovetailPlan, aspect: Aspect, height: float, wood: str = "") -> tuple[Term, ...]:
    """Return the terms of the aspect's offset for pieces in `wood`: those of the fit depend a
    little on the bit height.
    """
    shop = plan.machine.name if plan.machine else ""
    if aspect == "fit":
        return (*_bit_terms(plan.bit, height), *_shop_terms(plan, shop, wood))
    if aspect == "centre":
        return fence_terms(shop, by_eye=plan.by_eye)
    return (
        Term(("socket zero", shop, plan.rabbet_bit), 1.0, 0.0, figures.SOCKET_ZERO),
        Term(("socket day",), 1.0, 0.0, figures.DAY_TO_DAY_SOCKET, own=True),
    )


def _bit_terms(bit: Bit, height: float) -> tuple[Term, Term]:
    return diameter(bit, 2.0), angle(bit, slope_clearance_angle(height, bit.theta))


def _shop_terms(plan: DovetailPlan, shop: str, wood: str) -> tuple[Term, ...]:
    return (
        pitch_term(shop, spaced=plan.spaced),
        Term(
            ("height zero", shop), slope_clearance_height(plan.bit.theta), 0.0, defaults.HEIGHT_ZERO
        ),
        *wood_terms(plan, wood),
        Term(("fit day",), 1.0, 0.0, figures.DAY_TO_DAY_FIT, own=True),
    )
