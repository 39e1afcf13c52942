"""Why a part cut from both faces differs from its printed figures: causes that these joints share,
under the keys that every family has them by.
"""

from __future__ import annotations

from ... import defaults
from ...estimator.evidence import Term
from . import figures
from .plan import FlipPlan


def height_zero(plan: FlipPlan, factor: float) -> Term:
    """Return the error of the height as it is measured."""
    shop = _shop(plan)
    if plan.height_by == "eye":
        return Term(("height zero", shop, "eye"), factor, 0.0, figures.HEIGHT_BY_EYE)
    return Term(("height zero", shop), factor, 0.0, defaults.HEIGHT_ZERO)


def fence_zero(plan: FlipPlan, factor: float) -> Term:
    """Return the error of a fence measured by a caliper."""
    return Term(("fence zero", _shop(plan), "caliper"), factor, 0.0, figures.FENCE_ZERO)


def fence_day(factor: float) -> Term:
    """Return how a fence set anew on another day differs."""
    return Term(("fence day",), factor, 0.0, figures.FENCE_DAY, own=True)


def thickness(stock: str, factor: float) -> Term:
    """Return the error of a thickness as it was given."""
    return Term(("thickness", stock), factor, 0.0, figures.THICKNESS)


def shoulder_terms(plan: FlipPlan, depth: float = figures.DEPTH) -> tuple[Term, ...]:
    """Return the terms of a shoulder: the stop, and what it is measured against. depth: how well
    that is known, mm.
    """
    return (
        Term(("stop zero", _shop(plan)), 1.0, 0.0, figures.STOP_ZERO),
        Term(("depth",), -1.0, 0.0, depth, own=True),
    )


def fit_day() -> Term:
    """Return how a fit differs from day to day."""
    return Term(("fit day",), 1.0, 0.0, figures.FIT_DAY, own=True)


def _shop(plan: FlipPlan) -> str:
    return plan.machine.name if plan.machine else ""
