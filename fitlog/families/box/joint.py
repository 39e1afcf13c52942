"""The box joint on a key as a joint: what its three settings do, where its limits lie."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..bits import diameter
from ..family import Limit
from ..fingers import geometry
from ..fingers.figures import INDEX, LEAST_FINGER, SLOT
from ..fingers.joint import Fingers, height_limit
from ..fingers.names import ENDS, FIT, HEIGHT
from . import figures as usual
from .causes import causes, gap_term
from .names import EDGES, GAP, STARTER
from .plan import BoxPlan

SLOPES = {FIT: {GAP: -1.0}, EDGES: {STARTER: 1.0, GAP: -0.5}, ENDS: {HEIGHT: 1.0}}
SDS = {FIT: math.sqrt(2) * INDEX, EDGES: math.sqrt(2) * INDEX}


class BoxJoint(Fingers):
    """The box joint of one plan; see `families.family.Joint` for what each method promises.

    Whichever way the boards are pressed: the second one's first finger is as wide as the key gap,
    and no finger is wider.
    """

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        assert isinstance(plan, BoxPlan)
        loss = geometry.loss_on_key(plan.tried, INDEX)
        super().__init__(plan, voices, by, wood, usual.scales(plan), SLOPES, SDS, loss)
        self.box = plan

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        slot, gap = self.box.bit.diameter, settings[GAP]
        if aspect == ENDS:
            return settings[HEIGHT] - figures["met"]
        if aspect == EDGES:
            return geometry.edge(slot, gap, settings[STARTER])
        return geometry.play_on_key(slot, gap) - self.loss

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        return causes(self.box, aspect, self.wood)

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A slot alone tells the cutter, a finger alone the key gap."""
        found = []
        for piece in pieces:
            readings = {r.kind: r.value for r in piece.readings}
            if "slot" in readings and "finger" not in readings:
                off = readings["slot"] - self.box.bit.diameter
                found.append(TermReading("slot", (diameter(self.box.bit),), off, SLOT))
            if "finger" in readings and "slot" not in readings:
                off = readings["finger"] - piece.settings[GAP]
                term = gap_term(self.box, 1.0)
                sd = math.hypot(defaults.CALIPER, self.piece_sd(FIT))
                found.append(TermReading("finger", (term,), off, sd))
        return tuple(found)

    def limit(self, name: str, settings: Settings) -> Limit:
        wide = self.box.bit.diameter
        if name == HEIGHT:
            return height_limit(self.box, settings[GAP])
        least = LEAST_FINGER if name == GAP else 0.5
        return Limit(
            least,
            2 * wide,
            "the least finger of {least}" if name == GAP else "the least spacer of {least}",
            "twice the cutter of {wide}",
            "take a wider cutter",
            "check the unit, or take a narrower one",
            (("least", Mm(least)), ("wide", Mm(wide))),
        )


Opened = BoxJoint
