"""How the screens ask about a box joint, whichever way its fingers are spaced; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler, counted
from ...half_blind.english.usual import FIT_TESTS
from ...screens import Screens, Typed
from .. import figures
from ..names import CORNER, CREEP, ENDS, FIT
from ..plan import FingerPlan

_GAPS = {
    CREEP: "the first fingers fit, the last ones bind or stay out",
    CORNER: "the bottoms of the slots stay open: ridges or chips",
}


class FingerScreens(Screens):
    """What is said of every box joint."""

    waste = "slot"
    part_of: ClassVar[Mapping[str, str]] = {**Screens.part_of, "shown": "wanted_step"}
    asked: ClassVar[Mapping[Aspect, str]] = {}  # what is looked at, of a family's own aspects
    numbers: ClassVar[Mapping[Aspect, str]] = {FIT: "sideways play", ENDS: "step"}

    def readings(self) -> Mapping[str, Typed]:
        """The play, and the width of a slot in waste."""
        slot = "type the width of a slot cut in waste, measured in three places: no piece."
        return {
            "play": Typed("p", ("sideways play",), "play measured", "type the play, both ways."),
            "slot": Typed("w", ("width of the slot in waste",), "slot in waste", slot),
        }

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is tried or looked at."""
        if aspect == FIT:
            return "push the joint together dry, once. How does it go together?"
        if aspect == ENDS:
            step = plan.wanted_step if isinstance(plan, FingerPlan) else 0.0
            wanted = f" ({ruler.length(step)} proud is wanted)" if step else ""
            return f"how do the ends of the fingers stand over the face?{wanted}"
        return self.asked[aspect]

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What the hand, a sheet of paper or a straightedge says."""
        if aspect == FIT:
            return tuple(FIT_TESTS.values())
        return stepped(figures.STEP_EDGES, "below the face", "above it", ruler)

    def gap(self, place: str) -> str:
        """How each looks."""
        return _GAPS[place]

    def number(self, aspect: Aspect) -> str:
        """What is measured."""
        return self.numbers[aspect]

    def misfit(self, aspect: Aspect) -> str:
        """The play, and the steps with their sign."""
        return "play" if aspect == FIT else super().misfit(aspect)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The fingers and the wanted step as well."""
        assert isinstance(plan, FingerPlan)
        step = plan.wanted_step
        way = "proud" if step > 0 else "shy"
        first = "the first board's ends seen" if plan.shown == "first" else ""
        wanted = f"{ruler.size(abs(step))} {way}" if step else ""
        return {
            "fingers": counted(plan.fingers, "finger") if plan.fingers else "",
            "wanted_step": ", ".join(filter(None, (wanted, first))),
            **super().told(plan, ruler),
        }


def stepped(edges: Sequence[float], below: str, above: str, ruler: Ruler) -> Sequence[str]:
    """Return what tells the seven words of a step apart, by their edges, mm."""
    most, plain, little = (-edge for edge in edges[:3])
    under, over = (
        (
            f"over {by_eye([most], ruler)} {side}",
            f"{by_eye([plain, most], ruler)} {side}",
            f"{by_eye([little, plain], ruler)} {side}",
        )
        for side in (below, above)
    )
    return (*under, f"level, within {by_eye([little], ruler)}", *reversed(over))
