"""What is decided before the first cut of a sliding dovetail: where the sockets lie along the
panel, what is left between them, how long the shelves are; see `families.planning`.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...texts import tell
from ..planning import Draft, Planned, nothing
from ..rows import FIGURES, spread
from ..tables import Table
from .boards import Job
from .geometry import mouth
from .names import HEIGHT
from .plan import sliding

__all__ = ["FIGURES", "planned"]

COLUMNS: Mapping[str, str] = {
    "shelf": "shelf",
    "near_face": "near face",
    "middle": "socket's middle",
    "between": "clear before it",
    "wood": "wood before it",
}


def planned(draft: Draft) -> Planned:
    """Shelves evenly apart, from the panel's reference end."""
    job, plan, ruler = draft.job, sliding(draft.plan), draft.ruler
    assert isinstance(job, Job)
    side, thick = draft.sizes.get("side"), plan.tail_thickness
    if side is None and job.shelf is None:
        remedy = "give --given side=L with --given shelves=N, or --given clear-width=L"
        raise nothing(plan.joint, tell("the panel's length or the clear width"), remedy)
    tables: tuple[Table, ...] = ()
    notes = list[str]()
    if side is not None:
        rows, last = [], 0.0
        for number, near, clear in spread(draft, side, thick):
            middle = near + thick / 2
            # The socket is widest at its floor: so much is left of the panel there.
            wood = middle - last - plan.bit.diameter / (2 if number == 1 else 1)
            rows.append((number, near, middle, clear, wood))
            last = middle
        tables = (Table("sockets", "Along the panel, from its end", dict(COLUMNS), tuple(rows)),)
        left = side - last - thick / 2
        notes.append(tell("Behind the last shelf {left} are left.", left=ruler.length(left)))
    narrow = mouth(plan.bit.diameter, job.settings[HEIGHT], plan.bit.theta)
    notes.append(
        tell(
            "A socket is {mouth} wide at the face and {floor} at its floor, {height} deep.",
            mouth=ruler.length(narrow),
            floor=ruler.length(plan.bit.diameter),
            height=ruler.length(job.settings[HEIGHT]),
        )
    )
    lengths = {} if job.shelf is None else {"shelf, end to end": job.shelf}
    return Planned(tables, lengths, tuple(notes))
