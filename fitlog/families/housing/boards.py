"""The real sides and shelves of a case with housings: where each housing lies, how long the shelf
is, which block moves the bit on; see `families.boards.Boarded`.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...advice.decision import decide
from ...advice.history import History
from ...domain import Advice, Remark, SetUp, adjusters, remark
from ...domain.standing import for_real_boards, standing
from ...errors import Refused
from ..bits import diameter
from ..sheets.boards import (
    Place,
    SheetJob,
)
from ..sheets.names import HEIGHT
from .craft import cautions
from .geometry import shelf_length
from .names import FIT, SECOND
from .plan import HousingPlan, housing

FENCE = "fence"  # the part of the machine
MOST = 50  # housings of one side


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> SheetJob:
    """tails: how many housings a side has; None: one."""
    plan, settings = housing(setup.plan), for_real_boards(setup, advice)
    dial = settings.on_scale(plan.machine)
    known = decide(setup, past).known
    heard = known.past.of(FIT).and_(known.measured)
    bit = plan.bit.diameter + heard.law([diameter(plan.bit)]).mean
    places = tuple(_places(plan, bit, _count(plan, tails)))
    lengths = [("spacer", settings[SECOND])]
    if plan.clear_width is not None:
        lengths.append(("shelf", shelf_length(plan.clear_width, plan.depth)))
    shelves: tuple[Remark, ...] = (remark("shelf-sorted"),)
    if plan.clear_width is not None:
        cut = remark("shelf-cut", shelf=lengths[-1][1], clear=plan.clear_width, depth=plan.depth)
        shelves = (cut, *shelves)
    return SheetJob(
        setup,
        advice.status,
        settings,
        (),
        cautions(plan, None),
        standing(setup, advice),
        tuple(lengths),
        places,
        (
            (
                "Sides",
                (
                    remark("sides-one-edge"),
                    remark("sides-first", height=dial[HEIGHT]),
                    remark("sides-second", second=settings[SECOND]),
                ),
            ),
            ("Shelves", shelves),
        ),
    )


def _places(plan: HousingPlan, bit: float, count: int) -> Iterator[Place]:
    """Where the housings lie. bit: the width that one pass really cuts, mm."""
    if plan.place is None:
        return
    can = adjusters.adjuster(plan.machine, FENCE, positive=True)
    zero = plan.machine.zero(FENCE) if plan.machine else 0.0
    for number in range(1, count + 1):
        near = plan.place + (number - 1) * (plan.spacing or 0.0)
        exact = near + bit / 2
        stands = can.nearest(exact)
        yield Place(number, near, exact + zero, stands + zero, stands - exact)


def _count(plan: HousingPlan, asked: int | None) -> int:
    """How many housings a side has; refuse several whose places nobody said."""
    if asked is None or asked == 1:
        return 1
    if plan.place is None or plan.spacing is None or not 1 <= asked <= MOST:
        raise Refused(
            "no-layout",
            "nothing says where {count} housings lie",
            "give 1 to {most}, and start it again with --given place=L and --given spacing=L",
            count=asked,
            most=MOST,
        )
    return asked
