"""The plan of a half-lap: two parts that are recessed alike, or one for another that is cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from ...domain import Family, Plan
from ...domain.checks import optional_positive
from ..flip.plan import FlipPlan
from .names import HALF_LAP, ONE_PART


@dataclass(frozen=True, slots=True, kw_only=True)
class LapPlan(FlipPlan):
    """A plan, mm. mate: how deep the other part is recessed already; None: both are cut alike."""

    mate: float | None = None
    family: Family = HALF_LAP

    def __post_init__(self) -> None:
        FlipPlan.__post_init__(self)
        optional_positive("the other part's recess", self.mate)
        if self.mate is not None:
            object.__setattr__(self, "family", ONE_PART)

    @property
    def parts(self) -> int:
        """How many parts a move of the height recesses."""
        return 2 if self.mate is None else 1


def lap(plan: Plan) -> LapPlan:
    """Return a plan as the half-lap's that it is."""
    return cast(LapPlan, plan)
