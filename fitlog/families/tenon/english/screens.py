"""How the screens ask about a tenon, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.units import Ruler
from ...flip.english.screens import FlipScreens
from ...flip.names import FACES, FIT, SHOULDER
from ..names import FENCE
from ..plan import tenon


class Own(FlipScreens):
    """What is said of tenons."""

    hollow, solid, waste, fence = "mortise", "tenon", "mortise", FENCE
    asks: ClassVar[Mapping[Aspect, str]] = {
        FIT: "push the tenon into its mortise by hand, never by force. How does it go in?",
        FACES: "a straightedge over rail and stile. How does the rail stand?",
        SHOULDER: "pushed home, look at the shoulder. Is it closed?",
    }
    told_depth = "{depth} deep"

    def what_for(self) -> str:
        """Frames and tables."""
        return (
            "Frames, doors and tables: a tenon on a rail's end, cut flat on both faces with one "
            "straight bit, in a mortise that is made first."
        )

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The mortise."""
        return (f"mortise {ruler.size(tenon(plan).mortise)}",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The mortise, and what its width is known by, as well."""
        own = tenon(plan)
        by = {"bit": "of this bit", "jaws": "as measured", "chisel": "by a chisel"}
        wide, thick = ruler.size(plan.board_width), ruler.size(plan.tail_thickness)
        return {
            "mortise": f"mortise {ruler.size(own.mortise)} {by[own.mortise_by]}",
            **super().told(plan, ruler),
            "boards": f"rail {wide} by {thick}, stile {ruler.size(plan.pin_thickness)}",
        }

    part_of: ClassVar[Mapping[str, str]] = {**FlipScreens.part_of, "mortise_by": "mortise"}
