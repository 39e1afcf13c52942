"""The plan of a rabbet: the mate at the corner, or a back that lies in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

from ...domain import Family, Figures, Plan
from ...domain.checks import positive
from ...domain.setups import EVERY
from ...errors import Mm, Refused
from ..sheets.names import DEPTH
from ..sheets.plan import SheetPlan
from .names import RABBET

LEAST_LEFT = 3.0  # mm of the side, under a rabbet


@dataclass(frozen=True, slots=True, kw_only=True)
class RabbetPlan(SheetPlan):
    """A plan of a rabbet.

    back: the sheet is a back that lies in it, so that its thickness is the depth; otherwise the
    sheet is the mate at a corner, whose face meets the side's end.  bearing: how wide a back bears,
    mm.  exposure_by: how the bit's exposure is measured.
    """

    back: bool = False
    bearing: float = 10.0
    exposure_by: Literal["shaving", "rod", "eye"] = "rod"
    family: Family = RABBET

    def __post_init__(self) -> None:
        if self.back:
            object.__setattr__(self, "depth", self.sheet or self.pin_thickness)
            if self.in_play is EVERY:  # nothing shows how wide it is
                object.__setattr__(self, "in_play", (DEPTH,))
        SheetPlan.__post_init__(self)
        positive("the bearing", self.bearing)
        most = self.tail_thickness - LEAST_LEFT
        if self.depth > most:
            raise Refused(
                "absurd-size",
                "a depth of {depth} leaves less than {left} of a side of {side}",
                "give at most {most:.2f}, or take a thicker side",
                depth=Mm(self.depth),
                left=Mm(LEAST_LEFT),
                side=Mm(self.tail_thickness),
                most=Mm(most),
            )

    def boards(self) -> Figures:
        """mate: what the rabbet is as wide as."""
        found = SheetPlan.boards(self)
        return {**found, "mate": self.bearing if self.back else found["sheet"]}


def rabbet(plan: Plan) -> RabbetPlan:
    """Return a plan as the rabbet's that it is."""
    return cast(RabbetPlan, plan)
