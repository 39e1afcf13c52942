"""How the screens ask about a cut for a sheet; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler
from ...screens import Screens, Typed
from .. import figures
from ..names import BOTTOM, CUT_DEPTH, DEPTH, LEAN, SHEET
from ..plan import SheetPlan

_GAPS = {
    BOTTOM: "the sheet does not reach the bottom, or wobbles",
    LEAN: "closed on one face, open on the other",
}


class SheetScreens(Screens):
    """What is said of every cut for a sheet."""

    part_of: ClassVar[Mapping[str, str]] = {**Screens.part_of, "measured": "sheet"}
    asked: ClassVar[Mapping[Aspect, str]] = {}  # what is looked at, of a family's own aspects
    numbers: ClassVar[Mapping[Aspect, str]] = {DEPTH: "how far it is off the depth"}

    def readings(self) -> Mapping[str, Typed]:
        """The depth by a rod, and the sheet at the joint."""
        deep = "type how deep it is cut, by a depth rod from the face."
        sheet = "type how thick the sheet is at the joint, the thickest of three places."
        return {
            CUT_DEPTH: Typed("r", ("depth of the cut",), "depth measured", deep),
            SHEET: Typed("t", ("sheet at the joint",), "sheet measured", sheet),
        }

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is tried or measured."""
        if aspect != DEPTH:
            return self.asked[aspect]
        assert isinstance(plan, SheetPlan)
        return f"how deep is it, against the {ruler.length(plan.depth)} that is wanted?"

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What a depth rod says."""
        return stepped("too little", "too much", f"within {_paper(ruler)}", ruler)

    def gap(self, place: str) -> str:
        """How each looks."""
        return _GAPS[place]

    def number(self, aspect: Aspect) -> str:
        """What is measured."""
        return self.numbers[aspect]

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The sheet and the depth as well."""
        assert isinstance(plan, SheetPlan)
        once = ", measured once" if plan.measured == "once" else ""
        sheet = f"sheet {ruler.size(plan.sheet)}{once}" if plan.sheet else "sheet by its label"
        return {
            "sheet": sheet,
            "depth": f"{ruler.length(plan.depth)} deep",
            **super().told(plan, ruler),
        }


def _paper(ruler: Ruler) -> str:
    return by_eye([figures.STEP_EDGES[3]], ruler)


def stepped(below: str, above: str, level: str, ruler: Ruler) -> Sequence[str]:
    """Return what tells the seven words of a step apart, by their edges."""
    most, plain, little = (-edge for edge in figures.STEP_EDGES[:3])
    under, over = (
        (
            f"over {by_eye([most], ruler)} {side}",
            f"{by_eye([plain, most], ruler)} {side}",
            f"{by_eye([little, plain], ruler)} {side}",
        )
        for side in (below, above)
    )
    return (*under, level, *reversed(over))
