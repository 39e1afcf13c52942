"""The assumed figures of a housing: words, windows and limits. Lengths in mm; where no source is
named, common practice, no source.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..half_blind import figures as fits
from ..half_blind.names import MANY_TAILS
from ..sheets import figures as shared
from ..sheets.names import DEPTH
from .names import FIT, FLOATING
from .plan import HousingPlan

# What is pushed in is said as of dovetails; a panel that floats is said by how it moves.
FIT_EDGES = {**fits.word_sets(FIT), FLOATING: (0.0, 0.05, 0.15, 0.40, 0.60, 0.90)}
FIT_WINDOWS = {
    "": fits.FIT_WINDOW,
    MANY_TAILS: fits.FIT_WINDOW_MANY_TAILS,
    FLOATING: Window(0.15, 0.40),
}
SHARE = 1 / 3  # of the side's thickness, how deep it is usually cut
DEEPEST = 0.5  # of the same, at most


def scales(plan: HousingPlan) -> dict[Aspect, Scale]:
    """Return what is assumed of a plan's aspects."""
    words = plan.word_set
    return {
        FIT: Scale(FIT_EDGES[words], FIT_WINDOWS[words], shared.FEELER, 1.0, 0.4),
        DEPTH: shared.depth_scale(-shared.TOLERANCE, shared.TOLERANCE),
    }


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return dict(FIT_EDGES) if aspect == FIT else {"": shared.STEP_EDGES}
