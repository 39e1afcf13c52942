"""The housing as a joint: what its two settings do, where its limits lie."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...domain import Aspect, Figures, Piece, Plan, Said, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..bits import diameter
from ..family import Limit
from ..heard import Known
from ..sheets import figures as shared
from ..sheets.causes import day, sheet_terms
from ..sheets.joint import Sheeted, height_limit
from ..sheets.names import DEPTH, HEIGHT, SHEET
from ..springs import wood_terms
from . import figures as usual
from . import geometry
from .names import FEELER, FIT, SECOND, SLOT
from .plan import housing

SLOPES = {FIT: 1.0, DEPTH: 1.0}


class HousingJoint(Sheeted):
    """The housing of one plan; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        own = housing(plan)
        super().__init__(own, voices, by, wood, usual.scales(own), SLOPES)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        if aspect != FIT:
            return super().nominal(aspect, settings, figures)
        return geometry.play(self.own.bit.diameter, settings[SECOND], figures["sheet"])

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        if aspect != FIT:
            return super().terms(aspect, about)
        return (
            diameter(self.own.bit),
            *sheet_terms(self.own, -1.0),
            *wood_terms(self.own, self.wood),
            day("fit day"),
        )

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """One feeler beside the sheet; the slot less the sheet, when it is tight, too."""
        if aspect != FIT:
            return super().measured(aspect, piece)
        found = [(r.value, shared.FEELER) for r in piece.readings if r.kind == FEELER]
        slot, sheet = self.read(piece, SLOT), self.read(piece, SHEET)
        if slot is not None and sheet is not None:
            found.append((slot - sheet, shared.JAWS))
        return found

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A slot without its sheet tells the bit."""
        bit, sd = self.own.bit, math.hypot(shared.SLOT, shared.MOVED_ON)
        slots = tuple(
            TermReading(SLOT, (diameter(bit),), slot - bit.diameter - piece.settings[SECOND], sd)
            for piece in pieces
            if (slot := self.read(piece, SLOT)) is not None and self.read(piece, SHEET) is None
        )
        alone = [piece for piece in pieces if self.read(piece, SLOT) is None]
        return (*slots, *super().term_readings(alone))

    def misfit_of(self, said: Said) -> float:
        """The number of a fit is the play itself."""
        return said.size or 0.0 if said.aspect == FIT else super().misfit_of(said)

    def limit(self, name: str, settings: Settings) -> Limit:
        if name == HEIGHT:
            most = usual.DEEPEST * self.own.figures()["thickness"]
            why, remedy = "half the side of {side}", "take a thicker side"
            return height_limit(self.own, most, why, remedy)
        half = self.own.bit.diameter / 2
        return Limit(
            0.0,
            half,
            "the first pass: a housing is as wide as the bit at least",
            "half the bit, {half}, the most that one planned pass takes",
            "take a narrower bit",
            "take a wider bit",
            (("half", Mm(half)),),
        )


Opened = HousingJoint
