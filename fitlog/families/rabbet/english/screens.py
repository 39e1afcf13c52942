"""How the screens ask about a rabbet, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import ClassVar

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler
from ...screens import Typed
from ...sheets.english.screens import SheetScreens, stepped
from ...sheets.figures import STEP_EDGES
from ...sheets.names import DEPTH, HEIGHT
from ..names import FACE, FENCE, WIDTH
from ..plan import rabbet


class Own(SheetScreens):
    """What is said of rabbets."""

    asked: ClassVar[Mapping[Aspect, str]] = {
        FACE: "hold the mate in. How does it stand over the side's end?"
    }
    numbers: ClassVar[Mapping[Aspect, str]] = {
        **SheetScreens.numbers,
        FACE: "step of the face",
    }
    part_of: ClassVar[Mapping[str, str]] = {**SheetScreens.part_of, "bearing": "back"}

    def what_for(self) -> str:
        """Corners and backs."""
        return (
            "Corners of cases and backs that lie in: a step along the side's edge, cut with a "
            "straight bit that stands out of the fence."
        )

    def keys(self) -> Mapping[str, str]:
        """The exposure by the x of its drawing."""
        return {"x": FENCE, "h": HEIGHT}

    def readings(self) -> Mapping[str, Typed]:
        """The rabbet's width as well."""
        wide = "type how wide the rabbet is, by a caliper."
        return {WIDTH: Typed("w", ("width of the rabbet",), "width measured", wide)} | dict(
            super().readings()
        )

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is held in."""
        if aspect == DEPTH and rabbet(plan).back:
            return "lay the back in. How deep is the rabbet for it?"
        return super().what(plan, aspect, ruler, turn)

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What a straightedge says."""
        if aspect == DEPTH:
            return super().tests(aspect, ruler, turn)
        level = f"level, within {by_eye([STEP_EDGES[3]], ruler)}"
        return stepped("below the end", "above it", level, ruler)

    def misfit(self, aspect: Aspect) -> str:
        """Both with their signs."""
        return "step, proud above zero" if aspect == FACE else "depth, too deep above zero"

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """A back as well."""
        own = rabbet(plan)
        back = f"for a back on {ruler.size(own.bearing)}" if own.back else ""
        way = f"exposure by {own.exposure_by}" if own.exposure_by != "rod" else ""
        return {**super().told(plan, ruler), "back": back, "exposure_by": way}
