"""The real boards of tenons: see `families.boards.Boarded`."""

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
from .plan import tenon

SIZES: dict[str, Limit] = {}
MIDDLES: tuple[str, ...] = ()


def planned(
    wish: Wish, learnt: Callable[[Plan], History], by: str, ruler: Ruler, *, every: bool
) -> object:
    """There is no layout to choose."""
    raise no_layout("tenon")


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
