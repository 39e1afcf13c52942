"""The real boards of tongues and grooves: see `families.boards.Boarded`."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Advice, SetUp, remark
from ..flip.boards import FlipJob, cut_all, job, settings_for
from ..flip.names import STOP
from .craft import cautions
from .names import FENCE
from .plan import tongue


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FlipJob:
    """All grooves, then all tongues."""
    plan, settings = tongue(setup.plan), settings_for(setup, advice, tails)
    fence = settings.on_scale(plan.machine)[FENCE]
    wide = None if plan.clear is None else plan.clear + settings[STOP]
    sections = (
        ("Boards", (remark("board-width", wide=wide, covers=plan.clear, tongue=settings[STOP]),)),
        ("Grooves", (remark("all-grooves", fence=fence, deep=plan.depth),)),
        ("Tongues", cut_all(plan, settings)),
    )
    lengths = {"board": wide} if wide is not None else {}
    return job(setup, advice, settings, lengths, sections, cautions(plan, None))
