"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from collections.abc import Mapping

from ...advice.opening import first_settings
from ...domain import Plan, Remark
from .cautions import after_move, opening
from .notices import notices
from .reasons import first_reason, more_reasons
from .recipe import recipe
from .showing import shown_by

__all__ = [
    "cautions",
    "first_reason",
    "first_settings",
    "more_reasons",
    "notices",
    "recipe",
    "shown_by",
]


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """Return the cautions that moves make new; None: all of them, for `start`."""
    return opening(plan) if moves is None else after_move(moves)
