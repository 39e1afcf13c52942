"""The real boards of half-laps: see `families.boards.Boarded`."""

from __future__ import annotations

from collections.abc import Callable

from ...advice.history import History
from ...domain import Advice, Plan, SetUp, remark
from ...language.limits import Limit
from ...language.units import Ruler
from ..boards import Wish
from ..flip.boards import FlipJob, cut_all, job, no_layout, settings_for
from .craft import cautions
from .plan import lap

SIZES: dict[str, Limit] = {}
MIDDLES: tuple[str, ...] = ()


def planned(
    wish: Wish, learnt: Callable[[Plan], History], by: str, ruler: Ruler, *, every: bool
) -> object:
    """There is no layout to choose."""
    raise no_layout("half-lap")


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FlipJob:
    """All parts at one height."""
    plan, settings = lap(setup.plan), settings_for(setup, advice, tails)
    sections = (
        ("Parts", (remark("lap-length", across=plan.depth),)),
        ("Laps", cut_all(plan, settings)),
    )
    return job(setup, advice, settings, {}, sections, cautions(plan, None))
