"""How the screens ask about a tongue and groove, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.units import Ruler
from ...flip.english.screens import FlipScreens
from ...flip.english.usual import FREE_TESTS, PUSH_TESTS
from ...flip.names import FACES, FIT, SHOULDER
from ...half_blind.english.usual import FIT_TESTS
from ..names import FENCE
from ..plan import tongue


class Own(FlipScreens):
    """What is said of tongues and grooves."""

    hollow, solid, waste, fence = "groove", "tongue", "groove", FENCE
    asks: ClassVar[Mapping[Aspect, str]] = {
        FIT: "push the boards together by hand. How does the tongue go in?",
        FACES: "a straightedge over both. How does the board with the tongue stand?",
        SHOULDER: "pushed home, look along the shoulder. Is it closed?",
    }
    told_depth = "{depth} deep"

    def what_for(self) -> str:
        """Panels and floors."""
        return (
            "Panels, backs and floors: a groove along one board's edge and a tongue along the "
            "next one's, both cut from both faces with one straight bit; or the groove in one pass "
            "of a bit as wide (its figure passes: one)."
        )

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """Boards slide together as dovetails do."""
        return tuple(FIT_TESTS.values()) if aspect == FIT else super().tests(aspect, ruler, turn)

    def tests_of(
        self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]
    ) -> Sequence[str]:
        """A panel stays free, a stub tongue is pushed home as a tenon is."""
        own = {"panel": FREE_TESTS, "stub": PUSH_TESTS}.get(tongue(plan).use)
        if own and aspect == FIT:
            return tuple(own.values())
        return super().tests_of(plan, aspect, ruler, turn)

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """A panel is slid along its groove."""
        if tongue(plan).use == "panel" and aspect == FIT:
            return "slide the panel along its groove. How does it move?"
        return super().what(plan, aspect, ruler, turn)

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """How deep the groove is."""
        once = ", one pass" if tongue(plan).once else ""
        return (f"groove {ruler.size(tongue(plan).depth)} deep{once}",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """What it is for, as well."""
        own = tongue(plan)
        passes = "groove in one pass" if own.once else ""
        use = {"boards": "", "panel": "a panel that stays free", "stub": "a stub tongue"}[own.use]
        thick, grooved = ruler.size(plan.tail_thickness), ruler.size(plan.pin_thickness)
        return {
            **super().told(plan, ruler),
            "use": use,
            "passes": passes,
            "length": f"{ruler.size(own.length)} long",
            "boards": f"tongue in {thick}, groove in {grooved}",
        }
