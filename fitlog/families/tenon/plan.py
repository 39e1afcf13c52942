"""The plan of a tenon by flipping: the first board is the rail, the second the stile."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

from ...domain import Family, Plan
from ...domain.checks import positive
from ..flip.plan import FlipPlan
from .names import TENON


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonPlan(FlipPlan):
    """A plan with its mortise, mm.

    mortise: its width.  mortise_by: what says that: this bit's printed size, the jaws in the
    mortise as it was cut, or a chisel's printed size.
    """

    mortise: float
    mortise_by: Literal["bit", "jaws", "chisel"] = "bit"
    family: Family = TENON

    def __post_init__(self) -> None:
        FlipPlan.__post_init__(self)
        positive("the mortise", self.mortise)
        if self.mortise_by == "bit" and abs(self.mortise - self.bit.diameter) > 1e-6:
            object.__setattr__(self, "mortise_by", "jaws")  # a width of its own was measured


def tenon(plan: Plan) -> TenonPlan:
    """Return a plan as the tenon's that it is."""
    return cast(TenonPlan, plan)
