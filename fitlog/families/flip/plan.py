"""What every plan of a part has that is cut from both faces by one straight bit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ...domain import Plan
from ...domain.checks import optional_positive, positive
from ...errors import Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class FlipPlan(Plan):
    """A plan of a part cut from both faces, mm.

    depth: of the mortise or groove that it goes into; of a lap how wide the part is that it lies
    across.  height_by: how the bit's height is measured.
    clear: between the stiles; of boards what each covers.
    """

    depth: float
    height_by: Literal["gauge", "eye"] = "gauge"
    clear: float | None = None

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
        positive("the depth", self.depth)
        optional_positive("the clear width", self.clear)
