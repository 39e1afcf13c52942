"""The plan of a tongue and groove: the first board has the tongue, the second the groove."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

from ...domain import Family, Figures, Plan
from ...domain.checks import positive
from ..flip.names import FACES
from ..flip.plan import FlipPlan
from .names import BOTH_FACES, LONG, PANEL, STUB, TONGUE_GROOVE

SHORT_BOARDS = 300.0  # mm: up to here the words and the window of short slides


@dataclass(frozen=True, slots=True, kw_only=True)
class TonguePlan(FlipPlan):
    """A plan with what the joint is for, mm.

    use: boards that are joined, a panel that must stay free in its groove, or a stub tongue in a
    frame.  length: of the boards along the joint.  passes: of the groove, from both faces or one
    that is as wide as the bit.
    """

    use: Literal["boards", "panel", "stub"] = "boards"
    length: float = SHORT_BOARDS
    passes: Literal["two", "one"] = "two"
    family: Family = TONGUE_GROOVE

    def __post_init__(self) -> None:
        if not self.once:
            object.__setattr__(self, "family", BOTH_FACES)
            if FACES in self.in_play:
                object.__setattr__(self, "in_play", tuple(a for a in self.in_play if a != FACES))
        FlipPlan.__post_init__(self)
        positive("the length", self.length)

    @property
    def once(self) -> bool:
        """Whether the groove is one pass, so that its fence tunes the faces."""
        return self.passes == "one"

    @property
    def word_set(self) -> str:
        if self.use != "boards":
            return PANEL if self.use == "panel" else STUB
        return "" if self.length <= SHORT_BOARDS else LONG

    def boards(self) -> Figures:
        """grooved: the thickness of the board with the groove."""
        return {**Plan.boards(self), "grooved": self.pin_thickness}

    def figures(self, own: Figures | None = None) -> Figures:
        """A test piece of its own thickness has both, the groove and the tongue."""
        found = Plan.figures(self, own)
        thick = (own or {}).get("thickness") or self.piece_thickness
        return {**found, "grooved": thick or found["grooved"]}


def tongue(plan: Plan) -> TonguePlan:
    """Return a plan as the tongue and groove's that it is."""
    return cast(TonguePlan, plan)
