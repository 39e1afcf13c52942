"""The plan of a housing: which sheet it takes, how deep, how it is put together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from ...domain import Family, Plan
from ...domain.checks import optional_positive
from ...errors import Mm, Refused
from ..half_blind.names import MANY_TAILS
from ..sheets.plan import SheetPlan
from .names import FLOATING, HOUSING

SHORT = 300.0  # mm of housing: up to here it is put together as a short slide is


@dataclass(frozen=True, slots=True, kw_only=True)
class HousingPlan(SheetPlan):
    """A plan of a housing; it is as long as the side is wide.

    at_once: the whole case is glued in one go.  floats: the sheet stays free, as a back does.
    clear_width: between the sides, inside.  place: of the first housing's near wall from the
    reference edge; spacing: from one to the next, mm; None: not said.
    """

    at_once: bool = False
    floats: bool = False
    clear_width: float | None = None
    place: float | None = None
    spacing: float | None = None
    family: Family = HOUSING

    def __post_init__(self) -> None:
        SheetPlan.__post_init__(self)
        optional_positive("the clear width", self.clear_width)
        optional_positive("the place", self.place)
        optional_positive("the spacing", self.spacing)
        if self.depth > self.tail_thickness / 2:
            raise Refused(
                "absurd-size",
                "a depth of {depth} is more than half the side of {side}",
                "give at most {most:.2f}, or leave it out for a third",
                depth=Mm(self.depth),
                side=Mm(self.tail_thickness),
                most=Mm(self.tail_thickness / 2),
            )

    @property
    def word_set(self) -> str:
        """A long one is harder to push in, and one of many glued at once leaves no time."""
        if self.floats:
            return FLOATING
        return MANY_TAILS if self.at_once or self.board_width > SHORT else ""


def housing(plan: Plan) -> HousingPlan:
    """Return a plan as the housing's that it is."""
    return cast(HousingPlan, plan)
