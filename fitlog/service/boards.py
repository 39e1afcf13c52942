"""The use cases around the real boards: which layout, and where the fence goes for it. Nothing here
prints or asks.
"""

from __future__ import annotations

from .. import defaults
from ..advice import advise
from ..advice.history import History
from ..domain import Plan, SetUp, tail_count
from ..errors import Refused
from ..families.half_blind import boards
from ..families.half_blind.boards import Boards, Planned, Wish
from ..families.half_blind.layouts.job import Job
from .bench import Workbench

__all__ = ["Boards", "Planned", "Wish", "planned", "real_boards"]


def planned(bench: Workbench, wish: Wish, *, every: bool = False) -> Planned:
    """Return the best layouts, or every one.

    Raises Refused: no-layout, or why none of the bits can cut these boards at all.
    """

    def learnt(plan: Plan) -> History:
        return _learnt(bench, plan)

    return boards.planned(wish, learnt, bench.by, bench.ruler, every=every)


def _learnt(bench: Workbench, plan: Plan) -> History:
    at = plan.machine.name if plan.machine else None
    woods = [plan.stock.name, plan.pin_stock.name]
    return History(
        bench.log.finished(
            bit=plan.bit.name,
            machine=at,
            stocks=woods,
            people={bench.by},
            newest=defaults.HISTORY_NEWEST,
            pieces=defaults.HISTORY_PIECES,
        )
    )


def real_boards(bench: Workbench, setup: SetUp, tails: int | None) -> Job:
    """Return where the fence goes for the real boards of a set-up, and what to do before each part.

    tails: how many; None: as the set-up says, or as its pitch and width give. Raises Refused:
    undone-setup, no-layout, absurd-size.
    """
    tail_count(tails)
    if setup.undone:
        raise Refused(
            "undone-setup", f"set-up {setup.number} was undone", "start a new one with fitlog start"
        )
    past = bench.past(setup)
    return boards.real_boards(setup, advise(setup, past), past, tails, bench.ruler)
