"""Why a box joint on a key differs from its printed figures: the terms of each aspect's offset."""

from __future__ import annotations

from ...domain import Aspect
from ...estimator.evidence import Term
from ..bits import diameter
from ..fingers import figures as shared
from ..fingers.causes import ends_terms
from ..fingers.names import FIT
from ..springs import wood_terms
from . import figures
from .names import EDGES
from .plan import BoxPlan

# By how much the true gap is less than the set one with each mm that the slot is wider than the
# cutter's printed figure: not at all where the gap is measured to the tooth itself.
_GAP_SHRINKS = {"tooth": 0.0, "axis": 0.5, "far": 1.0}


def causes(plan: BoxPlan, aspect: Aspect, wood: str) -> tuple[Term, ...]:
    """Return the terms of an aspect's offset for pieces in `wood`."""
    shop, shrinks = plan.machine.name if plan.machine else "", _GAP_SHRINKS[plan.gap_from]
    if aspect == FIT:
        return (
            diameter(plan.bit, 1.0 + shrinks),
            gap_term(plan, -1.0),
            Term(("runner", shop), 1.0, 0.0, figures.RUNNER),
            *wood_terms(plan, wood),
            Term(("fit day",), 1.0, 0.0, shared.FIT_DAY, own=True),
        )
    if aspect == EDGES:
        return (
            diameter(plan.bit, (shrinks - 1.0) / 2),
            gap_term(plan, -0.5),
            Term(("starter", shop), 1.0, 0.0, figures.STARTER),
        )
    return ends_terms(Term(("sled height", shop), 1.0, 0.0, figures.SLED_HEIGHT))


def gap_term(plan: BoxPlan, factor: float) -> Term:
    """Return the error of the key gap as a cause, by the sled and what it is set with."""
    shop = plan.machine.name if plan.machine else ""
    return Term(("key gap", shop, plan.gap_by), factor, 0.0, figures.GAP[plan.gap_by])
