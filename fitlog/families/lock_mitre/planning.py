"""What is decided before the first cut of a lock mitre: how long the parts are; see
`families.planning`.
"""

from __future__ import annotations

from ...texts import tell
from ..planning import OUTSIDE, Draft, Planned, parts
from .boards import MitreJob

FIGURES = OUTSIDE


def planned(draft: Draft) -> Planned:
    """Every part goes from outside to outside, longer by what its ends will be shortened."""
    job = draft.job
    assert isinstance(job, MitreJob)
    long, short = (
        ("flat", "outside_length", job.longer),
        ("upright", "outside_width", job.longer),
    )
    table = parts(draft, tell("the box's outside size"), long, short)
    ruler, notes = draft.ruler, list[str]()
    if job.longer:
        told = tell(
            "Each part is {longer} longer: its ends are shortened by as much.",
            longer=ruler.length(job.longer),
        )
        notes.append(told)
    else:
        notes.append(tell("Cut every part to its outside length: a mitre takes nothing off it."))
    thick = ruler.length(draft.plan.tail_thickness)
    notes.append(
        tell("Plane flats and uprights together to one thickness, {thick} here.", thick=thick)
    )
    return Planned((table,), {}, tuple(notes))
