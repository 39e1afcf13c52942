"""What is decided before the first cut of a housing: where they lie along the side, what is left
between them, how long the shelves are; see `families.planning`.
"""

from __future__ import annotations

from collections.abc import Mapping

from ...texts import tell
from ..planning import Draft, Planned, nothing
from ..rows import FIGURES, spread
from ..sheets.boards import SheetJob
from ..tables import Table
from .plan import housing

__all__ = ["FIGURES", "planned"]

COLUMNS: Mapping[str, str] = {
    "housing": "housing",
    "near_wall": "near wall",
    "fence": "fence",
    "between": "clear before it",
}


def planned(draft: Draft) -> Planned:
    """Housings evenly apart, or as their place and spacing were said."""
    job, plan, ruler = draft.job, housing(draft.plan), draft.ruler
    assert isinstance(job, SheetJob)
    side, sheet = draft.sizes.get("side"), plan.boards()["sheet"]
    shelf = dict(job.lengths).get("shelf")
    lengths = {} if shelf is None else {"shelf, end to end": shelf}
    figures, notes = dict[str, float](), list[str]()
    if side is not None:
        found = [near for _, near, _ in spread(draft, side, sheet)]
        figures = {"place": found[0]}
        figures |= {"spacing": found[1] - found[0]} if len(found) > 1 else {}
        again = draft.anew(figures, len(found))
        assert isinstance(again, SheetJob)
        job = again
        left = side - found[-1] - sheet
        notes.append(tell("Behind the last sheet {left} are left.", left=ruler.length(left)))
    elif plan.place is None and not lengths:
        remedy = "give --given side=L with --given shelves=N, or --given clear-width=L"
        raise nothing(plan.joint, tell("the side's length or the clear width"), remedy)
    rows, before = [], 0.0
    for place in job.places:
        rows.append((place.number, place.near, place.fence, place.near - before))
        before = place.near + sheet
    notes.append(
        tell(
            "A housing is {deep} deep, which leaves {left} of the side.",
            deep=ruler.length(plan.depth),
            left=ruler.length(plan.tail_thickness - plan.depth),
        )
    )
    table = Table("housings", "Along the side, from its reference edge", dict(COLUMNS), tuple(rows))
    return Planned((table,) if rows else (), lengths, tuple(notes), figures)
