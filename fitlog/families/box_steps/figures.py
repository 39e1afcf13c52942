"""The assumed figures of a box joint by steps of the fence. Lengths in mm; standard uncertainties
unless said; where no source is named, common practice, no source.
"""

from __future__ import annotations

from ... import defaults
from ...domain import Aspect
from ..base import Scale
from ..fingers import figures as shared
from ..half_blind import figures as centring
from .names import CENTRE
from .plan import StepsPlan

MOVED_ON = 0.02  # of a fence that is moved on for the second pass by a dial or a feeler
CENTRE_EDGES = (-centring.CENTRED, centring.CENTRED)


def scales(plan: StepsPlan) -> dict[Aspect, Scale]:
    """Return what is assumed of a plan's aspects; the centre's as of half-blind dovetails."""
    read, slips, far = defaults.CALIPER / 2, centring.SLIP_RANGE, centring.FAR_OFF_SD
    centre = Scale(CENTRE_EDGES, centring.CENTRE_WINDOW, read, slips[CENTRE], far[CENTRE])
    return {**shared.scales(plan), CENTRE: centre}


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": CENTRE_EDGES} if aspect == CENTRE else shared.word_sets(aspect)
