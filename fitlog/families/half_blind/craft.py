"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable

from ...advice.history import History
from ...domain import Plan, Remark, Settings
from . import first_words as words
from . import opening
from .plan import dovetail
from .repeat import alike, changed, plan_of
from .slot import offer, slot_saves

__all__ = [
    "alike",
    "changed",
    "first_settings",
    "first_words",
    "offer",
    "plan_of",
    "slot_saves",
    "start_at",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """Return the settings for the first piece; raise `Refused` where no setting is safe."""
    return opening.first_settings(dovetail(plan), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """Return the height that brings a good fit, unrounded, mm."""
    return opening.height_at(dovetail(plan), past, by)[0]


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    """Return what is to be minded before the first piece."""
    return words.first_words(dovetail(plan), first, past, by)
