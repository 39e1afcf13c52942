"""Why a cut for a sheet comes out otherwise than its printed figures: terms with their prior.

First-order propagation (GUM, JCGM 100:2008, 5.1.2).
"""

from __future__ import annotations

from ... import defaults
from ...estimator.evidence import Term
from . import figures
from .plan import SheetPlan


def sheet_terms(plan: SheetPlan, factor: float) -> tuple[Term, ...]:
    """Return what is not known of the sheet's thickness. factor: how much the offset moves with
    it; the batch of a sheet that goes by its label is learnt, one sheet is its own.
    """
    if plan.sheet is None:
        return (
            batch(plan, factor),
            Term(("within the sheet",), factor, 0.0, figures.BETWEEN, own=True),
        )
    sd = figures.AT_JOINT if plan.measured == "joint" else figures.BETWEEN
    return (Term(("sheet as measured",), factor, 0.0, sd, own=True),)


def batch(plan: SheetPlan, factor: float = 1.0) -> Term:
    """Return how far the sheets of a stock are over their label, mm, as a cause."""
    return Term(("sheet", plan.pin_stock.name), factor, figures.SOLD_UNDER, figures.BATCH)


def depth_terms(plan: SheetPlan) -> tuple[Term, ...]:
    """Return the terms of the depth's offset."""
    shop = plan.machine.name if plan.machine else ""
    return (
        Term(("height zero", shop), 1.0, 0.0, defaults.HEIGHT_ZERO),
        Term(("depth day",), 1.0, 0.0, figures.DAY, own=True),
    )


def day(name: str) -> Term:
    """Return what differs from set-up to set-up."""
    return Term((name,), 1.0, 0.0, figures.DAY, own=True)
