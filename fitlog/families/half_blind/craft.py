"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from ...advice.history import History
from ...domain import Plan, Remark, Settings
from . import opening
from .cautions import after_move
from .cautions import opening as all_cautions
from .notices import before_spoiling, notices
from .plan import dovetail
from .possible import check, check_slot
from .reasons import first_reason, more_reasons
from .recipe import recipe, test_stock
from .repeat import alike, changed, plan_of
from .showing import shown_by
from .slot import offer, slot_saves

__all__ = [
    "alike",
    "before_spoiling",
    "cautions",
    "changed",
    "check",
    "check_slot",
    "first_reason",
    "first_settings",
    "first_words",
    "more_reasons",
    "notices",
    "offer",
    "other_aim",
    "plan_of",
    "recipe",
    "shown_by",
    "slot_saves",
    "start_at",
    "test_stock",
]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """Return the settings for the first piece; raise `Refused` where no setting is safe."""
    return opening.first_settings(dovetail(plan), past, by)


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """Return the height that brings a good fit, unrounded, mm."""
    return opening.height_at(dovetail(plan), past, by)[0]


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    """Return what is to be minded before the first piece."""
    from . import first_words as words  # lays out the boards

    return words.first_words(dovetail(plan), first, past, by)


def other_aim(plan: Plan) -> tuple[str, Plan]:
    """Return the option for the other of the two windows of the fit, with the plan."""
    own = dovetail(plan)
    option = "--few-tails" if own.many_tails else "--many-tails"
    return option, replace(own, many_tails=not own.many_tails)


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Return the cautions that moves make new; None: all of them, for `start`."""
    return all_cautions(plan) if moves is None else after_move(moves)
