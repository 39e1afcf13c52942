"""The assumed figures of a tenon by flipping. Lengths in mm; where no source is named, common
practice, no source.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..flip import figures as shared
from ..flip.names import FACES, FIT, SHOULDER

FACES_WINDOW = Window(-0.15, 0.15)
# A mortise 1/16 in deeper than its tenon is long was advised in print ("Popular Mechanics").
SHOULDER_WINDOW = Window(-2.5, -0.5)
MORTISE_MEASURED = 0.03
MORTISE_CHISEL = 0.05
LEAST_WALL = 3.0  # of the stile beside its mortise
DEPTH_SHARE = 1.5  # of the rail's thickness that a mortise is deep; a guess

SCALES: dict[Aspect, Scale] = {
    FACES: shared.steps(FACES_WINDOW.low, FACES_WINDOW.high),
    FIT: shared.fitting(shared.PUSH_EDGES, shared.PUSH_WINDOW),
    SHOULDER: shared.shoulders(SHOULDER_WINDOW.low, SHOULDER_WINDOW.high),
}


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": SCALES[aspect].edges}
