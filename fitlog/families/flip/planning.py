"""Which bit suits a part cut from both faces: the trade takes a third of the thickness."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...domain import Plan
from ...texts import tell
from ..boards import Job
from ..planning import Draft
from ..tables import Table
from .figures import LEAST_WEB, WEB_SHARE

THIRD = 1 / 3  # of the thickness, for a tongue or a tenon; common practice, no source
COLUMNS: Mapping[str, str] = {
    "bit": "bit",
    "hollow": "hollow",
    "share": "of the thickness",
    "each_side": "left at each side",
}


def off_a_third(wide: float, plan: Plan) -> float:
    """Return how far a hollow is from a third of what goes into it, as a share of that."""
    return abs(wide / plan.tail_thickness - THIRD)


def bits(draft: Draft, heading: str, wide: Callable[[Job], float]) -> Table:
    """Return the bits that would do, the nearest to a third first. wide: the hollow that a bit
    makes, mm.
    """
    thick = draft.plan.tail_thickness
    jobs = sorted(
        (draft.job, *draft.others), key=lambda job: off_a_third(wide(job), job.setup.plan)
    )
    rows = tuple(
        (job.setup.plan.bit.name, wide(job), f"{wide(job) / thick:.0%}", (thick - wide(job)) / 2)
        for job in jobs
    )
    return Table("bits", heading, dict(COLUMNS), rows)


def rule(draft: Draft, part: str) -> str:
    """Return the trade's rule for these boards. part: what goes into the hollow."""
    thick, ruler = draft.plan.tail_thickness, draft.ruler
    return tell(
        "The trade makes a {part} a third of the thickness, here {third}; below {least} it is too "
        "weak.",
        part=part,
        third=ruler.length(THIRD * thick),
        least=ruler.length(max(LEAST_WEB, WEB_SHARE * thick)),
    )
