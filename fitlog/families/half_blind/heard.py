"""What only words and readings of a half-blind dovetail say: walls that were misread."""

from __future__ import annotations

import math

from ...domain import Aspect, Piece
from ...estimator.evidence import Voices
from .. import heard
from ..family import Joint
from . import figures as usual
from .names import CENTRE
from .plan import DovetailPlan


class Heard(heard.Heard):
    """The evidence of one joint's pieces. voices: how people use their words."""

    def __init__(self, joint: Joint, plan: DovetailPlan, voices: Voices) -> None:
        super().__init__(joint, voices, usual.SLIP_RANGE)
        self._plan = plan

    def _slipped(self, aspect: Aspect, piece: Piece, read: float) -> float:
        if aspect == CENTRE and any(r.kind == "walls" for r in piece.readings):
            return self._misread_walls(read - self.nominal(CENTRE, piece))
        return super()._slipped(aspect, piece, read)

    def _misread_walls(self, off: float) -> float:
        """Density of an error of the centre that comes from a misread wall, `off` from the expected
        one, mm.
        """
        zero = usual.FENCE_ZERO_BY_EYE if self._plan.by_eye else usual.FENCE_ZERO_MEASURED
        sd = math.hypot(zero, usual.MISREAD_WALL)
        return math.exp(-0.5 * (off / sd) ** 2) / (sd * math.sqrt(2 * math.pi)) + 1e-12
