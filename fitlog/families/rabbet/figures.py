"""The assumed figures of a rabbet: words, windows and limits. Lengths in mm; where no source is
named, common practice, no source.
"""

from __future__ import annotations

from ... import defaults
from ...domain import Aspect, Window
from ..base import Scale
from ..sheets import figures as shared
from ..sheets.names import DEPTH
from .names import FACE
from .plan import RabbetPlan

FACE_WINDOW = Window(0.0, 0.2)  # of a mate that stands proud, which is planed off
BACK_WINDOW = Window(0.0, 0.3)  # of a cut too deep for its back, which then lies shy
SHARE = 1 / 2  # of the side's thickness, how deep it is usually cut
WIDTH_READ = defaults.CALIPER
# How well the exposure is known, by how it is measured: a trial shaving, a depth rod, by eye.
EXPOSURE = {"shaving": 0.03, "rod": 0.10, "eye": 0.30}


def scales(plan: RabbetPlan) -> dict[Aspect, Scale]:
    """Return what is assumed of a plan's aspects."""
    deep = BACK_WINDOW if plan.back else Window(-shared.TOLERANCE, shared.TOLERANCE)
    return {
        FACE: Scale(shared.STEP_EDGES, FACE_WINDOW, defaults.CALIPER, 4.0, shared.FAR_OFF),
        DEPTH: shared.depth_scale(deep.low, deep.high),
    }


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": shared.STEP_EDGES}
