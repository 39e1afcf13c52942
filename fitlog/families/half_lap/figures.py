"""The assumed figures of a half-lap. Lengths in mm; common practice, no source."""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..flip import figures as shared
from ..flip.names import FACES, SHOULDER

FACES_WINDOW = Window(-0.05, 0.15)  # a little proud is planed off, a hollow is not
SHOULDER_WINDOW = Window(-0.60, 0.0)
WEB_READ = 0.03  # a caliper over a thin web
LEFT = 3.0  # of a part, behind its recess

SCALES: dict[Aspect, Scale] = {
    FACES: shared.steps(FACES_WINDOW.low, FACES_WINDOW.high),
    SHOULDER: shared.shoulders(SHOULDER_WINDOW.low, SHOULDER_WINDOW.high),
}


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": SCALES[aspect].edges}
