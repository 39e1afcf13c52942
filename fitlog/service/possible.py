"""What can have been cut, as the family says: refusals before anything is logged."""

from __future__ import annotations

from collections.abc import Mapping

from ..advice.craft import craft_of
from ..domain import Figures, Plan, Settings
from .asked import Reported


def check_settings(
    plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures
) -> None:
    """Refuse settings that cannot have been cut, before anything is logged.

    changed: the settings the user named.  sizes: the piece's own, where they are not the set-up's.
    """
    craft_of(plan).check(plan, settings, changed, sizes)


def check_slot(plan: Plan, told: Reported) -> None:
    """Refuse what nobody can say of a slot in waste."""
    craft_of(plan).check_slot(told.verdict, told.readings, told.changed, told.later)
