"""What every plan with a sheet has: how thick the sheet is and how that is known, how deep it is to
go.

The first board is the side that is cut, the second the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Figures, Plan
from ...domain.checks import board_size, positive
from ...errors import Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan(Plan):
    """A plan for a sheet, mm.

    sheet: its thickness as measured; None: as sold, by its label.  measured: where that was: at the
    joint itself, in three places, or once somewhere on the sheet.  depth: how deep the cut is
    wanted.
    """

    sheet: float | None = None
    measured: Literal["joint", "once"] = "joint"
    depth: float

    def __post_init__(self) -> None:
        Plan.__post_init__(self)
        if self.bit.angle != 0:
            raise Refused(
                "bad-angle",
                "{bit} is a dovetail bit, a {joint} wants a straight one",
                "name another with --bit, or correct its angle with fitlog bit edit",
                "take another, or correct its angle at the shop's computer: fitlog bit edit",
                bit=self.bit.name,
                joint=self.joint,
            )
        if self.sheet is not None:
            board_size("the sheet", self.sheet, 1.0, 100.0)
        positive("the depth", self.depth)

    def boards(self) -> Figures:
        """sheet: as measured, else as sold."""
        return {**Plan.boards(self), "sheet": self.sheet or self.pin_thickness}
