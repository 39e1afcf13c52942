"""What moisture does to joints cut from both faces: to parts that are not equally dry, and across
the grain of one that is held by another's length.

Wood Handbook (FPL-GTR-190, 2010), equation 13-2, through `wood`. Along the grain a part hardly
moves, so that a mortise's or a shoulder's length stays where the width between grows.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...domain import Remark, Stock, remark
from .. import joint_of, wood
from ..moisture import Board, swelling
from . import figures
from .plan import FlipPlan


def parts_remarks(plan: FlipPlan, core: float) -> Iterator[Remark]:
    """Say when two parts that are not equally dry will fit otherwise once they are.

    core: what of the first one's thickness is held by the second, mm: on the day of the cut it fits
    as it was cut, afterwards each swells or shrinks by its own coefficient.
    """
    one, other, lead = plan.moisture, plan.pin_moisture, plan.family.lead
    first = Board(plan.stock.species, plan.stock.sawn, one)
    second = Board(plan.pin_stock.species, plan.pin_stock.sawn, other)
    # Each comes half the way to the other's moisture; 0 where that is not known of one.
    halves = swelling(first, core / 2, other), swelling(second, core / 2, one)
    if all(halves) and sum(halves) > joint_of(plan).stated_window(lead).half:
        yield remark("moisture-parts", lead, one=one, other=other, apart=sum(halves))


def scrap_remarks(plan: FlipPlan, boards: int = 1) -> Iterator[Remark]:
    """Say when scrap of another moisture is thicker or thinner than the boards it was planed with.

    boards: whose thickness goes into the joint.
    """
    own, scrap, lead = plan.moisture, plan.scrap_moisture, plan.family.lead
    board = Board(plan.stock.species, plan.stock.sawn, own)
    apart = boards * swelling(board, plan.tail_thickness, scrap)
    if apart > joint_of(plan).stated_window(lead).half:
        yield remark("moisture-planed", lead, scrap=scrap, boards=own, apart=apart)


def across(stock: Stock, width: float, least: float) -> dict[str, float] | None:
    """Return how much a part moves in width over a year, by the names of its remark, mm; None for
    what is not worth a word. width: across the grain; least: that is worth one, mm.
    """
    moves = wood.coefficient(stock.species, stock.sawn)
    apart = 0.0 if moves is None else width * moves.value * figures.YEAR
    return {"apart": apart, "width": width, "year": figures.YEAR} if apart >= least else None
