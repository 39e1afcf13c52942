"""The use cases around the real boards: which layout, and where the fence goes for it. Nothing here
prints or asks.
"""

from __future__ import annotations

from collections.abc import Sequence

from .. import defaults
from ..advice import advise
from ..advice.craft import craft_of
from ..advice.history import History
from ..domain import Bit, Machine, Plan, SetUp, Stock
from ..domain.standing import for_real_boards, standing
from ..errors import Refused
from ..families.boards import Batch, Job, Wish, batched, boards_of, laid_out, tells_of_boards
from .bench import Workbench


def planned(bench: Workbench, joint: str, wish: Wish, *, every: bool = False) -> object:
    """Return the best layouts, or every one, for the family's own screen.

    Raises Refused: other-joint, no-layout, or why none of the bits can cut these boards at all.
    """

    def learnt(plan: Plan) -> History:
        return learnt_of(bench, plan.bit, plan.machine, (plan.stock, plan.pin_stock))

    return laid_out(joint).planned(wish, learnt, bench.by, bench.ruler, every=every)


def learnt_of(
    bench: Workbench, bit: Bit, machine: Machine | None, stocks: Sequence[Stock]
) -> History:
    """Return what finished set-ups teach of work with these, that is not begun."""
    return History(
        bench.log.finished(
            bit=bit.name,
            machine=machine.name if machine else None,
            stocks=[stock.name for stock in stocks],
            people={bench.by},
            newest=defaults.HISTORY_NEWEST,
            pieces=defaults.HISTORY_PIECES,
        )
    )


def real_boards(bench: Workbench, setup: SetUp, tails: int | None, batch: Batch = Batch()) -> Job:
    """Return where the cutter goes for the real boards of a set-up, and what to do before each
    part.

    tails: how many; None: as the set-up says, or as its figures give. batch: other boards than the
    set-up's own, and which are to be cut. Raises Refused: undone-setup, other-joint, no-layout,
    absurd-size, and as `Boarded.real_boards`.
    """
    _live(setup)
    past = bench.past(setup)
    advice = advise(setup, past)
    if batch == Batch():
        return boards_of(setup.plan.joint).real_boards(setup, advice, past, tails)
    return batched(setup.plan.joint).batch_of_boards(setup, advice, past, tails, batch)


def taking(bench: Workbench, setup: SetUp, widths: Sequence[float]) -> object:
    """Return which of some widths, mm, take a set-up's figures; its own where there are none.
    Raises Refused: undone-setup, other-joint.
    """
    _live(setup)
    own = batched(setup.plan.joint, "taking")
    widths = widths or (setup.plan.board_width,)
    return own.taking(setup, advise(setup, bench.past(setup)), widths)


def _live(setup: SetUp) -> None:
    if setup.undone:
        raise Refused(
            "undone-setup",
            "set-up {number} was undone",
            "start a new one with fitlog start",
            "start another",
            number=setup.number,
        )


def for_sheet(bench: Workbench, setup: SetUp, tails: int | None, batch: Batch = Batch()) -> Job:
    """Return what a sheet tells of the real boards: where the family says no more, the settings.
    Raises Refused as `real_boards`.
    """
    plan = setup.plan
    if setup.undone or tails is not None or batch != Batch() or tells_of_boards(plan.joint):
        return real_boards(bench, setup, tails, batch)
    made = advise(setup, bench.past(setup))
    settings, care = for_real_boards(setup, made), craft_of(plan).cautions(plan, None)
    return Job(setup, made.status, settings, (), care, standing(setup, made))
