"""The rabbet as a joint: what its two settings do, where its limits lie."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...domain import Aspect, Figures, Piece, Plan, Settings
from ...errors import Mm
from ...estimator.evidence import Term, TermReading, Voices
from ..family import Limit
from ..heard import Known
from ..sheets import figures as shared
from ..sheets.causes import day, sheet_terms
from ..sheets.joint import Sheeted, height_limit
from ..sheets.names import CUT_DEPTH, DEPTH, HEIGHT, SHEET
from . import figures as usual
from . import geometry
from .names import FACE, FENCE, WIDTH
from .plan import LEAST_LEFT, rabbet

SLOPES = {FACE: -1.0, DEPTH: 1.0}
LEAST = 1.0  # mm wide


class RabbetJoint(Sheeted):
    """The rabbet of one plan; see `families.family.Joint` for what each method promises."""

    def __init__(
        self, plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
    ) -> None:
        self.rabbet = own = rabbet(plan)
        super().__init__(own, voices, by, wood, usual.scales(own), SLOPES)

    def nominal(self, aspect: Aspect, settings: Settings, figures: Figures) -> float:
        if aspect != FACE:
            return super().nominal(aspect, settings, figures)
        return geometry.mate_proud(figures["mate"], settings[FENCE])

    def terms(self, aspect: Aspect, about: Settings) -> tuple[Term, ...]:
        plan = self.rabbet
        if aspect == DEPTH:
            back = sheet_terms(plan, -1.0) if plan.back else ()
            return (*super().terms(aspect, about), *back)
        mate = () if plan.back else sheet_terms(plan, 1.0)
        return (self._exposure(-1.0), *mate, day("fence day"))

    def _exposure(self, factor: float = 1.0) -> Term:
        """How far the bit stands out further than was measured, mm."""
        plan, way = self.rabbet, self.rabbet.exposure_by
        shop = plan.machine.name if plan.machine else ""
        return Term(("exposure zero", shop, way), factor, 0.0, usual.EXPOSURE[way])

    def wood_terms(self, other: str) -> tuple[Term, ...]:
        """Nothing is pushed in, so that no wood springs."""
        return ()

    def measured(self, aspect: Aspect, piece: Piece) -> list[Known]:
        """The mate less the rabbet's width tell the face before the mate is held in; a rod tells
        the depth, of a back against its own thickness.
        """
        wide, sheet = self.read(piece, WIDTH), self.read(piece, SHEET)
        if aspect == DEPTH:
            thick = self.own.sheet if sheet is None else sheet
            if not self.rabbet.back:
                return super().measured(aspect, piece)
            rods = (r.value for r in piece.readings if r.kind == CUT_DEPTH)
            return [] if thick is None else [(deep - thick, shared.ROD) for deep in rods]
        if wide is None or sheet is None or self.rabbet.back:
            return []
        return [(sheet - wide, shared.JAWS)]

    def term_readings(self, pieces: Sequence[Piece]) -> tuple[TermReading, ...]:
        """A rabbet's width without its mate tells the exposure."""
        sd = math.hypot(usual.WIDTH_READ, shared.MOVED_ON)
        widths = tuple(
            TermReading(WIDTH, (self._exposure(),), wide - piece.settings[FENCE], sd)
            for piece in pieces
            if (wide := self.read(piece, WIDTH)) is not None and self.read(piece, SHEET) is None
        )
        alone = [piece for piece in pieces if self.read(piece, WIDTH) is None]
        return (*widths, *super().term_readings(alone))

    def limit(self, name: str, settings: Settings) -> Limit:
        if name == HEIGHT:
            most = self.own.figures()["thickness"] - LEAST_LEFT
            return height_limit(
                self.own,
                most,
                "the {left} that must be left of a side of {side}",
                "take a thicker side, or a smaller figure for the depth",
            )
        bit = self.own.bit.diameter
        return Limit(
            LEAST,
            bit,
            "the least of {least}: a narrower rabbet holds nothing",
            "the bit itself, {bit}, which stands out of the fence no further",
            "take a thicker mate",
            "take a wider bit",
            (("least", Mm(LEAST)), ("bit", Mm(bit))),
        )


Opened = RabbetJoint
