"""The box joint by steps of the fence as a joint: what its three settings do, where its limits
lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ... import defaults
from ...domain import Aspect, Figures, Piece, Plan, Said, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..bits import diameter
from ..family import Limit
from ..fingers import figures as shared
from ..fingers import geometry
from ..fingers.causes import ends_terms
from ..fingers.figures import INDEX
from ..fingers.joint import Fingers, height_limit
from ..fingers.names import ENDS, FIT, HEIGHT
from ..half_blind import figures as centring
from ..half_blind.centring import fence_terms, first_outside, may_stay, pitch_term
from ..half_blind.heard import Heard
from ..half_blind.readings import read_centre
from ..heard import Known
from ..springs import wood_terms
from . import figures as usual
from .names import CENTRE, FENCE, SECOND
from .plan import StepsPlan

SLOPES = {FIT: {SECOND: 2.0}, CENTRE: {FENCE: 1.0}, ENDS: {HEIGHT: 1.0}}
# Slots of both boards are indexed and moved on each by itself.
SDS = {FIT: math.sqrt(2) * math.hypot(INDEX, usual.MOVED_ON), CENTRE: 0.0}


class StepsJoint(Fingers):
    """The box joint of one plan; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        assert isinstance(plan, StepsPlan)
        scales, loss = usual.scales(plan), geometry.loss_by_steps(plan.tried, INDEX)
        super().__init__(plan, voices, by, wood, scales, SLOPES, SDS, loss)
        self.steps = plan
        slips = {aspect: scale.slips for aspect, scale in scales.items()}
        self._heard = Heard(self, plan.by_eye, self._voices, slips)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        if aspect == CENTRE:
            return settings[FENCE] - figures["width"] / 2
        if aspect == ENDS:
            return settings[HEIGHT] - figures["met"]
        bit, pitch = self.steps.bit.diameter, self.steps.pitch
        return geometry.play_by_steps(bit, settings[SECOND], pitch) - self.loss

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        shop = self.steps.machine.name if self.steps.machine else ""
        if aspect == CENTRE:
            return fence_terms(shop, by_eye=self.steps.by_eye)
        if aspect == ENDS:
            return ends_terms(Term(("height zero", shop), 1.0, 0.0, defaults.HEIGHT_ZERO))
        return (
            diameter(self.steps.bit, 2.0),
            pitch_term(shop, spaced=self.steps.spaced),
            *wood_terms(self.steps, self.wood),
            Term(("fit day",), 1.0, 0.0, shared.FIT_DAY, own=True),
        )

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A slot of one pass alone tells the bit."""
        bit = self.steps.bit
        return tuple(
            TermReading("slot", (diameter(bit),), r.value - bit.diameter, shared.SLOT)
            for piece in pieces
            for r in piece.readings
            if r.kind == "slot" and not any(other.kind == "finger" for other in piece.readings)
        )

    def reading_of(self, aspect: Aspect, piece: Piece) -> Known | None:
        if aspect == CENTRE:
            return read_centre(piece)
        return super().reading_of(aspect, piece)

    def misfit_of(self, said: Said) -> float:
        """The second pass after the turn takes off twice what the centre is out."""
        return super().misfit_of(said) / (2 if said.aspect == CENTRE else 1)

    def word_bands(
        self, aspect: Aspect, by: str | None = None
    ) -> tuple[tuple[defaults.Band, ...], ...]:
        return centring.centre_bands() if aspect == CENTRE else super().word_bands(aspect, by)

    def limit(self, name: str, settings: Settings) -> Limit:
        bit = self.steps.bit
        if name == HEIGHT:
            return height_limit(self.steps, self.steps.pitch - bit.diameter)
        if name == SECOND:
            most = bit.diameter / 2
            return Limit(
                0.0,
                most,
                "the first pass: a slot is as wide as the bit at least",
                "half the bit, {most}, which is the most that one planned pass takes",
                "take a wider pitch",
                "take a narrower pitch or a wider bit",
                (("most", Mm(most)),),
            )
        return Limit(
            bit.diameter / 2,
            2000.0,
            "the edge at the fence, which the bit would cut away",
            "no board is that wide",
            "take a wider piece",
            "take a narrower piece",
        )

    def far_off(self, aspect: Aspect) -> tuple[float, float]:
        chance, far = super().far_off(aspect)
        return centring.FAR_OFF.get(aspect, chance), far

    def first_outside(self, aspect: Aspect, sd: float) -> float | None:
        return first_outside(sd) if aspect == CENTRE else None

    def may_stay(self, aspect: Aspect, misfit: float) -> bool:
        return aspect != CENTRE or may_stay(misfit)


Opened = StepsJoint
