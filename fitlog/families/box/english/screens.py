"""How the screens ask about a box joint on a sled; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.units import Ruler
from ...fingers.english.screens import FingerScreens, stepped
from ..figures import EDGE_EDGES
from ..names import EDGES
from ..plan import BoxPlan


class Own(FingerScreens):
    """What is said of box joints on a sled."""

    part_of: ClassVar[Mapping[str, str]] = {
        **FingerScreens.part_of,
        "key_width": "key_width",
        "gap_from": "pressed",
        "gap_by": "pressed",
    }
    asked: ClassVar[Mapping[Aspect, str]] = {
        EDGES: "push the second board both ways. Where is its edge, half-way between?"
    }
    numbers: ClassVar[Mapping[Aspect, str]] = {
        **FingerScreens.numbers,
        EDGES: "step of the edges, half-way",
    }

    def what_for(self) -> str:
        """Boxes and drawers."""
        return (
            "Boxes and drawers with straight fingers, cut with a sled and a key on a table saw or "
            "a router table."
        )

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """The edges beside the rest."""
        if aspect == EDGES:
            return stepped(EDGE_EDGES, "outside the first board's", "inside it", ruler)
        return super().tests(aspect, ruler, turn)

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The key."""
        assert isinstance(plan, BoxPlan)
        return (f"key {ruler.size(plan.key_width)}",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The key and the push as well."""
        assert isinstance(plan, BoxPlan)
        pushed = "pressed toward the cutter" if plan.pressed == "cutter" else ""
        set_from = {"tooth": "", "axis": "gap to the axis", "far": "gap to the far side"}
        way = "" if plan.gap_by == "caliper" else f"gap by {plan.gap_by}"
        said = filter(None, (pushed, set_from[plan.gap_from], way))
        return {
            "key_width": f"key {ruler.size(plan.key_width)}",
            "pressed": ", ".join(said),
            **super().told(plan, ruler),
        }
