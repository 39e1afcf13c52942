"""How the screens ask about a part cut from both faces; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler
from ...screens import Screens, Typed
from .. import figures
from ..names import FACES, FIT, HEIGHT, LINE, SHOULDER, STOP, TIP
from ..plan import FlipPlan
from .usual import PUSH_TESTS

_GAPS = {
    TIP: "thinner at the tip than at the shoulder, or the other way",
    LINE: "one shoulder closed, the other open",
}
_NUMBERS = {
    FIT: "feeler beside it",
    FACES: "step of the faces",
    SHOULDER: "gap at the shoulder",
}
_MISFITS = {FIT: "play", FACES: "step, proud above zero", SHOULDER: "shoulder, open above zero"}


class FlipScreens(Screens):
    """What is said of every part cut from both faces. hollow, solid: what goes into what."""

    hollow, solid = "", ""
    fence = ""  # the name of its fence's setting
    asks: ClassVar[Mapping[Aspect, str]] = {}
    told_depth = "{depth}"
    part_of: ClassVar[Mapping[str, str]] = {**Screens.part_of, "height_by": "depth"}

    def keys(self) -> Mapping[str, str]:
        """The stop by the l of the length that it gives, the fence by the x of its drawing."""
        fence = {"x": self.fence} if self.fence else {}
        return {"h": HEIGHT, "l": STOP, **fence}

    def readings(self) -> Mapping[str, Typed]:
        """A feeler beside, the jaws in and over, and a hollow in waste."""
        hollow, solid = self.hollow, self.solid
        return {
            "feeler": Typed(
                "b",
                (f"feeler beside the {solid}",),
                "feeler beside",
                f"type the one feeler blade that goes in beside the {solid}.",
            ),
            "jaws": Typed(
                "j",
                (f"{hollow}, inside jaws", f"{solid}, outside jaws"),
                "both measured",
                f"type the {hollow} by the inside jaws, then the {solid} by the outside ones, the "
                "mean of three each: measure what is tight instead of forcing it.",
            ),
            hollow: Typed(
                "w",
                (f"width of the {hollow}",),
                f"{hollow} in waste",
                f"type the width of a {hollow} cut in waste, at three places: no piece.",
            ),
        }

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is tried or looked at."""
        return self.asks[aspect]

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What the hand, the light or a straightedge says."""
        if aspect == FIT:
            return tuple(PUSH_TESTS.values())
        if aspect == SHOULDER:
            none, little, plain = figures.SHOULDER_EDGES
            return (
                "no light at it",
                f"{by_eye([none, little], ruler)} open",
                f"{by_eye([little, plain], ruler)} open",
                f"over {by_eye([plain], ruler)} open",
            )
        most, plain, little = (-edge for edge in figures.STEP_EDGES[:3])
        under, over = (
            (
                f"over {by_eye([most], ruler)} {side}",
                f"{by_eye([plain, most], ruler)} {side}",
                f"{by_eye([little, plain], ruler)} {side}",
            )
            for side in ("below the other face", "above it")
        )
        return (*under, f"level, within {by_eye([little], ruler)}", *reversed(over))

    def gap(self, place: str) -> str:
        """How each looks."""
        return _GAPS[place]

    def number(self, aspect: Aspect) -> str:
        """What is measured."""
        return _NUMBERS[aspect]

    def misfit(self, aspect: Aspect) -> str:
        """The play, the step and the shoulder with their signs."""
        return _MISFITS[aspect]

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The depth as well, and a height by eye."""
        assert isinstance(plan, FlipPlan)
        eye = ", height by eye" if plan.height_by == "eye" else ""
        depth = self.told_depth.format(depth=ruler.size(plan.depth))
        clear = f"{ruler.size(plan.clear)} clear" if plan.clear else ""
        return {"depth": f"{depth}{eye}", "clear": clear, **super().told(plan, ruler)}
