"""What joints that are cut along a fence, a pitch apart, have in common: how well its zero and its
steps are known, and which side of the middle is the safe one.
"""

from __future__ import annotations

from ... import defaults
from ...estimator.evidence import Term
from . import figures


def fence_terms(shop: str, *, by_eye: bool) -> tuple[Term, ...]:
    """Return the terms of the centre's offset. by_eye: not with a caliper."""
    way, sd = (
        ("eye", figures.FENCE_ZERO_BY_EYE) if by_eye else ("caliper", figures.FENCE_ZERO_MEASURED)
    )
    zero, day = Term(("fence zero", shop, way), 1.0, 0.0, sd), ("fence day",)
    return (zero, Term(day, 1.0, 0.0, figures.DAY_TO_DAY_FENCE, own=True))


def pitch_term(shop: str, *, spaced: bool) -> Term:
    """Return the error of the pitch as a cause of the fit. spaced: stepped by a spacer or block."""
    sd = figures.PITCH_BY_SPACER if spaced else figures.PITCH_BY_SCALE
    return Term(("pitch", shop, "spacer" if spaced else "scale"), -1.0, 0.0, sd)


def first_outside(sd: float) -> float:
    """Return how far too far out a first piece is cut at least, mm, its zero known to `sd`: the
    fence side is where a shaving can snatch.
    """
    if sd <= figures.FENCE_REMEMBERED:
        return 0.0
    return min(figures.START_OUTSIDE, max(0.0, 1.645 * sd - defaults.FENCE_SIDE_SHAVING / 2))


def may_stay(misfit: float) -> bool:
    """Tell whether a fence that is off by so much, mm, can be proposed again as it stands."""
    return abs(misfit) <= figures.MOST_SHAVING / 2
