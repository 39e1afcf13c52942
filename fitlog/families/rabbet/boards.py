"""The real sides with a rabbet: see `families.boards.Boarded`."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Advice, SetUp, remark
from ...domain.standing import for_real_boards, standing
from ..sheets.boards import (
    SheetJob,
    require_plain,
)
from ..sheets.names import HEIGHT
from .craft import cautions
from .names import FENCE
from .plan import rabbet


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> SheetJob:
    """tails: there are none."""
    require_plain(tails)
    plan, settings = rabbet(setup.plan), for_real_boards(setup, advice)
    dial = settings.on_scale(plan.machine)
    cut = remark("sides-rabbet", exposure=dial[FENCE], height=dial[HEIGHT])
    left = plan.tail_thickness - plan.depth
    fit = remark("back-size", bearing=plan.bearing) if plan.back else remark("mates-sorted")
    return SheetJob(
        setup,
        advice.status,
        settings,
        (),
        cautions(plan, None),
        standing(setup, advice),
        (("left", left),),
        (),
        (("Sides", (cut,)), ("Back" if plan.back else "Mates", (fit,))),
    )
