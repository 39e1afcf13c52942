"""What is decided before the first cut of a half-lap: how long the parts are; see
`families.planning`.
"""

from __future__ import annotations

from ...texts import tell
from ..planning import OUTSIDE, Draft, Planned, parts
from .plan import lap

FIGURES = OUTSIDE


def planned(draft: Draft) -> Planned:
    """Parts that lap at their ends go from outside to outside."""
    across = lap(draft.plan).depth
    long, short = ("long part", "outside_length", 0.0), ("short part", "outside_width", 0.0)
    table = parts(draft, tell("the frame's outside size"), long, short)
    notes = (
        tell(
            "Parts lapped at their ends are as long as the frame outside; each lap takes {across} "
            "of them.",
            across=draft.ruler.length(across),
        ),
    )
    return Planned((table,), {"lap, along the part": across}, notes)
