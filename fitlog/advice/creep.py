"""Does the lead aspect creep through a run of real boards? Its offset and its drift over the joints
cut, from the pieces before the run and the joints looked at in it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .. import defaults
from ..domain import Piece
from ..estimator.run import Creep, Run, run_of
from .drift import roughly
from .knowledge import Knowledge
from .laws import nominal_of


def run_law(know: Knowledge, pieces: Sequence[Piece]) -> Run | None:
    """Return the law of the lead's offset and its drift; None where no joint of a run was looked
    at, or nothing was said of the lead in the wood of the last one.
    """
    plan = know.joint.plan
    lead = plan.family.lead
    if lead not in plan.in_play or not any(piece.check for piece in pieces):
        return None
    prior, taken = know.as_taken(lead)
    evidence, counts = roughly(know, lead, pieces, taken), counted(pieces)
    if not evidence:
        return None
    return run_of(
        prior,
        evidence,
        [counts[e.piece] for e in evidence],
        abs(know.joint.slope(lead, pieces[-1].settings)) * defaults.RUN_HEIGHT,
        defaults.RUN_DRIFT,
    )


def creep_of(run: Run | None, pieces: Sequence[Piece]) -> Creep | None:
    """Return the drift where it is told from noise, None elsewhere."""
    if run is None or run.drifts < defaults.FAULT_SURE:
        return None
    counts = counted(pieces)
    return Creep(run.drift, counts, max(counts.values()))


def likely_ahead(know: Knowledge, run: Run, pieces: Sequence[Piece], joints: int) -> list[float]:
    """Return the chances that so many joints, the last one that was looked at first, are good in
    the lead where that was cut.
    """
    lead, window = know.joint.plan.family.lead, know.joint.window(know.joint.plan.family.lead)
    at, now = nominal_of(know, lead, pieces[-1].settings), max(counted(pieces).values())
    found = run.within(
        at, (window.low, window.high), know.joint.piece_sd(lead), now + np.arange(float(joints))
    )
    return [float(chance) for chance in found]


def counted(pieces: Sequence[Piece]) -> dict[int, int]:
    """Return how many joints were cut when each piece was, by its number: a test piece cut in a run
    comes after what was cut by then.
    """
    found, joints = dict[int, int](), 0
    for piece in pieces:
        joints = max(joints, piece.after or 0)
        found[piece.number] = joints
    return found
