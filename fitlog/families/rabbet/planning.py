"""What is decided before the first cut of a rabbet: how long sides and mates are, or how large the
back; see `families.planning`.
"""

from __future__ import annotations

from ...texts import tell
from ..planning import OUTSIDE, Draft, Planned, parts
from ..sheets.names import HEIGHT
from ..tables import Table
from .names import FENCE
from .plan import rabbet

FIGURES = OUTSIDE


def planned(draft: Draft) -> Planned:
    """The sides go from outside to outside, the mates end at the rabbets' floors; a back bears in
    rabbets all around.
    """
    plan, settings, ruler = rabbet(draft.plan), draft.job.settings, draft.ruler
    thick, lacks = plan.tail_thickness, tell("the outside size")
    if plan.back:
        taken = -2 * (thick - settings[FENCE])
        both = (
            ("back, one way", "outside_length", taken),
            ("back, the other way", "outside_width", taken),
        )
        found = parts(draft, lacks, *both)
        table = Table(*found[:3], tuple((called, 1, mm) for called, _, mm in found.rows))
        left = thick - settings[FENCE]
        told = tell("Outside the back {left} of the side stay.", left=ruler.length(left))
        return Planned((table,), {}, (told,))
    left = thick - settings[HEIGHT]
    sides = ("side", "outside_length", 0.0)
    table = parts(draft, lacks, sides, ("mate", "outside_width", -2 * left))
    told = tell(
        "A mate ends at the rabbet's floor: {left} of each side stay outside it.",
        left=ruler.length(left),
    )
    return Planned((table,), {"left under the rabbet": left}, (told,))
