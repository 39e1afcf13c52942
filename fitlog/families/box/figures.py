"""The assumed figures of a box joint on a sled with a key. Lengths in mm; standard uncertainties
unless said; where no source is named, common practice, no source.
"""

from __future__ import annotations

from ...domain import Aspect, Window
from ..base import Scale
from ..fingers import figures as shared
from .names import EDGES
from .plan import BoxPlan

EDGE_EDGES = (-0.60, -0.20, -0.10, 0.10, 0.20, 0.60)  # level: within a paper's thickness
EDGE_WINDOW = Window(-0.10, 0.10)
GAP = {"caliper": 0.05, "gauge": 0.02, "rule": 0.25}  # of the key gap, by what it is set with
STARTER = 0.03
RUNNER = 0.03  # play of the sled in its slot
SLED_HEIGHT = 0.05  # of a cutter above the sled's base
KEY_UNDER = 0.10  # by which a key is narrower than the cutter, where nobody measured it


def scales(plan: BoxPlan) -> dict[Aspect, Scale]:
    """Return what is assumed of a plan's aspects."""
    edges = Scale(EDGE_EDGES, EDGE_WINDOW, shared.STEP, 4.0, 1.0)
    return {**shared.scales(plan), EDGES: edges}


def word_sets(aspect: Aspect) -> dict[str, tuple[float, ...]]:
    """Return every set of edges between an aspect's words, mm, by `Plan.word_set`."""
    return {"": EDGE_EDGES} if aspect == EDGES else shared.word_sets(aspect)
