"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from ...advice.history import History
from ...domain import Plan, Settings
from . import opening
from .plan import dovetail
from .slot import offer, slot_saves

__all__ = ["first_settings", "offer", "slot_saves"]


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """Return the settings for the first piece; raise `Refused` where no setting is safe."""
    return opening.first_settings(dovetail(plan), past, by)
