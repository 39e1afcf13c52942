"""The craft of the sliding dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Plan, Settings
from . import opening
from .cautions import cautions
from .notices import check, first_words, notices
from .opening import plan_of, start_at
from .plan import sliding
from .reasons import first_reason, more_reasons
from .recipe import recipe

__all__ = [
    "cautions",
    "check",
    "first_reason",
    "first_settings",
    "first_words",
    "more_reasons",
    "notices",
    "plan_of",
    "recipe",
    "start_at",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """Return the settings for the first piece; raise `Refused` where no setting is safe."""
    return opening.first_settings(sliding(plan), past, by)
