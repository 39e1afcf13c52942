"""What moisture does to joints cut from both faces: to parts that are not equally dry, and across
the grain of one that is held by another's length.

Wood Handbook (FPL-GTR-190, 2010), equation 13-2, through `wood`. Along the grain a part hardly
moves, so that a mortise's or a shoulder's length stays where the width between grows.
"""

from __future__ import annotations

from collections.abc import Iterator

from ... import defaults
from ...domain import Remark, Stock, remark
from .. import joint_of, wood
from . import figures
from .plan import FlipPlan


def parts_remarks(plan: FlipPlan, core: float) -> Iterator[Remark]:
    """Say when two parts that are not equally dry will fit otherwise once they are.

    core: what of the first one's thickness is held by the second, mm: on the day of the cut it fits
    as it was cut, afterwards each swells or shrinks by its own coefficient.
    """
    one, other = plan.moisture, plan.pin_moisture
    if one is None or other is None or abs(one - other) < defaults.METER_STEP:
        return
    found = [wood.through(s.species, s.sawn) for s in (plan.stock, plan.pin_stock)]
    if found[0] is None or found[1] is None:
        return
    lead = plan.family.lead
    apart = core * (found[0].value + found[1].value) / 2 * abs(one - other)
    if apart > joint_of(plan).stated_window(lead).half:
        yield remark("moisture-parts", lead, one=one, other=other, apart=apart)


def scrap_remarks(plan: FlipPlan, boards: int = 1) -> Iterator[Remark]:
    """Say when scrap of another moisture is thicker or thinner than the boards it was planed with.

    boards: whose thickness goes into the joint.
    """
    own, scrap = plan.moisture, plan.scrap_moisture
    if own is None or scrap is None or abs(own - scrap) < defaults.METER_STEP:
        return
    moves = wood.through(plan.stock.species, plan.stock.sawn)
    if moves is None:
        return
    thick, lead = plan.tail_thickness, plan.family.lead
    apart = boards * thick * moves.value * abs(own - scrap)
    if apart > joint_of(plan).stated_window(lead).half:
        yield remark("moisture-planed", lead, scrap=scrap, boards=own, apart=apart)


def across(stock: Stock, width: float, least: float) -> dict[str, float] | None:
    """Return how much a part moves in width over a year, by the names of its remark, mm; None for
    what is not worth a word. width: across the grain; least: that is worth one, mm.
    """
    moves = wood.coefficient(stock.species, stock.sawn)
    apart = 0.0 if moves is None else width * moves.value * figures.YEAR
    return {"apart": apart, "width": width, "year": figures.YEAR} if apart >= least else None
