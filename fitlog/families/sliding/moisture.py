"""What the moisture of shelves and scrap does to a tongue: a shelf swells and shrinks in thickness,
and the play by as much.

Wood Handbook (FPL-GTR-190, 2010), equation 13-2, through `wood`. The slide's length moves alike on
shelf and panel, whose grain runs the same way across it.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...domain import Remark, remark
from ..moisture import Board, swelling
from .figures import FIT_WINDOWS
from .names import FIT
from .plan import SlidingPlan


def scrap_remarks(plan: SlidingPlan) -> Iterable[Remark]:
    """Say when scrap of another moisture fits otherwise than the shelves will."""
    boards, scrap = plan.moisture, plan.scrap_moisture
    shelf = Board(plan.stock.species, plan.stock.sawn, boards)
    apart = swelling(shelf, plan.tail_thickness, scrap)
    if apart > FIT_WINDOWS[plan.length_set].half:
        told = {"scrap": scrap, "boards": boards, "apart": apart}
        yield remark("moisture-shelf", FIT, **told, thick=plan.tail_thickness)
