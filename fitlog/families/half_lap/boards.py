"""The real boards of half-laps: see `families.boards.Boarded`."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Advice, SetUp, remark
from ..flip.boards import FlipJob, cut_all, job, settings_for
from .craft import cautions
from .plan import lap


def real_boards(setup: SetUp, advice: Advice, past: History, tails: int | None) -> FlipJob:
    """All parts at one height."""
    plan, settings = lap(setup.plan), settings_for(setup, advice, tails)
    sections = (
        ("Parts", (remark("lap-length", across=plan.depth),)),
        ("Laps", cut_all(plan, settings)),
    )
    return job(setup, advice, settings, {}, sections, cautions(plan, None))
