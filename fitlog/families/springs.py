"""How a fit differs from wood to wood: the causes that every family whose parts are pushed together
shares.
"""

from __future__ import annotations

import math
from dataclasses import replace

from .. import defaults
from ..domain import Plan
from ..estimator.evidence import Term


def wood_terms(plan: Plan, wood: str) -> tuple[Term, ...]:
    """Return how the wood springs and crushes: most of it goes with the species, the rest with the
    stock itself.

    Pieces cut in scrap (`wood`) teach of that material alone.
    """
    if wood:
        return (Term(("species", wood), 1.0, 0.0, defaults.STOCK_EFFECT),)
    species = (plan.stock.species.casefold(), plan.pin_stock.species.casefold())
    return (
        Term(("species", *species), 1.0, 0.0, defaults.SPECIES_SHARE * defaults.STOCK_EFFECT),
        Term(
            ("stock", plan.stock.name, plan.pin_stock.name),
            1.0,
            0.0,
            math.sqrt(1 - defaults.SPECIES_SHARE**2) * defaults.STOCK_EFFECT,
        ),
    )


def wood_difference(plan: Plan, wood: str, other: str) -> tuple[Term, ...]:
    """Return what is to be added to the fit's offset in `wood` for that in `other`."""
    if wood == other:
        return ()
    return (
        *wood_terms(plan, other),
        *(replace(t, factor=-t.factor) for t in wood_terms(plan, wood)),
    )
