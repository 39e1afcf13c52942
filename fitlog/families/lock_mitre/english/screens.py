"""How the screens ask about a lock mitre, and what its plans are called by; in English."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from ....domain import Aspect, Plan
from ....language.sure import by_eye
from ....language.units import Ruler
from ...half_blind.english.usual import FIT_TESTS
from ...screens import Screens
from .. import figures
from ..names import CORNER, FENCE, FIT, HEIGHT, OFFSET
from ..plan import mitre

_ASKS = {
    HEIGHT: "F2 turned over, edge to edge with F1 on a flat surface. How does it stand on top?",
    FENCE: "two uprights, one turned, outside to outside. How does the turned one stand?",
    CORNER: "push F1 and V together. How does the flat's end stand over the upright's outside?",
    FIT: "how does the tongue go in?",
}
_NUMBERS = {
    HEIGHT: "step of the two flats",
    FENCE: "step of the two uprights",
    CORNER: "step at the corner",
    FIT: "play",
}
_MISFITS = {
    HEIGHT: "step of the flats, turned one proud above zero",
    FENCE: "step of the uprights, turned one out above zero",
    CORNER: "step at the corner, flat over above zero",
    FIT: "fit of the tongue",
}
_SIDES = {
    HEIGHT: ("below the other", "above it"),
    FENCE: ("in from the other", "out from it"),
    CORNER: ("under the upright's face", "over it"),
}


class Own(Screens):
    """What is said of lock mitres."""

    def what_for(self) -> str:
        """Boxes and columns."""
        return (
            "Boxes, columns and drawers with a mitred edge that locks: one bit of 45 deg, one "
            "height and one fence, the first board cut flat, the other upright."
        )

    def keys(self) -> Mapping[str, str]:
        """Height and fence, the fence by the x of its drawing."""
        return {"h": HEIGHT, "x": OFFSET}

    def what(self, plan: Plan, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> str:
        """What is put together."""
        return _ASKS[aspect]

    def tests(self, aspect: Aspect, ruler: Ruler, turn: Collection[str]) -> Sequence[str]:
        """What a straightedge or the hand says."""
        if aspect == FIT:
            return tuple(FIT_TESTS.values())
        most, plain, little = (-edge for edge in figures.STEP_EDGES[:3])
        under, over = (
            (
                f"over {by_eye([most], ruler)} {side}",
                f"{by_eye([plain, most], ruler)} {side}",
                f"{by_eye([little, plain], ruler)} {side}",
            )
            for side in _SIDES[aspect]
        )
        return (*under, f"level, within {by_eye([little], ruler)}", *reversed(over))

    def gap(self, place: str) -> str:
        """Where it is open."""
        return "closed outside, open inside"

    def number(self, aspect: Aspect) -> str:
        """The step of each."""
        return _NUMBERS[aspect]

    def misfit(self, aspect: Aspect) -> str:
        """The step with its sign."""
        return _MISFITS[aspect]

    def figures(self, plan: Plan, ruler: Ruler) -> tuple[str, ...]:
        """The boards' thickness."""
        return (f"boards {ruler.size(plan.tail_thickness)} thick",)

    def told(self, plan: Plan, ruler: Ruler) -> dict[str, str]:
        """The bit's profile, and how the middle is found, as well."""
        own = mitre(plan)
        by = {"gauge": "", "eye": "set by eye to a centre line", "blocks": "set by kept ends"}
        flat, upright = ruler.size(own.tail_thickness), ruler.size(own.pin_thickness)
        boards = f"boards {flat} thick" if own.equal else f"flat {flat}, upright {upright}"
        return {
            **super().told(plan, ruler),
            "boards": boards,
            "middle": f"profile's middle {ruler.size(own.middle)} from top and rim",
            "thinnest": f"bit for {ruler.size(own.thinnest)} to {ruler.size(own.thickest)}",
            "set_by": by[own.set_by],
        }
