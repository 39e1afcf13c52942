"""The real boards of tenons: see `families.boards.Boarded`."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Advice, SetUp, remark
from ..flip.boards import FlipJob, cut_all, job, settings_for
from ..flip.names import STOP
from .craft import cautions
from .names import FENCE
from .plan import tenon


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FlipJob:
    """All mortises from the face side, then all tenons."""
    plan, settings = tenon(setup.plan), settings_for(setup, advice, tails)
    fence = settings.on_scale(plan.machine)[FENCE]
    long = None if plan.clear is None else plan.clear + 2 * settings[STOP]
    sections = (
        ("Stiles", (remark("all-mortises", fence=fence, wide=plan.mortise, deep=plan.depth),)),
        ("Rails", (remark("rail-length", long=long, clear=plan.clear, tenon=settings[STOP]),)),
        ("Tenons", cut_all(plan, settings)),
    )
    lengths = {"rail": long} if long is not None else {}
    return job(setup, advice, settings, lengths, sections, cautions(plan, None))
