"""Why the ends of fingers stand otherwise than their height says."""

from __future__ import annotations

from ...estimator.evidence import Term
from . import figures


def ends_terms(zero: Term) -> tuple[Term, ...]:
    """Return the terms of the ends' offset. zero: of the height."""
    return (
        zero,
        Term(("chips",), 1.0, 0.0, figures.CHIPS, own=True),
    )
