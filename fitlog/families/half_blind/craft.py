"""The craft of the half-blind dovetail: see `advice.craft` for what each function promises."""

from __future__ import annotations

from ...advice.decision import Decision
from ...advice.opening import first_settings

__all__ = ["first_settings"]


def shown_by(made: Decision) -> str:
    """Return how the next piece is to show its centre: by the turn, by the walls or not at all."""
    return made.centre_by
