"""The real boards of tongues and grooves: see `families.boards.Boarded`."""

from __future__ import annotations

from collections.abc import Callable

from ...advice.history import History
from ...domain import Advice, Plan, SetUp, remark
from ...language.limits import Limit
from ...language.units import Ruler
from ..boards import Wish
from ..flip.boards import FlipJob, cut_all, job, no_layout, settings_for
from ..flip.names import STOP
from .craft import cautions
from .names import FENCE
from .plan import tongue

SIZES: dict[str, Limit] = {}
MIDDLES: tuple[str, ...] = ()


def planned(
    wish: Wish, learnt: Callable[[Plan], History], by: str, ruler: Ruler, *, every: bool
) -> object:
    """There is no layout to choose."""
    raise no_layout("tongue-groove")


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FlipJob:
    """All grooves, then all tongues."""
    plan, settings = tongue(setup.plan), settings_for(setup, advice, tails)
    fence = settings.on_scale(plan.machine)[FENCE]
    told = {"fence": fence, "deep": plan.depth}
    once = plan.once
    grooves = remark("all-grooves-once", **told) if once else remark("all-grooves", **told)
    wide = None if plan.clear is None else plan.clear + settings[STOP]
    sections = (
        ("Boards", (remark("board-width", wide=wide, covers=plan.clear, tongue=settings[STOP]),)),
        ("Grooves", (grooves,)),
        ("Tongues", cut_all(plan, settings)),
    )
    lengths = {"board": wide} if wide is not None else {}
    return job(setup, advice, settings, lengths, sections, cautions(plan, None))
