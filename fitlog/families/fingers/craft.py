"""The craft that box joints share: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...advice.cautions import GENERAL, speed
from ...domain import Plan, Reading, Remark, Verdict, remark
from ...errors import Refused
from ..moisture import Board, moisture_remarks
from .figures import FIT_WINDOWS
from .names import ENDS
from .plan import FingerPlan


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """Refuse what nobody can say of a slot in waste: it has a width, and is no joint."""
    strange = [r.kind for r in readings if r.kind != "slot"]
    if not verdict.empty or later or strange or not readings:
        raise Refused(
            "bad-slot",
            "a slot in waste has a width and nothing else",
            "say how wide it is, measured in three places: fitlog cut --slot --read slot=WIDTH",
            "say how wide it is, measured in three places",
        )


def ends_from(plan: FingerPlan, sd: float, taught: int) -> Remark:
    """Return where the first height comes from. sd: how well it is known, mm."""
    thick, wanted = plan.figures()["met"], plan.wanted_step
    return remark("ends-from", ENDS, thick=thick, wanted=wanted, taught=taught, sd=sd)


def always(plan: Plan, *own: Remark) -> tuple[Remark, ...]:
    """Return all cautions, for `start`. own: those of one way to space the fingers."""
    return (*GENERAL, *own, speed(plan))


def wood_notices(plan: FingerPlan) -> tuple[Remark, ...]:
    """Return what the moisture of the boards calls for."""
    one = Board(plan.stock.species, plan.stock.sawn, plan.moisture)
    other = Board(plan.pin_stock.species, plan.pin_stock.sawn, plan.pin_moisture)
    middle = FIT_WINDOWS[plan.word_set].middle
    return moisture_remarks(one, other, plan.board_width, plan.board_width - plan.spacing, middle)
