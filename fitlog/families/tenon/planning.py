"""What is decided before the first cut of a tenon: which bit makes the mortise, how long the tenon
and the rail are; see `families.planning`.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...texts import tell
from ..boards import Job
from ..flip import planning as flip
from ..flip.boards import FlipJob
from ..flip.names import STOP
from ..planning import Draft, Planned
from ..typed import Figure
from .names import FENCE
from .plan import tenon

FIGURES: Mapping[str, Figure] = {}


def rank(job: Job) -> float:
    """A mortise a third as wide as the rail is thick."""
    return flip.off_a_third(_mortise(job), job.setup.plan)


def planned(draft: Draft) -> Planned:
    """The bits, the tenon's length by its mortise, and the rail's between the stiles."""
    job, plan, ruler = draft.job, tenon(draft.plan), draft.ruler
    assert isinstance(job, FlipJob)
    wall = min(job.settings[FENCE], plan.pin_thickness - job.settings[FENCE] - plan.mortise)
    lengths = {"tenon": job.settings[STOP], "mortise, deep": plan.depth}
    if plan.clear is not None:
        lengths |= {
            "rail, shoulder to shoulder": plan.clear,
            "rail, end to end": job.lengths["rail"],
        }
    notes = [
        flip.rule(draft, tell("tenon")),
        tell("Beside its mortise the stile keeps {wall}.", wall=ruler.length(wall)),
    ]
    if plan.clear is None:
        notes.append(tell("How long the rail is: --given clear=L, between the stiles."))
    table = flip.bits(draft, tell("Mortises by the bits at hand"), _mortise)
    return Planned((table,), lengths, tuple(notes))


def _mortise(job: Job) -> float:
    return tenon(job.setup.plan).mortise
