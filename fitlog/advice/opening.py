"""How a set-up opens: from settings by printed figures to the first ones that are cut."""

from __future__ import annotations

from dataclasses import replace

from ..domain import Plan, Settings
from .aim import aim
from .history import History
from .knowledge import know


def first_from(plan: Plan, base: Settings, past: History, by: str = "") -> Settings:
    """The settings for the first piece, rounded to the machine's steps. base: by printed figures,
    true mm; by: the person at work.
    """
    family = plan.family
    # A start value for every setting, in play or not.
    whole = replace(plan, in_play=tuple(family.setting_of))
    first = aim(know(whole, (), past, base, by), (), base).settings
    # A fence that nobody will check by turning the board goes to the middle itself.
    unchecked = family.zeroed if family.zeroed not in plan.in_play else None
    return first if unchecked is None else first.moved(unchecked, base.of(unchecked))
