"""The assumed figures of a tongue and groove. Lengths in mm; where no source is named, common
practice, no source.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..flip import figures as shared
from ..flip.names import FACES, FIT, SHOULDER
from ..half_blind import figures as fits
from .names import LONG, PANEL, STUB
from .plan import TonguePlan

FIT_EDGES = {
    "": fits.FIT_EDGES,
    LONG: fits.FIT_EDGES_MANY_TAILS,
    PANEL: shared.FREE_EDGES,
    STUB: shared.PUSH_EDGES,
}
FIT_WINDOWS = {
    "": fits.FIT_WINDOW,
    LONG: fits.FIT_WINDOW_MANY_TAILS,
    PANEL: shared.FREE_WINDOW,
    STUB: shared.PUSH_WINDOW,
}
FACES_WINDOW = Window(-0.15, 0.15)
SHOULDER_WINDOW = Window(-1.6, -0.3)  # a groove deeper by up to 1/16 in: a joinery page
DEPTH_SHARE = 1 / 3  # of the board's thickness that a groove is deep; a guess

FIRST_BEYOND = 0.30  # of the middle, that the bit stands to begin with
LEAST_WALL = 3.0  # of a board beside a groove in one pass
LEAST_BEYOND = 0.15  # nearer, the sign of a move is not sure
BEYOND_SURE = 2.0  # sds of the fence's doubt by which it is to be beyond that
RIDGE = 0.5  # by which two passes must overlap, or a ridge stays between them


def scales(plan: TonguePlan) -> dict[Aspect, Scale]:
    """Return what is assumed of a plan's aspects."""
    return {
        FIT: shared.fitting(FIT_EDGES[plan.word_set], FIT_WINDOWS[plan.word_set]),
        FACES: shared.steps(FACES_WINDOW.low, FACES_WINDOW.high),
        SHOULDER: shared.shoulders(SHOULDER_WINDOW.low, SHOULDER_WINDOW.high),
    }


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    other = {FACES: shared.STEP_EDGES, SHOULDER: shared.SHOULDER_EDGES}
    return dict(FIT_EDGES) if aspect == FIT else {"": other[aspect]}
