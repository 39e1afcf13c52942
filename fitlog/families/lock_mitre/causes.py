"""Why a lock mitre's two pairs differ from their printed figures: the terms of their offsets.

A setting counts twice in its pair. Corner and fit have no offset of their own.
"""

from __future__ import annotations

from ... import defaults
from ...domain import Aspect
from ...estimator.evidence import Term
from . import figures
from .names import FENCE, HEIGHT
from .plan import MitrePlan


def causes(plan: MitrePlan, aspect: Aspect) -> tuple[Term, ...]:
    """Return the terms of an aspect's offset."""
    if aspect == HEIGHT:
        return (
            *_height_zero(plan),
            Term(("thickness", plan.stock.name), -1.0, 0.0, figures.THICKNESS),
            Term(("height day",), 2.0, 0.0, figures.HEIGHT_DAY, own=True),
        )
    if aspect == FENCE:
        return (
            *_fence_zero(plan),
            Term(("thickness", plan.pin_stock.name), -1.0, 0.0, figures.THICKNESS),
            Term(("fence day",), 2.0, 0.0, figures.FENCE_DAY, own=True),
        )
    return ()


def _height_zero(plan: MitrePlan) -> tuple[Term, ...]:
    """The profile's middle below the bit's top is the bit's, whatever it is sharpened; to bring it
    to a line by eye, or up to a kept end, is another error each time.
    """
    if plan.set_by != "gauge":
        return (_anew(plan, "middle height"),)
    shop = plan.machine.name if plan.machine else ""
    return (
        Term(("profile height", plan.bit.name), 2.0, 0.0, figures.MIDDLE),
        Term(("height zero", shop), 2.0, 0.0, defaults.HEIGHT_ZERO),
    )


def _fence_zero(plan: MitrePlan) -> tuple[Term, ...]:
    """The middle inside the rim changes when the rim is ground."""
    if plan.set_by != "gauge":
        return (_anew(plan, "middle reach"),)
    shop, bit = plan.machine.name if plan.machine else "", plan.bit
    return (
        Term(("profile reach", bit.name, str(bit.sharpenings)), 2.0, 0.0, figures.MIDDLE),
        Term(("exposure zero", shop, "rod"), 2.0, 0.0, figures.REACH_ZERO),
    )


def _anew(plan: MitrePlan, what: str) -> Term:
    sd = figures.BY_EYE if plan.set_by == "eye" else figures.BY_BLOCKS
    return Term((what, plan.set_by), 2.0, 0.0, sd, own=True)
